"""Cholesky's factor of a plate's stiffness, block by block along the plate.

On a tensor mesh a row of elements meets only the rows beside it, so that the stiffness is block tridiagonal when
unknowns are sorted along the plate.  The blocks are dense and of a hundred or two unknowns: for the hundreds of loads
that a body is condensed under, dense products are faster than a sparse factor of fewer entries.

Source: G. H. Golub, C. F. Van Loan, Matrix Computations, section on block tridiagonal systems (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.linalg.blas import dgemm, dtrmm
from scipy.linalg.lapack import dpotrf, dtrtri

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Integers, Sparse


@dataclass(frozen=True, eq=False)
class BlockFactor:
    """A = L L' of a symmetric positive definite block tridiagonal matrix (n, n).

    order (n,): the unknowns, block after block; ends: where each block ends in it; inverse: of L's block on the
    diagonal, lower triangles; below: L's block below each of them but the last.
    """

    order: Integers
    ends: Integers
    inverse: Sequence[Floats]
    below: Sequence[Floats]

    @staticmethod
    def of(matrix: Sparse, block: Integers) -> BlockFactor:
        """Factorise ``matrix`` (n, n); ``block`` (n,): number of the block of each unknown, from 0 on.

        Raises MechanicsFailed where the matrix is not positive definite, ValueError where it is not block tridiagonal.
        """
        entries = matrix.tocoo()
        if np.abs(block[entries.row] - block[entries.col]).max(initial=0) > 1:
            raise ValueError("the matrix couples blocks that are not neighbours")
        order, sizes = np.argsort(block, kind="stable"), np.bincount(block)
        ends = np.cumsum(sizes)
        place = np.empty(order.size, dtype=np.int64)  # of an unknown within its block
        place[order] = np.arange(order.size) - np.repeat(ends - sizes, sizes)
        squares = _dense(entries, block, place, sizes, sizes, 0)
        couplings = _dense(entries, block, place, sizes[1:], sizes[:-1], 1)
        inverse, below = list[Floats](), list[Floats]()
        for k, square in enumerate(squares):
            if k:
                square -= below[-1] @ below[-1].T
            # It is symmetric: its transpose is the same in the order that LAPACK overwrites without a copy.
            factor, fault = dpotrf(square.T, lower=True, overwrite_a=True)
            if fault != 0:
                raise MechanicsFailed("the stiffness of a body is not positive definite")
            inverse.append(dtrtri(factor, lower=True, overwrite_c=True)[0])
            if k < len(couplings):
                below.append(couplings[k] @ inverse[-1].T)
        return BlockFactor(order, ends, inverse, below)

    @property
    def entries(self) -> int:
        """Numbers that the factor holds."""
        return int(sum(block.size for block in (*self.inverse, *self.below)))

    def solve(self, loads: Floats) -> Floats:
        """The answer (n, m) to ``loads`` (n, m)."""
        sorted_ = np.ascontiguousarray(loads[self.order])
        self._solve_in_place(sorted_)
        answer = np.empty_like(sorted_)
        answer[self.order] = sorted_
        return answer

    def _solve_in_place(self, loads: Floats) -> None:
        """Answer ``loads`` (n, m), in order of rows: its transpose is in the order that BLAS works on in place."""
        rows = [loads[span].T for span in _spans(self.ends)]
        last = len(rows) - 1
        for k in range(last + 1):
            if k:
                dgemm(-1.0, rows[k - 1], self.below[k - 1].T, beta=1.0, c=rows[k], overwrite_c=1)
            dtrmm(1.0, self.inverse[k], rows[k], side=1, lower=1, trans_a=1, overwrite_b=1)
        for k in range(last, -1, -1):
            if k < last:
                dgemm(-1.0, rows[k + 1], self.below[k].T, beta=1.0, c=rows[k], trans_b=1, overwrite_c=1)
            dtrmm(1.0, self.inverse[k], rows[k], side=1, lower=1, overwrite_b=1)


def _dense(
    entries: Sparse, block: Integers, place: Integers, high: Integers, wide: Integers, beneath: int
) -> list[Floats]:
    """The blocks (high, wide) that lie ``beneath`` those on the diagonal, as dense matrices."""
    here = block[entries.row] - block[entries.col] == beneath
    row, col = entries.row[here], entries.col[here]
    ends = np.cumsum(high * wide)
    flat = np.zeros(int(ends[-1]) if ends.size else 0)
    within = place[row] * wide[block[col]] + place[col]
    flat[(ends - high * wide)[block[col]] + within] = entries.data[here]
    shapes = zip(high, wide, strict=True)
    return [part.reshape(shape) for part, shape in zip(np.split(flat, ends[:-1]), shapes, strict=True)]


def _spans(ends: Integers) -> list[slice]:
    return [slice(start, end) for start, end in zip((0, *ends[:-1]), ends, strict=True)]

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
from scipy.linalg import LinAlgError, cholesky
from scipy.linalg.blas import dtrsm

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Integers, Sparse


@dataclass(frozen=True, eq=False)
class BlockFactor:
    """A = L L' of a symmetric positive definite block tridiagonal matrix (n, n).

    order (n,): the unknowns, block after block; ends: where each block ends in it; diagonal: Cholesky's factor of each
    block; below: L's block below each of them but the last.
    """

    order: Integers
    ends: Integers
    diagonal: Sequence[Floats]
    below: Sequence[Floats]

    @staticmethod
    def of(matrix: Sparse, block: Integers) -> BlockFactor:
        """Factorise ``matrix`` (n, n); ``block`` (n,): number of the block of each unknown, from 0 on.

        Raises MechanicsFailed where the matrix is not positive definite, ValueError where it is not block tridiagonal.
        """
        entries = matrix.tocoo()
        if np.abs(block[entries.row] - block[entries.col]).max(initial=0) > 1:
            raise ValueError("the matrix couples blocks that are not neighbours")
        order = np.argsort(block, kind="stable")
        ends = np.cumsum(np.bincount(block))
        sorted_ = matrix[order][:, order].tocsr()
        spans = [slice(end - size, end) for end, size in zip(ends, np.bincount(block), strict=True)]
        diagonal, below = list[Floats](), list[Floats]()
        for k, here in enumerate(spans):
            square = sorted_[here, here].toarray()
            if k:
                square -= below[-1] @ below[-1].T
            try:
                diagonal.append(np.asfortranarray(cholesky(square, lower=True, overwrite_a=True, check_finite=False)))
            except LinAlgError as error:
                raise MechanicsFailed("the stiffness of a body is not positive definite") from error
            if k + 1 < len(spans):
                coupling = np.asfortranarray(sorted_[here, spans[k + 1]].toarray())
                below.append(np.ascontiguousarray(dtrsm(1.0, diagonal[-1], coupling, lower=1, overwrite_b=1).T))
        return BlockFactor(order, ends, diagonal, below)

    @property
    def entries(self) -> int:
        """Numbers that the factor holds."""
        return int(sum(block.size for block in (*self.diagonal, *self.below)))

    def solve(self, loads: Floats) -> Floats:
        """The answer (n, m) to ``loads`` (n, m)."""
        parts = [np.asfortranarray(part) for part in np.split(loads[self.order], self.ends[:-1])]
        last = len(parts) - 1
        for k in range(last + 1):
            if k:
                parts[k] -= self.below[k - 1] @ parts[k - 1]
            parts[k] = dtrsm(1.0, self.diagonal[k], parts[k], lower=1, overwrite_b=1)
        for k in range(last, -1, -1):
            if k < last:
                parts[k] -= self.below[k].T @ parts[k + 1]
            parts[k] = dtrsm(1.0, self.diagonal[k], parts[k], lower=1, trans_a=1, overwrite_b=1)
        answer = np.empty_like(loads)
        answer[self.order] = np.concatenate(parts)
        return answer

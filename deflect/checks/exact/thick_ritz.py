"""Square plates with shear and any edges by a spectral Ritz method of ours; units as in ``rectangles``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.polynomial import Legendre

from deflect.checks.exact.rectangles import NU, shear_stiffness
from deflect.mechanics.arrays import Floats

# What an edge holds: deflection, rotation across it, rotation along it.
_HELD = {
    "free": (False, False, False),
    "soft": (True, False, False),
    "hard": (True, False, True),
    "clamped": (True, True, True),
}


@dataclass(frozen=True)
class ThickSquare:
    """Deflection and moments at the centre; deflection, and moment across the edge, at the middle of edge x = a/2."""

    deflection: float
    mx: float
    my: float
    edge_deflection: float
    edge_mx: float


@lru_cache(maxsize=32)
def mindlin_square(kind: str, thickness: float, other: str = "", order: int = 26) -> ThickSquare:
    """Square Reissner-Mindlin plate under even pressure: spectral Ritz, ours.

    kind: of the edges left and right, other: of those in front and at the back (the same where empty):
    "hard", "soft", "clamped" or "free".

    Legendre polynomials, or differences of two where a field vanishes on the edge, both
    of the parity that the symmetric load asks for.
    """
    x, weight = np.polynomial.legendre.leggauss(order + 6)

    def family(parity: int, zero: bool) -> list[Legendre]:
        basis = [Legendre.basis(i) for i in range(order + 1)]
        if zero:
            return [basis[i + 2] - basis[i] for i in range(parity, order - 1, 2)]
        return [basis[i] for i in range(parity, order + 1, 2)]

    x_edges, y_edges = _HELD[kind], _HELD[other or kind]
    # Each field: along x, along y; on an edge the rotation across it is its normal one, the other its tangential one.
    fields = (
        (family(0, x_edges[0]), family(0, y_edges[0])),
        (family(1, x_edges[1]), family(0, y_edges[2])),
        (family(0, x_edges[2]), family(1, y_edges[1])),
    )

    def gram(left: int, right: int, d_left: tuple[int, int], d_right: tuple[int, int]) -> Floats:
        parts = []
        for axis in (0, 1):
            p, q = (
                np.array([f.deriv(d)(x) if d else f(x) for f in fields[side][axis]])
                for side, d in ((left, d_left[axis]), (right, d_right[axis]))
            )
            parts.append(p * weight @ q.T)
        return 2.0 ** (sum(d_left) + sum(d_right)) * np.kron(parts[0], parts[1])

    here, by_x, by_y = (0, 0), (1, 0), (0, 1)
    s = shear_stiffness(thickness)
    blocks = [[np.zeros(0)] * 3 for _ in range(3)]
    blocks[0][0] = s * (gram(0, 0, by_x, by_x) + gram(0, 0, by_y, by_y))
    blocks[0][1], blocks[0][2] = -s * gram(0, 1, by_x, here), -s * gram(0, 2, by_y, here)
    half = (1 - NU) / 2
    blocks[1][1] = gram(1, 1, by_x, by_x) + half * gram(1, 1, by_y, by_y) + s * gram(1, 1, here, here)
    blocks[2][2] = gram(2, 2, by_y, by_y) + half * gram(2, 2, by_x, by_x) + s * gram(2, 2, here, here)
    blocks[1][2] = NU * gram(1, 2, by_x, by_y) + half * gram(1, 2, by_y, by_x)
    for i in range(3):
        for j in range(i):
            blocks[i][j] = blocks[j][i].T
    stiff = np.block(blocks)
    sums = [np.array([f(x) @ weight for f in fields[0][axis]]) for axis in (0, 1)]
    load = np.zeros(len(stiff))
    load[: len(sums[0]) * len(sums[1])] = np.kron(*sums)
    scale = 1 / np.sqrt(np.diag(stiff))
    answer = scale * np.linalg.solve(stiff * np.outer(scale, scale), load * scale)

    def read(field: int, point: tuple[float, float], order_of: tuple[int, int]) -> float:
        sizes = [len(a) * len(b) for a, b in fields]
        start = sum(sizes[:field])
        rows = [
            np.array([f.deriv(d)(p) if d else f(p) for f in functions])
            for functions, p, d in zip(fields[field], point, order_of, strict=True)
        ]
        return float(2.0 ** sum(order_of) * np.kron(*rows) @ answer[start : start + sizes[field]])

    def moment(point: tuple[float, float], first: float, second: float) -> float:
        return -first * read(1, point, by_x) - second * read(2, point, by_y)

    middle, edge = (0.0, 0.0), (1.0, 0.0)
    return ThickSquare(
        read(0, middle, here), moment(middle, 1, NU), moment(middle, NU, 1), read(0, edge, here), moment(edge, 1, NU)
    )

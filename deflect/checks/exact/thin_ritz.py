"""Thin rectangles with any edges by a spectral Ritz method of ours; units as in ``rectangles``."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.polynomial import Legendre

from deflect.checks.exact.rectangles import NU, Bending
from deflect.mechanics.arrays import Floats

# How often the deflection vanishes on a free, a supported, a clamped edge.
_ZEROS = {"F": 0, "S": 1, "C": 2}


@dataclass(frozen=True, eq=False)
class ThinPlate:
    """A plate on [0, 1] x [0, ratio]; edges, e.g. "CFSS": left, right, front, back.

    functions: along x and along y, on [-1, 1]; weights (nx, ny) of their products.
    """

    ratio: float
    functions: tuple[list[Legendre], list[Legendre]]
    weights: Floats

    def read(self, x: float, y: float, along_x: int = 0, along_y: int = 0) -> float:
        """A derivative of the deflection at a place given in -1 to 1 along each side."""
        rows = [
            np.array([f.deriv(order)(place) if order else f(place) for f in functions])
            for functions, place, order in zip(self.functions, (x, y), (along_x, along_y), strict=True)
        ]
        return float(rows[0] @ self.weights @ rows[1]) * 2.0**along_x * (2.0 / self.ratio) ** along_y

    def bending(self) -> Bending:
        """Deflection and moments at the middle, and across the middles of right and back edge."""

        def moment(x: float, y: float) -> tuple[float, float]:
            kx, ky = self.read(x, y, 2, 0), self.read(x, y, 0, 2)
            return -(kx + NU * ky), -(ky + NU * kx)

        return Bending(self.read(0, 0), *moment(0, 0), moment(1, 0)[0], moment(0, 1)[1])


def _functions(first: str, last: str, order: int) -> list[Legendre]:
    """As many as ``order``; even ones only where both edges are alike, since every load here is symmetric."""
    edge = Legendre([1.0, 1.0]) ** _ZEROS[first] * Legendre([1.0, -1.0]) ** _ZEROS[last]
    step = 2 if first == last else 1
    return [edge * Legendre.basis(step * i) for i in range(order)]


@lru_cache(maxsize=32)
def thin_plate(
    edges: str, ratio: float = 1.0, patch: tuple[float, float] | None = None, point: bool = False, order: int = 18
) -> ThinPlate:
    """Even pressure of 1, a total force of 1 on a centred patch (sizes in short sides), or at the centre."""
    functions = (_functions(edges[0], edges[1], order), _functions(edges[2], edges[3], order))
    z, weight = np.polynomial.legendre.leggauss(2 * order + 6)
    scale = (2.0, 2.0 / ratio)
    gram: list[dict[tuple[int, int], Floats]] = []
    for axis in (0, 1):
        values = [
            np.array([f.deriv(d)(z) if d else f(z) for f in functions[axis]]) * scale[axis] ** d for d in range(3)
        ]
        gram.append({(i, j): values[i] * weight @ values[j].T / scale[axis] for i in range(3) for j in range(3)})
    gx, gy = gram
    stiff = (
        np.kron(gx[2, 2], gy[0, 0])
        + np.kron(gx[0, 0], gy[2, 2])
        + NU * (np.kron(gx[2, 0], gy[0, 2]) + np.kron(gx[0, 2], gy[2, 0]))
        + 2 * (1 - NU) * np.kron(gx[1, 1], gy[1, 1])
    )
    if point:
        sums = [np.array([f(0.0) for f in fs]) for fs in functions]
    else:
        size = (1.0, ratio) if patch is None else patch
        reach = (size[0], size[1] / ratio)
        share = [1.0, ratio] if patch is None else [1.0, 1.0]
        sums = [np.array([f(r * z) @ weight for f in fs]) / 2 * s
                for fs, r, s in zip(functions, reach, share, strict=True)]  # fmt: skip
    load = np.kron(*sums)
    diagonal = 1 / np.sqrt(np.diag(stiff))
    answer = diagonal * np.linalg.lstsq(stiff * np.outer(diagonal, diagonal), load * diagonal, rcond=1e-14)[0]
    return ThinPlate(ratio, functions, answer.reshape(order, order))

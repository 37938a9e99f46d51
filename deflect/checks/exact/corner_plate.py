"""A square thin plate with free edges on four points near its corners, by a Ritz method with a constraint."""

from __future__ import annotations

import numpy as np
from numpy.polynomial import Legendre

from deflect.checks.exact.rectangles import NU

_ORDER = 14


def on_four_points(place: float) -> float:
    """Deflection of the middle against the points, q a^4/D; ``place`` of the points from the middle, in half sides.

    Even Legendre products along x and y, which leave free edges free; the deflection is nothing at the points.
    """
    functions = [Legendre.basis(2 * k) for k in range(_ORDER)]
    z, weight = np.polynomial.legendre.leggauss(2 * _ORDER + 6)
    values = [np.array([f.deriv(d)(z) if d else f(z) for f in functions]) * 2.0**d for d in range(3)]
    gram = {(i, j): values[i] * weight @ values[j].T / 2 for i in range(3) for j in range(3)}
    stiff = (
        np.kron(gram[2, 2], gram[0, 0])
        + np.kron(gram[0, 0], gram[2, 2])
        + NU * (np.kron(gram[2, 0], gram[0, 2]) + np.kron(gram[0, 2], gram[2, 0]))
        + 2 * (1 - NU) * np.kron(gram[1, 1], gram[1, 1])
    )
    mean = values[0] @ weight / 2
    load = np.kron(mean, mean)
    at_point = np.array([f(place) for f in functions])
    held = np.kron(at_point, at_point)
    size = load.size
    whole = np.zeros((size + 1, size + 1))
    whole[:size, :size], whole[:size, size], whole[size, :size] = stiff, held, held
    answer = np.linalg.lstsq(whole, np.append(load, 0.0), rcond=1e-13)[0][:size]
    middle = np.array([f(0.0) for f in functions])
    return float(np.kron(middle, middle) @ answer)

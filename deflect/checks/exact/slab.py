"""A square slab in three-dimensional elasticity; units as in ``rectangles``."""

from __future__ import annotations

import numpy as np
from scipy.linalg import expm

from deflect.checks.exact.rectangles import NU


def elastic_slab(thickness: float, terms: int = 15) -> float:
    """Mid-plane deflection of a square slab in three-dimensional elasticity, hard simple support, pressure on top.

    Source of the method: S. Srinivas, A. K. Rao, Int. J. Solids Struct. 6 (1970) 1463.  Each double sine term
    leaves linear equations in z for (u, v, w, txz, tyz, sz), solved by a matrix exponential; ours.
    """
    modulus = 12 * (1 - NU**2) / thickness**3  # so that D = 1
    g, lame = modulus / (2 * (1 + NU)), modulus * NU / ((1 + NU) * (1 - 2 * NU))
    c = lame + 2 * g
    total = 0.0
    for m in range(1, terms + 1, 2):
        for n in range(1, terms + 1, 2):
            p, r = m * np.pi, n * np.pi
            plane, cross = c - lame**2 / c, lame - lame**2 / c
            law = np.zeros((6, 6))
            law[0, [2, 3]] = -p, 1 / g
            law[1, [2, 4]] = -r, 1 / g
            law[2, [0, 1, 5]] = lame * p / c, lame * r / c, 1 / c
            law[3, [0, 1, 5]] = plane * p**2 + g * r**2, (cross + g) * p * r, -lame * p / c
            law[4, [0, 1, 5]] = (cross + g) * p * r, plane * r**2 + g * p**2, -lame * r / c
            law[5, [3, 4]] = p, r
            size = np.array([1 / modulus] * 3 + [1.0] * 3)
            scaled = law * size[None, :] / size[:, None]
            below, above = (expm(scaled * z) for z in (-thickness / 2, thickness / 2))
            load = 16 / (np.pi**2 * m * n)
            middle = np.linalg.solve(np.vstack([below[3:], above[3:]]), [0, 0, 0, 0, 0, -load])
            total -= middle[2] / modulus * np.sin(m * np.pi / 2) * np.sin(n * np.pi / 2)
    return float(total)

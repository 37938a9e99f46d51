"""Exact answers of three-dimensional elasticity, recomputed by series."""

from __future__ import annotations

import numpy as np
from scipy.linalg import expm

from deflect.model.material import Material


def square_plate_deflection(material: Material, side: float, thickness: float, pressure: float, terms: int) -> float:
    """Mid-plane deflection, mm, in the middle of a simply supported square slab under pressure on its top.

    Every harmonic of the pressure is carried through the thickness exactly, as a linear system of displacements and
    stresses in z; ``terms`` odd harmonics along each side.
    Source: V. Z. Vlasov, IX Congres Appl. Mech. (1957) 6, 312-321; S. Srinivas, A. K. Rao, Int. J. Solids Struct. 6
    (1970) 1463-1481 (from memory).
    """
    odd = 2 * np.arange(terms) + 1
    total = 0.0
    for m in odd:
        for n in odd:
            load = 16 * pressure / (np.pi**2 * m * n)
            sign = (-1.0) ** ((m - 1) // 2 + (n - 1) // 2)
            total += sign * load * _harmonic(material, m * np.pi / side, n * np.pi / side, thickness)
    return -total


def _harmonic(material: Material, a: float, b: float, thickness: float) -> float:
    """Mid-plane deflection under a downward pressure sin(ax) sin(by) of amplitude 1 on the top."""
    g, nu = material.shear_modulus, material.poisson_ratio
    lame = 2 * g * nu / (1 - 2 * nu)
    stiff = lame + 2 * g
    # State: amplitudes of u, v, w, of the shear stresses xz, yz and of the stress zz; u ~ cos sin, v ~ sin cos.
    w_slope = np.array([lame * a, lame * b, 0, 0, 0, 1]) / stiff
    xx = np.array([-stiff * a, -lame * b, 0, 0, 0, 0]) + lame * w_slope
    yy = np.array([-lame * a, -stiff * b, 0, 0, 0, 0]) + lame * w_slope
    xy = g * np.array([b, a, 0, 0, 0, 0])
    system = np.array(
        [
            [0, 0, -a, 1 / g, 0, 0],
            [0, 0, -b, 0, 1 / g, 0],
            w_slope,
            -a * xx + b * xy,
            -b * yy + a * xy,
            [0, 0, 0, a, b, 0],
        ]
    )
    through = expm(system * thickness)
    below = np.linalg.solve(through[3:, :3], [0.0, 0.0, -1.0])
    return float((expm(system * thickness / 2)[:, :3] @ below)[2])

"""Annular plates with shear, bent the same all round: the general solution of the differential equation.

Everything is per outer radius, bending stiffness and even pressure or line force: w in q a^4/D or Q a^3/D.
Source: S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, chapter 3, with w' = psi - V/S.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.checks.exact.rectangles import NU
from deflect.mechanics.arrays import Floats

# Which quantities vanish at an edge; at a lifting one the plate leaves a flat that it lies on.
_EDGES = {
    "supported": ("w", "mr"),
    "clamped": ("w", "psi"),
    "guided": ("psi", "v"),
    "free": ("mr", "v"),
    "lifting": ("psi", "mr"),
}


@dataclass(frozen=True, eq=False)
class Annulus:
    """inner radius; pressure; shear stiffness S; the four constants: inner line force, two of rotation, one of w."""

    inner: float
    pressure: float
    shear: float
    constants: Floats

    def read(self, quantity: str, radius: float) -> float:
        """Deflection "w", slope "psi", moments "mr" and "mt", shear force "v"."""
        terms = _terms(quantity, radius, self.inner, self.pressure, self.shear)
        return float(terms[0] + terms[1:] @ self.constants)


def annulus(
    inner: float, at_outer: str, at_inner: str, pressure: float = 0.0, line: float = 0.0, shear: float = np.inf
) -> Annulus:
    """Solve for an annulus of outer radius 1 under a pressure, or a line force at its inner edge."""
    rows, wanted = [], []
    for radius, edge, force in ((1.0, at_outer, 0.0), (inner, at_inner, line)):
        for quantity in _EDGES[edge]:
            terms = _terms(quantity, radius, inner, pressure, shear)
            rows.append(terms[1:])
            wanted.append((force if quantity == "v" else 0.0) - terms[0])
    return Annulus(inner, pressure, shear, np.linalg.solve(np.array(rows), np.array(wanted)))


def _terms(quantity: str, r: float, inner: float, q: float, s: float) -> Floats:
    """The load's own part, and the factors of the four constants."""
    log = np.log(r)
    own = q * inner**2 / 2
    # The line force c acts through c/r; psi r = q r^4/16 + (c - own)(r^2 ln r/2 - r^2/4) + C1 r^2/2 + C2.
    rolled = r * log / 2 - r / 4
    rolled_slope = log / 2 + 1 / 4
    v = np.array([q * r / 2 - own / r, 1 / r, 0.0, 0.0, 0.0])
    psi = np.array([q * r**3 / 16 - own * rolled, rolled, r / 2, 1 / r, 0.0])
    slope = np.array([3 * q * r**2 / 16 - own * rolled_slope, rolled_slope, 1 / 2, -1 / r**2, 0.0])
    turned = r**2 * log / 4 - r**2 / 4
    w = np.array([q * r**4 / 64 - own * turned, turned, r**2 / 4, log, 1.0])
    sheared = np.array([q * r**2 / 4 - own * log, log, 0.0, 0.0, 0.0]) / s
    return {
        "w": w - sheared,
        "psi": psi,
        "v": v,
        "mr": -(slope + NU * psi / r),
        "mt": -(psi / r + NU * slope),
    }[quantity]

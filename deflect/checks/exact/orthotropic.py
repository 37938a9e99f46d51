"""Simply supported orthotropic rectangles with shear under even pressure, by Navier's double series."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats


@dataclass(frozen=True)
class Orthotropic:
    """Bending stiffnesses along x and y, coupling, and twist: mxy = twist * 2 kxy; shear stiffness both ways.

    Source: M. T. Huber 1923; S. Timoshenko, S. Woinowsky-Krieger, 2nd ed. 1959, chapter 11 (from memory); the shear
    terms: Reissner-Mindlin theory, three equations for each pair of sines.
    """

    along_x: float
    along_y: float
    coupling: float
    twist: float
    shear: float = np.inf
    shear_y: float = 0.0

    def _terms(self, length: float, width: float, terms: int) -> tuple[Floats, Floats, Floats, Floats, Floats]:
        """Amplitudes of deflection and both rotations for each pair of odd half waves, and the wave numbers."""
        m = np.arange(1, terms + 1, 2)
        p, r = np.meshgrid(m * np.pi / length, m * np.pi / width, indexing="ij")
        load = 16 / np.pi**2 / np.outer(m, m)
        if np.isinf(self.shear):
            w = load / (self.along_x * p**4 + 2 * (self.coupling + 2 * self.twist) * p**2 * r**2 + self.along_y * r**4)
            return w, w * p, w * r, p, r
        sx, sy = self.shear, self.shear_y or self.shear
        matrix = np.empty((*p.shape, 3, 3))
        matrix[..., 0, 0] = sx * p**2 + sy * r**2
        matrix[..., 0, 1] = matrix[..., 1, 0] = -sx * p
        matrix[..., 0, 2] = matrix[..., 2, 0] = -sy * r
        matrix[..., 1, 1] = self.along_x * p**2 + self.twist * r**2 + sx
        matrix[..., 2, 2] = self.along_y * r**2 + self.twist * p**2 + sy
        matrix[..., 1, 2] = matrix[..., 2, 1] = (self.coupling + self.twist) * p * r
        right = np.stack([load, 0 * load, 0 * load], axis=-1)
        w, tx, ty = np.moveaxis(np.linalg.solve(matrix, right[..., None])[..., 0], -1, 0)
        return w, tx, ty, p, r

    def deflection(self, length: float, width: float, terms: int = 201) -> float:
        """At the centre under a pressure of 1."""
        w, *_ = self._terms(length, width, terms)
        return float((w * _centre(terms)).sum())

    def moments(self, length: float, width: float, terms: int = 401) -> tuple[float, float]:
        """mx and my at the centre under a pressure of 1."""
        _, tx, ty, p, r = self._terms(length, width, terms)
        kx, ky = (float((t * k * _centre(terms)).sum()) for t, k in ((tx, p), (ty, r)))
        return self.along_x * kx + self.coupling * ky, self.along_y * ky + self.coupling * kx


def _centre(terms: int) -> Floats:
    sign = (-1.0) ** ((np.arange(1, terms + 1, 2) - 1) // 2)
    return np.outer(sign, sign)

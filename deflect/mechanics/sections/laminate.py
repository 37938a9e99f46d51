"""A section built up of layers: bending about its own neutral plane, transverse shear, outer fibres.

Membrane, coupling and bending stiffness A, B, D of the layers give the bending stiffness about the neutral plane,
D* = D - B A^-1 B (classical lamination theory, e.g. R. M. Jones, Mechanics of Composite Materials, 1975; from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats, symmetric

# Gauss points through a layer: the square of a parabola is integrated exactly.
_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(3)


@dataclass(frozen=True, eq=False)
class Layer:
    """A layer from ``low`` to ``high``, mm over the underside.

    membrane (3, 3): stresses (sx, sy, txy), smeared over the plan, from strains, MPa.
    web (2,): share of the plan's width that carries transverse shear along x and along y.
    thickening: movement across the layer = this times z times (kx + ky), for the Poisson effect.
    """

    low: float
    high: float
    membrane: Floats
    web: tuple[float, float]
    thickening: float

    @property
    def height(self) -> float:
        return self.high - self.low

    def moment(self, power: int) -> Floats:
        """Stiffness times height over the underside to a power, through the layer (3, 3)."""
        grown = (self.high ** (power + 1) - self.low ** (power + 1)) / (power + 1)
        return np.asarray(self.membrane * grown)


@dataclass(frozen=True, eq=False)
class UnevenLayer(Layer):
    """A layer that is not alike through its height: moments of its stiffness (powers 0, 1, 2), membrane their mean."""

    moments: tuple[Floats, Floats, Floats]

    def moment(self, power: int) -> Floats:
        return self.moments[power]


@dataclass(frozen=True, eq=False)
class Laminate:
    """Layers from the underside up.

    held: heights, mm, at which the rest of a body holds the neutral planes of bending along x and along y; None: it
    leaves them where they are.
    """

    layers: tuple[Layer, ...]
    held: tuple[float | None, float | None] = (None, None)

    def _moment(self, power: int) -> Floats:
        return np.asarray(sum(layer.moment(power) for layer in self.layers))

    @property
    def neutral(self) -> Floats:
        """Heights of the neutral planes (3, 3): strains at z are (z - this) times the curvatures."""
        return np.asarray(self._own_neutral + self._flexibility @ self._holding)

    @property
    def bending(self) -> Floats:
        """D* (3, 3), N mm, about the neutral planes."""
        full = self._moment(2) - self._moment(1) @ self._own_neutral
        return symmetric(full) + self._holding @ self._flexibility @ self._holding

    @property
    def stretching(self) -> tuple[Floats, Floats]:
        """Stiffness against being stretched along x and along y alone (2,), N/mm, and the planes that a bend the same
        way leaves unstretched (2,), mm, both with nothing held."""
        return 1.0 / np.diag(self._flexibility)[:2], np.diag(self._own_neutral)[:2].copy()

    @property
    def _flexibility(self) -> Floats:
        return np.asarray(np.linalg.inv(self._moment(0)))

    @property
    def _own_neutral(self) -> Floats:
        return np.asarray(np.linalg.solve(self._moment(0), self._moment(1)))

    @property
    def _holding(self) -> Floats:
        """Forces in its plane, N/mm per 1/mm, by which the rest of the body holds a bend's neutral plane (3, 3).

        Derived: a force along one way alone, so great that the plane of that way lies where it is held.
        """
        stiffness, own = self.stretching
        moved = [0.0 if held is None else held - plane for held, plane in zip(self.held, own, strict=True)]
        return np.diag([*(stiffness * moved), 0.0])

    @property
    def middle(self) -> float:
        """Height of the neutral plane in a bend that is alike both ways, mm."""
        return float(self.neutral[:2, :2].sum() / 2)

    def fibre(self, z: float, membrane: Floats) -> Floats:
        """Stresses (3, 3) from curvatures, MPa mm, at height z in a material of stiffness ``membrane`` (3, 3)."""
        return np.asarray(membrane @ (z * np.eye(3) - self.neutral))

    def shear(self, way: int, shear_modulus: float) -> float:
        """Shear stiffness along x (0) or y (1), N/mm: (EI)^2 / int (ES)^2 / (G b) dz.

        Derived: the energy of the shear flow ES Q / EI through webs of width b.  A rectangle gives 5/6 G A.
        """
        moduli = np.array([layer.membrane[way, way] for layer in self.layers])
        low = np.array([layer.low for layer in self.layers])
        high = np.array([layer.high for layer in self.layers])
        centre = float(moduli @ (high**2 - low**2) / 2 / (moduli @ (high - low)))
        stiffness = float(moduli @ ((high - centre) ** 3 - (low - centre) ** 3) / 3)
        first, flexibility = 0.0, 0.0
        for layer, modulus in zip(self.layers, moduli, strict=True):
            z, weight = layer.low + layer.height * (_POINTS + 1) / 2, layer.height * _WEIGHTS / 2
            flow = first + modulus * ((z - centre) ** 2 - (layer.low - centre) ** 2) / 2
            if layer.web[way] > 0:
                flexibility += float(weight @ flow**2) / (shear_modulus * layer.web[way])
            first += modulus * ((layer.high - centre) ** 2 - (layer.low - centre) ** 2) / 2
        return stiffness**2 / flexibility

    @property
    def thickening(self) -> float:
        """mm2: how much more both faces move than the mean deflection, per sum of curvatures; mean of both faces.

        The mean deflection is weighted by the transverse shear, as Reissner's is: a slab gives nu/(1-nu) t^2/10.
        """
        centre = self.middle
        edges = np.array([self.layers[0].low, *(layer.high for layer in self.layers)])
        # Movement against the underside grows with the square of the height over the neutral plane.
        steps = [
            layer.thickening * ((layer.high - centre) ** 2 - (layer.low - centre) ** 2) / 2 for layer in self.layers
        ]
        at_edge = np.concatenate([[0.0], np.cumsum(steps)])
        mean, total, first = 0.0, 0.0, 0.0
        for layer, start in zip(self.layers, at_edge, strict=False):
            modulus = (layer.membrane[0, 0] + layer.membrane[1, 1]) / 2
            z, weight = layer.low + layer.height * (_POINTS + 1) / 2, layer.height * _WEIGHTS / 2
            grown = (z - centre) ** 2 - (layer.low - centre) ** 2
            flow = first + modulus * grown / 2
            mean += float(weight @ (flow * (start + layer.thickening * grown / 2)))
            total += float(weight @ flow)
            first += modulus * ((layer.high - centre) ** 2 - (layer.low - centre) ** 2) / 2
        return float((at_edge[0] + at_edge[-1]) / 2 - mean / total) if edges[-1] > edges[0] else 0.0


def stack(layers: Sequence[Layer], held: tuple[float | None, float | None] = (None, None)) -> Laminate:
    """Only the layers that have a height."""
    return Laminate(tuple(layer for layer in layers if layer.height > 0), held)

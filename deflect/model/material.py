"""Materials of presses, dies and sheets."""

from __future__ import annotations

from dataclasses import dataclass

USUAL_EXPANSION = 11.5e-6
"""1/K: of steels (11 to 12; from memory)."""


@dataclass(frozen=True)
class Material:
    """An isotropic material.

    youngs_modulus in MPa, density in kg/mm3, permitted_stress in MPa: the
    greatest plate bending stress that the material may see at every stroke.  expansion: 1/K.
    """

    name: str
    youngs_modulus: float
    poisson_ratio: float
    density: float
    permitted_stress: float
    expansion: float = USUAL_EXPANSION

    @property
    def shear_modulus(self) -> float:
        return self.youngs_modulus / (2 * (1 + self.poisson_ratio))

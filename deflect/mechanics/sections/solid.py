"""A homogeneous slab."""

from __future__ import annotations

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections.plate_section import SHEAR_CORRECTION, PlateSection
from deflect.model.material import Material

# Weight of the Poisson thickening in Reissner's theory, J. Appl. Mech. 12 (1945) A69: the surfaces
# move by nu/(1 - nu) * t^2/10 * (curvature) more than the mean deflection.
REISSNER_THICKENING = 1.0 / 10.0


def solid_section(thickness: float, material: Material) -> PlateSection:
    """A homogeneous isotropic slab."""
    return slab_section(thickness, material, plane_stress(material), material.poisson_ratio, 1.0)


def plane_stress(material: Material) -> Floats:
    """Stresses (sx, sy, txy) from strains (ex, ey, gxy) in a sheet (3, 3), MPa."""
    return orthotropic(material.youngs_modulus, material.poisson_ratio, material.shear_modulus)


def orthotropic(e: float, nu: float, g: float) -> Floats:
    """The same for a sheet that is alike along x and y but not between them (3, 3)."""
    return np.array([[e, nu * e, 0.0], [nu * e, e, 0.0], [0.0, 0.0, g * (1 - nu**2)]]) / (1 - nu**2)


def slab_section(thickness: float, material: Material, sheet: Floats, nu: float, solid_share: float) -> PlateSection:
    """A slab that is the same through its thickness: ``sheet`` (3, 3) its plane stress stiffness, ``solid_share``
    the share of its plan that is material."""
    bending = sheet * thickness**3 / 12
    # Transverse shear runs along the holes, where the ligaments keep their share of the area.
    transverse = SHEAR_CORRECTION * material.shear_modulus * solid_share * thickness
    squeeze = thickness / (2 * material.youngs_modulus * solid_share)
    return PlateSection(
        bending=bending,
        shear=transverse * np.eye(2),
        mass=material.density * thickness * solid_share,
        to_top=thickness / 2,
        to_underside=thickness / 2,
        thickening=nu / (1 - nu) * REISSNER_THICKENING * thickness**2,
        squeeze=squeeze,
        squeeze_below=squeeze,
        fibres=(bending * (6 / thickness**2),),
    )

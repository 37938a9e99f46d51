"""What a slab's thickness, material and holes make of it as a plate."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from deflect.mechanics.arrays import Floats
from deflect.model.material import Material

# Shear correction of a homogeneous rectangular section: E. Reissner, J. Appl. Mech. 12 (1945) A69.
SHEAR_CORRECTION = 5.0 / 6.0
# Weight of the Poisson thickening in Reissner's theory, same paper: the surfaces
# move by nu/(1 - nu) * t^2/10 * (curvature) more than the mean deflection.
REISSNER_THICKENING = 1.0 / 10.0

# Effective constants of a plate with a square pattern of round holes against the ligament
# efficiency 1 - d/p, plane stress, nu = 0.3: T. Slot, "Stress Analysis of Thick Perforated
# Plates", 1972, table B.2, recomputed by us on a unit cell to four digits (between and at the
# ends: spline through the table).  Columns: E*/E along the pitch, nu* along the pitch, G*/G.
_SLOT = np.array(
    [
        (0.0, 0.0, 0.0, 0.0),
        (0.1, 0.1857, 0.0956, 0.0267),
        (0.2, 0.3000, 0.1506, 0.0886),
        (0.3, 0.4069, 0.1974, 0.1883),
        (0.4, 0.5117, 0.2365, 0.3237),
        (0.5, 0.6168, 0.2665, 0.4826),
        (0.7, 0.8244, 0.2975, 0.7916),
        (1.0, 1.0, 0.3, 1.0),
    ]
)
_SLOT_CURVES = CubicSpline(_SLOT[:, 0], _SLOT[:, 1:])


@dataclass(frozen=True, eq=False)
class PlateSection:
    """Stiffness of a plate per unit width.

    bending (3, 3): moments (mx, my, mxy) from curvatures (kx, ky, 2 kxy), N mm.
    shear (2, 2): shear forces from shear strains, N/mm.
    mass: kg/mm2.  to_top, to_underside: distance of the faces from the neutral plane, mm.
    thickening: mm2, times the sum of curvatures = movement of the faces beyond the mean deflection.
    squeeze: mm/MPa, shortening of the material above (or below) the neutral plane under pressure on that face.
    stressed: bending stiffness (3, 3) and thickness of the layer whose bending stress counts.
    """

    bending: Floats
    shear: Floats
    mass: float
    to_top: float
    to_underside: float
    thickening: float
    squeeze: float
    stressed: tuple[Floats, float]


def stacked_section(below: PlateSection, thickness: float, material: Material) -> PlateSection:
    """A plate lying unbonded on another: both take the same curvature, each about its own neutral plane."""
    above = solid_section(thickness, material)
    return PlateSection(
        bending=below.bending + above.bending,
        shear=below.shear + above.shear,
        mass=below.mass + above.mass,
        # Its bolts hold it to the plate below, whose neutral plane it is dragged along by: the breathing's worse end.
        to_top=below.to_top + thickness,
        to_underside=below.to_underside,
        thickening=below.thickening,
        # The upper plate is pressed through its whole thickness.
        squeeze=below.squeeze + 2 * above.squeeze,
        stressed=below.stressed,
    )


def solid_section(thickness: float, material: Material) -> PlateSection:
    """A homogeneous isotropic slab."""
    e, nu = material.youngs_modulus, material.poisson_ratio
    return _section(thickness, material, (e, e), nu, material.shear_modulus, e, 1.0)


def perforated_section(thickness: float, material: Material, pitch: float, diameter: float) -> PlateSection:
    """A slab with round holes on a square grid along x and y, smeared.

    Source: Slot's effective constants for plane stress, valid for thick plates in
    bending as well when thickness >= about twice the pitch; for thinner ones the pitch
    stiffness is a few per cent too low.  The table holds for nu = 0.3; other ratios
    scale nu* only.
    """
    efficiency = 1.0 - diameter / pitch
    e_share, nu_table, g_share = slot_constants(efficiency)
    nu = nu_table * material.poisson_ratio / 0.3
    solid_share = 1.0 - np.pi * diameter**2 / (4 * pitch**2)
    e = material.youngs_modulus * e_share
    squeeze_modulus = material.youngs_modulus * solid_share
    return _section(thickness, material, (e, e), nu, material.shear_modulus * g_share, squeeze_modulus, solid_share)


def slot_constants(efficiency: float) -> tuple[float, float, float]:
    """E*/E and nu* along the pitch, G*/G, for a square pattern of the given ligament efficiency."""
    e_share, nu, g_share = _SLOT_CURVES(efficiency)
    return float(e_share), float(nu), float(g_share)


def _section(
    thickness: float,
    material: Material,
    moduli: tuple[float, float],
    nu: float,
    shear_modulus: float,
    squeeze_modulus: float,
    solid_share: float,
) -> PlateSection:
    ex, ey = moduli
    inertia = thickness**3 / 12
    plane = np.array([[ex, nu * ey, 0.0], [nu * ey, ey, 0.0], [0.0, 0.0, shear_modulus * (1 - nu**2)]]) / (1 - nu**2)
    # Transverse shear runs along the holes, where the ligaments keep their share of the area.
    transverse = SHEAR_CORRECTION * material.shear_modulus * solid_share * thickness
    bending = plane * inertia
    return PlateSection(
        bending=bending,
        shear=transverse * np.eye(2),
        mass=material.density * thickness * solid_share,
        to_top=thickness / 2,
        to_underside=thickness / 2,
        thickening=nu / (1 - nu) * REISSNER_THICKENING * thickness**2,
        squeeze=thickness / (2 * squeeze_modulus),
        stressed=(bending, thickness),
    )

"""A slab with a square pattern of round holes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.interpolate import CubicSpline

from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections.plate_section import PlateSection
from deflect.mechanics.sections.solid import orthotropic, slab_section
from deflect.model.material import Material

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
_SLOT_RATIO = 0.3
_SLOT_CURVES = CubicSpline(_SLOT[:, 0], _SLOT[:, 1:])


def perforated_section(thickness: float, material: Material, pitch: float, diameter: float) -> PlateSection:
    """A slab with round holes on a square grid along x and y, smeared.

    Source: Slot's effective constants for plane stress, valid for thick plates in
    bending as well when thickness >= about twice the pitch; for thinner ones the pitch
    stiffness is a few per cent too low.  The table holds for nu = 0.3; other ratios
    scale nu* only.
    """
    sheet, nu = perforated_sheet(material, pitch, diameter)
    smeared = slab_section(thickness, material, sheet, nu, solid_share(pitch, diameter))
    return replace(smeared, ligament=1.0 - diameter / pitch)


def perforated_sheet(material: Material, pitch: float, diameter: float) -> tuple[Floats, float]:
    """Plane stress stiffness (3, 3) of a sheet with holes, MPa, and its Poisson's ratio along the pitch."""
    e_share, nu_table, g_share = slot_constants(1.0 - diameter / pitch)
    nu = nu_table * material.poisson_ratio / _SLOT_RATIO
    return orthotropic(material.youngs_modulus * e_share, nu, material.shear_modulus * g_share), nu


def solid_share(pitch: float, diameter: float) -> float:
    """Share of the plan that holes on a square grid leave."""
    return float(1.0 - np.pi * diameter**2 / (4 * pitch**2))


def slot_constants(efficiency: float) -> tuple[float, float, float]:
    """E*/E and nu* along the pitch, G*/G, for a square pattern of the given ligament efficiency."""
    e_share, nu, g_share = _SLOT_CURVES(efficiency)
    return float(e_share), float(nu), float(g_share)

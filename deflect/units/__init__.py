"""Quantities at the door: a closed table of units, read strictly and shown plainly.

Inside everything is in N, mm, MPa, rad, kg and K. A text that could be read in two ways
is refused with the ways to write it; nothing is guessed.
"""

from deflect.units.shown import (
    show_angle,
    show_deflection,
    show_density,
    show_force,
    show_land_stiffness,
    show_length,
    show_mass,
    show_micrometres,
    show_share,
    show_slope,
    show_spring_stiffness,
    show_stress,
)
from deflect.units.table import (
    ANGLE,
    DENSITY,
    FORCE,
    FRICTION,
    KINDS,
    LAND_STIFFNESS,
    LENGTH,
    MASS,
    SHARE,
    SLOPE,
    SPELLINGS,
    SPRING_STIFFNESS,
    STRESS,
    TEMPERATURE_DIFFERENCE,
    Kind,
)
from deflect.units.written import parse, parse_range

__all__ = [
    "ANGLE",
    "DENSITY",
    "FORCE",
    "FRICTION",
    "KINDS",
    "LAND_STIFFNESS",
    "LENGTH",
    "MASS",
    "SHARE",
    "SLOPE",
    "SPELLINGS",
    "SPRING_STIFFNESS",
    "STRESS",
    "TEMPERATURE_DIFFERENCE",
    "Kind",
    "parse",
    "parse_range",
    "show_angle",
    "show_deflection",
    "show_density",
    "show_force",
    "show_land_stiffness",
    "show_length",
    "show_mass",
    "show_micrometres",
    "show_share",
    "show_slope",
    "show_spring_stiffness",
    "show_stress",
]

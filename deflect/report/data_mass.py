"""Masses as plain data."""

from __future__ import annotations

from typing import Any

from deflect.findings import Advice
from deflect.mechanics.masses import HalfMass, lower_mass, upper_mass
from deflect.mechanics.stroke_energy import kilowatt_hours, lifting_energy
from deflect.report.balances import interval


def mass_data(advice: Advice) -> dict[str, Any]:
    """Both halves, the base, what a stroke lifts, and lighter ribs."""
    case = advice.assessment.analysis.case
    die, stroke, strokes = case.die, case.press.stroke, case.press.strokes_per_year
    energy = None if stroke is None else lifting_energy(die.upper.mass, stroke)
    return {
        "base_kg": die.base.mass,
        "solid_base_kg": die.base.solid.mass,
        "lower_half": _half(lower_mass(die), die.lower.mass_is_estimated),
        "upper_half": _half(upper_mass(die), die.upper.mass_is_estimated),
        "lifted_kJ_per_stroke": None if energy is None else energy / 1e3,
        "lifted_kWh_per_year": None if energy is None or strokes is None else kilowatt_hours(energy, strokes),
        "lighter_ribs": [
            {
                "pattern": one.told,
                "base_mass_kg": one.mass,
                "gap_with_it_mm": one.gap,
                "face_with_it_mm": one.face,
                "base_stress_with_it_MPa": one.stress,
            }
            for one in advice.lighter
        ],
    }


def _half(found: HalfMass, estimated: bool) -> dict[str, Any]:
    return {
        "half_kg": interval(found.mass),
        "is_estimated": estimated,
        "centre_x_mm": found.x,
        "centre_y_mm": found.y,
        "centre_height_mm": found.height,
        "by_section_percent": 100 * found.sure,
    }

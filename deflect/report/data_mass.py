"""Masses as plain data."""

from __future__ import annotations

from typing import Any

from deflect.findings import Advice
from deflect.mechanics.masses import HalfMass, lower_mass, upper_mass
from deflect.mechanics.stroke_energy import kilowatt_hours, lifting_energy
from deflect.model.case import Case
from deflect.report.balances import interval
from deflect.sizing.lighter_ribs import lighter_upper_ribs


def mass_data(advice: Advice) -> dict[str, Any]:
    """Both halves, the base, what a stroke lifts, and lighter ribs."""
    case = advice.assessment.analysis.case
    die, stroke, strokes = case.die, case.press.stroke, case.press.strokes_per_year
    upper = lighter_upper_ribs(case)
    energy = None if stroke is None else lifting_energy(die.upper.mass, stroke)
    return {
        "base_kg": die.base.mass,
        "solid_base_kg": die.base.solid.mass,
        "lower_half": _half(lower_mass(die), die.lower.mass_is_estimated),
        "upper_half": _half(upper_mass(die), die.upper.mass_is_estimated),
        "lifted_kJ_per_stroke": None if energy is None else energy / 1e3,
        "lifted_kWh_per_year": None if energy is None or strokes is None else kilowatt_hours(energy, strokes),
        "lighter_upper_ribs": [
            {
                "pattern": one.told,
                "base_mass_kg": one.mass,
                "gap_above_with_it_mm": one.gap,
                "camber_with_it_mm": one.face,
                "upper_stress_with_it_MPa": one.stress,
                "saved_kWh_per_year": yearly_energy(case, upper[0].mass - one.mass),
            }
            for one in upper
        ],
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


def yearly_energy(case: Case, mass: float) -> float | None:
    """kWh that lifting a mass takes in a year; None: stroke or rate is not stated."""
    stroke, strokes = case.press.stroke, case.press.strokes_per_year
    return None if stroke is None or strokes is None else kilowatt_hours(lifting_energy(mass, stroke), strokes)


def _half(found: HalfMass, estimated: bool) -> dict[str, Any]:
    return {
        "half_kg": interval(found.mass),
        "is_estimated": estimated,
        "centre_x_mm": found.x,
        "centre_y_mm": found.y,
        "centre_height_mm": found.height,
        "by_section_percent": 100 * found.sure,
    }

"""The bolster on its bed, and bodies that are warmer on top, in words and as plain data."""

from __future__ import annotations

from typing import Any

from deflect.findings import Analysis
from deflect.mechanics.lying import CORNERS
from deflect.mechanics.warmth import bow, free_curvature
from deflect.model.press import Press
from deflect.model.values import EVEN, Interval
from deflect.units import (
    show_deflection,
    show_force,
    show_land_stiffness,
    show_length,
    show_micrometres,
    show_stress,
)

NO_LAND = "no land there"


def corner_rows(analysis: Analysis) -> list[tuple[str, str, str]]:
    """Each corner of the bolster: how far it is off its land at rest and under force."""
    lying = analysis.solution.lying
    return [
        (corner, _gap(rest), _gap(force))
        for corner, rest, force in zip(CORNERS, lying.at_rest, lying.under_force, strict=True)
    ]


def _gap(value: float | None) -> str:
    return NO_LAND if value is None else show_deflection(value)


def bed_rows(analysis: Analysis) -> list[tuple[str, str]]:
    """Land, hold-downs and walls under force."""
    solution, lying, bed = analysis.solution, analysis.solution.lying, analysis.case.press.bed
    low, usual, high = (show_land_stiffness(v) for v in _three(analysis.bed_stiffness))
    rows = [
        ("stiffness of the land", f"{usual} ({low} to {high}); {bed.land.origin}"),
        ("share of the land that carries", _percent(solution.land_share)),
        ("greatest pressure on the land", show_stress(lying.pressure)),
    ]
    if lying.hold_down is None or lying.preload is None:
        rows.append(("hold-downs of the bolster", "none act at the usual values"))
    else:
        assumed = "" if bed.hold_downs_known else ", assumed"
        pulled = f"{show_force(lying.hold_down)}, set to {show_force(lying.preload)}{assumed}"
        rows.append(("greatest pull of a hold-down", pulled))
    if bed.land.walls is not None and lying.wall_sinking is not None:
        multiple = bed.land.walls.stiffness
        rows.append(("greatest sinking of a wall with its columns", show_deflection(lying.wall_sinking)))
        rows.append(
            (
                "stiffness of walls and feet",
                f"{multiple.nominal:.2f} ({multiple.low:.2f} to {multiple.high:.2f}) of what their sizes give",
            )
        )
    return rows


def calibration_told(press: Press) -> tuple[str, ...]:
    """What is known of the press by measurement, in sentences."""
    found = press.calibration
    if found is None:
        return (
            "Nothing was measured on this press: its ranges come from its description. Dial readings on the bare "
            "table narrow them: deflect calibrate.",
        )
    day = f" on {found.date}" if found.date else "; when is not stated"
    thick = found.effective_thickness
    own = show_length(round(press.bolster.thickness))
    return (
        f"Calibrated{day} with {found.readings} figures: {found.source}. "
        "Its ranges are the 95 % intervals of that fit.",
        f"The bolster bends like one of {show_length(round(thick.nominal, 1))} ({show_length(round(thick.low, 1))} to "
        f"{show_length(round(thick.high, 1))}); by its drawing it is {own} thick.",
    )


def warmth_told(analysis: Analysis) -> tuple[str, ...]:
    """What a body that is warmer on top than below does to gap and face, in sentences."""
    case, cold = analysis.case, analysis.even
    bodies = (
        ("die base", case.die.warmth, case.die.base.material.expansion, case.die.base.thickness, case.die.base.length),
        (
            "bolster",
            case.press.bolster.warmth,
            case.press.bolster.material.expansion,
            case.press.bolster.thickness,
            case.press.bolster.length,
        ),
    )
    told = []
    for name, warmth, expansion, thickness, length in bodies:
        rise = bow(free_curvature(expansion, thickness), length)
        by_hand = f"α ΔT L²/8h = {expansion * 1e6:g} µm/m/K × 1 K × ({length:g} mm)²/(8 × {thickness:g} mm)"
        if warmth == EVEN:
            told.append(
                f"The temperature of the {name} is not stated: it is taken as even. Each kelvin that its top is warmer "
                f"than its underside would dome it by {show_micrometres(rise)} over its length, left free ({by_hand})."
            )
        else:
            told.append(
                f"The top of the {name} is {_kelvin(warmth)} warmer than its underside: left free it domes by "
                f"{show_deflection(rise * warmth.nominal)} over its length "
                f"({show_micrometres(rise)} a kelvin, {by_hand})."
            )
    if cold is not None:
        solution = analysis.solution
        told.append(
            f"With it the greatest gap is {show_deflection(solution.greatest_gap)}, the face is out by "
            f"{show_deflection(analysis.face.error_range)} and {_percent(solution.contact_share)} of the base bears; "
            f"with both bodies at one temperature, solved anew, {show_deflection(cold.gap)}, "
            f"{show_deflection(cold.face)} and {_percent(cold.contact_share)}."
        )
    return tuple(told)


def _kelvin(warmth: Interval) -> str:
    if warmth.is_exact:
        return f"{warmth.nominal:g} K"
    return f"{warmth.nominal:g} K ({warmth.low:g} to {warmth.high:g} K)"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _three(interval: Interval) -> tuple[float, float, float]:
    return interval.low, interval.nominal, interval.high


def bed_data(analysis: Analysis) -> dict[str, Any]:
    """The bolster on its bed, for other programs."""
    lying, found = analysis.solution.lying, analysis.case.press.calibration
    return {
        "corners_off_land": [
            {"corner": corner, "at_rest_mm": rest, "pressed_mm": force}
            for corner, rest, force in zip(CORNERS, lying.at_rest, lying.under_force, strict=True)
        ],
        "land_pressure_MPa": lying.pressure,
        "wall_sinking_mm": lying.wall_sinking,
        "hold_down_pull_kN": None if lying.hold_down is None else lying.hold_down / 1e3,
        "calibrated_on": None if found is None else found.date,
        "calibrated_by": None if found is None else found.source,
        "calibration_figures": None if found is None else found.readings,
        "effective_thickness_mm": None
        if found is None
        else dict(zip(("low", "usual", "high"), _three(found.effective_thickness), strict=True)),
    }


def warmth_data(analysis: Analysis) -> dict[str, Any]:
    """Warmth of both bodies and what it does, for other programs."""
    case, cold = analysis.case, analysis.even
    names = ("low", "usual", "high")
    return {
        "die_top_warmer_K": dict(zip(names, _three(case.die.warmth), strict=True)),
        "bolster_top_warmer_K": dict(zip(names, _three(case.press.bolster.warmth), strict=True)),
        "warmth_is_stated": cold is not None,
        "gap_at_one_temperature_mm": None if cold is None else cold.gap,
        "face_at_one_temperature_mm": None if cold is None else cold.face,
    }

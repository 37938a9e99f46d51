"""Creep and what holds the die, as plain data: units in the key names, keys documented in keys.py."""

from __future__ import annotations

import math
from typing import Any

from deflect.findings import Analysis
from deflect.mechanics.holders import seats_of
from deflect.mechanics.march import Creep
from deflect.mechanics.slipping import slipping_of
from deflect.model.values import Interval
from deflect.report import holding, strokes
from deflect.report.drawing_maps import STICKS_MOST

Plain = dict[str, Any]


def creep_told(analysis: Analysis) -> Plain:
    """Shift per stroke, path, what is met, where the thrust comes from, and how the patches slide."""
    creep, march, spread = analysis.creep, analysis.creep.march, analysis.spread
    known = not march.slides
    x, y, turn = (float(part) for part in march.shift)
    held = analysis.held
    return {
        "slides_away": march.slides,
        "shift_x_um": x * 1e3 if known else None,
        "shift_y_um": y * 1e3 if known else None,
        "turn_urad": turn * 1e6 if known else None,
        "creep_direction_degree": math.degrees(creep.direction),
        "thrust_direction_degree": math.degrees(creep.thrust_direction),
        "thrust_direction_is_stated": analysis.case.die.thrust_direction is not None,
        "moved_most_by": [name for name in (dict(d).get("creep") for d in (spread.drivers, spread.seconds)) if name],
        "meeting": {"what": strokes.met(analysis), "strokes": float(analysis.met.strokes)},
        "meeting_of_draws": [
            {"draws_percent": one.percent, "what": one.what, "strokes": float(one.strokes)}
            for one in strokes.reached(analysis)
        ],
        "side_thrust": [
            {"source": one.name, "thrust_kN": kilonewtons(one.force), "origin": one.input}
            for one in strokes.sources(analysis)
        ],
        "path_free": _path(march) if known else [],
        "path_held": [] if held is None or held.march.slides else _path(held.march),
        "slip": _slip(analysis),
    }


def _path(march: Creep) -> list[Plain]:
    counts = strokes.listed_strokes()
    places = strokes.places_after(march, counts)
    return [
        {
            "strokes": float(count),
            "shift_x_um": float(place[0]) * 1e3,
            "shift_y_um": float(place[1]) * 1e3,
            "turn_urad": float(place[2]) * 1e6,
        }
        for count, place in zip(counts, places, strict=True)
    ]


def _slip(analysis: Analysis) -> Plain | None:
    slipping = slipping_of(analysis.creep.course, analysis.creep.march)
    if slipping is None:
        return None
    placing = analysis.case.die.placing
    return {
        "sticking_patches_percent": 100 * float((slipping.sticks > STICKS_MOST).mean()),
        "patches": [
            {
                "table_x_mm": float(x) + placing.x,
                "table_y_mm": float(y) + placing.y,
                "slip_um": float(f"{slid * 1e3:.3g}"),
                "sticks_percent": float(f"{100 * sticks:.3g}"),
            }
            for (x, y), slid, sticks in zip(slipping.places, slipping.slid, slipping.sticks, strict=True)
        ],
    }


def holders_told(analysis: Analysis) -> list[Plain]:
    """Every strap, key, cone and guide, and what it takes."""
    placing = analysis.case.die.placing
    note = " ".join(
        part for part in (holding.withheld(analysis), holding.unsettled(analysis), holding.beyond(analysis)) if part
    )
    seats = seats_of(analysis.case)
    return [
        {
            "holder": part.holder.name,
            "kind": part.holder.kind,
            "table_x_mm": part.holder.place[0] + placing.x,
            "table_y_mm": part.holder.place[1] + placing.y,
            "way": part.way,
            "play_mm": part.holder.play,
            "stiffness_kN_per_mm": part.holder.stiffness / 1e3,
            "holder_force_kN": None if part.force is None else kilonewtons(part.force),
            "bottom_force_kN": None if part.bottom is None else part.bottom / 1e3,
            "capacity_kN": None if part.capacity is None else part.capacity / 1e3,
            "reserve_percent": None if part.reserve is None else 100 * part.reserve,
            "from_neutral_point_mm": part.distance,
            "breathing_um": None if part.breathing is None else part.breathing * 1e3,
            "seat_force_kN": seats[part.holder.name].force / 1e3 if part.holder.name in seats else None,
            "note": note,
        }
        for part in holding.holdings(analysis)
    ]


def creep_evidence(analysis: Analysis) -> Plain:
    """Why the creep can be trusted."""
    creep, error, held = analysis.creep, analysis.mesh_error, analysis.held
    agreed = math.isfinite(creep.disagreement)
    return {
        "creep_balance_share": float(creep.march.residual),
        "creep_strokes_marched": int(creep.march.strokes),
        "creep_rounds": int(creep.rounds),
        "creep_change_share": float(creep.disagreement) if agreed else None,
        "creep_step_error_um": None if error is None else error.steps * 1e3,
        "held_strokes_marched": None if held is None else int(held.march.strokes),
        "held_is_steady": None if held is None else bool(held.march.steady),
    }


def kilonewtons(value: Interval) -> Plain:
    """A force with its range."""
    return {"low": value.low / 1e3, "usual": value.nominal / 1e3, "high": value.high / 1e3}

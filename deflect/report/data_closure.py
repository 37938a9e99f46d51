"""How the faces close, as plain data."""

from __future__ import annotations

from typing import Any

import numpy as np

from deflect.findings import Analysis
from deflect.mechanics.closure import Closure, closure_of, ranges_of
from deflect.mechanics.under_closing import Numbers, creep_under_closing, under_closing
from deflect.report.balances import interval

Plain = dict[str, Any]
KILO = 1e3


def closure_told(analysis: Analysis) -> Plain | None:
    """Both halves under the whole force; None: slide or upper die is not described."""
    closure, ranges = closure_of(analysis.case), ranges_of(analysis)
    if closure is None or ranges is None:
        return None
    edges = closure.edges
    return {
        "closes_solid": closure.closes,
        "face_gap_mm": interval(ranges.gap) if closure.closes else None,
        "least_pressure_percent": closure.spread[0] if closure.closes else None,
        "greatest_pressure_percent": closure.spread[1] if closure.closes else None,
        "blue_percent": 100 * closure.marked_share if closure.closes else None,
        "hard_percent": 100 * closure.hard_share if closure.closes else None,
        "camber_mm": interval(ranges.camber),
        "lower_camber_mm": float(np.ptp(closure.lower_error)),
        "upper_camber_mm": float(np.ptp(closure.upper_error)),
        "gap_below_lower_mm": closure.lower_gap if closure.closes else None,
        "gap_above_upper_mm": closure.upper_gap if closure.closes else None,
        "points_kN": [float(force) / KILO for force in closure.points_force],
        "tilt_x_mm_per_m": _told(float(closure.tilt[0]) * KILO),
        "tilt_y_mm_per_m": _told(float(closure.tilt[1]) * KILO),
        "edge_shift_um": None if edges is None else interval(ranges.shift, KILO),
        "edge_shift_by_tilt_um": None if edges is None else _told(edges.tilt * KILO),
        "closing_patches": _patches(closure),
        "lower_half_as_closed": _as_closed(analysis),
        "closing_balance_share": float(closure.balance),
        "closing_complementarity_share": float(closure.complementarity),
    }


def _as_closed(analysis: Analysis) -> Plain | None:
    found, creep = under_closing(analysis), creep_under_closing(analysis)
    if found is None or creep is None:
        return None
    return {
        "as_stated": _lower(found.stated, analysis.creep.free),
        "as_it_closes": _lower(found.closed, creep.free),
        "moved_numbers": list(found.moved),
        "worst_of_limit_percent": interval(found.worst, 100.0),
    }


def _lower(numbers: Numbers, creep: float) -> Plain:
    return {
        "gap_found_mm": numbers.gap,
        "face_found_mm": numbers.face,
        "carrying_percent": 100 * numbers.contact_share,
        "base_bending_MPa": numbers.base_stress,
        "bolster_bending_MPa": numbers.bolster_stress,
        "bearing_MPa": numbers.pressure,
        "table_sag_mm": numbers.sag,
        "free_creep_um": creep * KILO,
    }


def _told(value: float) -> float:
    """A number without the round-off of what is nothing by symmetry."""
    return round(value, 6) + 0.0


def _patches(closure: Closure) -> list[Plain]:
    patches = closure.faces.patches
    marks = np.where(closure.hard, "hard", np.where(closure.marked, "blue", "blank"))
    return [
        {
            "x_mm": float(patches.centre[k, 0]),
            "y_mm": float(patches.centre[k, 1]),
            "pressure_MPa": float(closure.pressure[k]) if closure.closes else None,
            "open_mm": float(closure.gap[k]) if closure.closes else None,
            "mark": str(marks[k]) if closure.closes else None,
            "lower_standing_mm": float(closure.lower_error[k]),
            "upper_standing_mm": float(closure.upper_error[k]),
        }
        for k in range(closure.faces.count)
    ]

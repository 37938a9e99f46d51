"""The blank holder, as plain data."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from deflect.findings import Analysis
from deflect.mechanics.ring_case import (
    cushion_guides,
    leaks_of,
    ribbed,
    ring_of,
    ring_range,
    setting_of,
    thinner,
    why_not,
)
from deflect.model.die import Operation
from deflect.report.balances import interval

Plain = dict[str, Any]
KILO = 1e3


def ring_told(analysis: Analysis) -> Plain | None:
    """Pressure around the ring; None: there is no blank holder, or what it needs is not described."""
    case = analysis.case
    if case.die.operation is not Operation.DRAW or why_not(case):
        return None
    ring, setting, holder = ring_of(case), setting_of(case), case.die.blank_holder
    assert holder is not None
    return {
        "ring_kN": ring.force / KILO,
        "uneven_percent": interval(ring_range(case), 100.0),
        "least_ring_percent": 100 * ring.least,
        "ring_stress_MPa": ring.stress,
        "buckling_times": ring.buckling,
        "pins_kN": [float(force) / KILO for force in ring.pins],
        "cushion_is_level": cushion_guides(case) is None,
        "cushion_tilt_x_mm_per_m": _told(ring.cushion_tilt[0]),
        "cushion_tilt_y_mm_per_m": _told(ring.cushion_tilt[1]),
        "setting_kN": None if setting is None else [force / KILO for force in setting],
        "stations": [
            {"x_mm": float(x), "y_mm": float(y), "wanted_percent": 100 * float(share)}
            for (x, y), share in zip(ring.body.place, ring.share, strict=True)
        ],
        "ring_made_of": holder.told,
        "other_rings": [
            {
                "ring_made_of": other.told,
                "ring_height_mm": other.thickness,
                "uneven_with_it_percent": 100 * one.uneven,
                "least_with_it_percent": 100 * one.least,
                "stress_with_it_MPa": one.stress,
                "buckling_with_it_times": one.buckling,
            }
            for other, one in (
                *((replace(holder, thickness=size), one) for size, one in thinner(case)),
                *ribbed(case),
            )
        ],
        "leaks": [
            {
                "spring": leak.number + 1,
                "left_percent": 100 * leak.force,
                "ring_tilt_mm_per_m": leak.tilt * KILO,
                "least_ring_percent": 100 * leak.least,
            }
            for leak in leaks_of(case)
        ],
    }


def _told(tilt: float) -> float:
    """mm/m, without the round-off of what is nothing by symmetry."""
    return round(float(tilt) * KILO, 6) + 0.0

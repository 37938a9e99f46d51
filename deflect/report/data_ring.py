"""The blank holder, as plain data."""

from __future__ import annotations

from typing import Any

from deflect.findings import Analysis
from deflect.mechanics.ring_case import leaks_of, ring_of, ring_range, setting_of, why_not
from deflect.model.die import Operation
from deflect.report.balances import interval

Plain = dict[str, Any]
KILO = 1e3


def ring_told(analysis: Analysis) -> Plain | None:
    """Pressure around the ring; None: there is no blank holder, or what it needs is not described."""
    case = analysis.case
    if case.die.operation is not Operation.DRAW or why_not(case):
        return None
    ring, setting = ring_of(case), setting_of(case)
    return {
        "ring_kN": ring.force / KILO,
        "uneven_percent": interval(ring_range(case), 100.0),
        "least_ring_percent": 100 * ring.least,
        "ring_stress_MPa": ring.stress,
        "buckling_times": ring.buckling,
        "pins_kN": [float(force) / KILO for force in ring.pins],
        "setting_kN": None if setting is None else [force / KILO for force in setting],
        "stations": [
            {"x_mm": float(x), "y_mm": float(y), "wanted_percent": 100 * float(share)}
            for (x, y), share in zip(ring.body.place, ring.share, strict=True)
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

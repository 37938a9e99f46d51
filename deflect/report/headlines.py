"""The few numbers that matter, read off an analysis once for every output."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deflect.findings import Analysis
from deflect.mechanics.cutting import shift_tolerance
from deflect.model.values import Interval
from deflect.report.wording import place

# Creep below a nanometre a stroke is round-off, mm.
NOTHING = 1e-6


@dataclass(frozen=True)
class Headline:
    """One headline number.

    key: its name in JSON, unit included; value in ``unit``; limit None: none is set;
    spread_name: its name among the ranges; where, note: in words.
    """

    key: str
    title: str
    unit: str
    value: Interval
    limit: float | None = None
    at_most: bool = True
    where: str = ""
    note: str = ""
    driver: str = ""

    @property
    def exceeds(self) -> bool:
        """Whether the usual value lies beyond the limit."""
        if self.limit is None:
            return False
        return self.value.nominal > self.limit if self.at_most else self.value.nominal < self.limit


def headlines(analysis: Analysis) -> tuple[Headline, ...]:
    """Sag, gap, contact, face and creep, with range and limit."""
    case, solution, spread = analysis.case, analysis.solution, analysis.spread
    drivers = dict(spread.drivers)
    acceptance = case.press.acceptance
    x, y = solution.greatest_gap_at
    bedded = case.die.bedded is not None
    held = "of the unkeyed die: keys hold it" if analysis.creep.held else ""
    along = "x" if _steeper_along_x(analysis) else "y"
    tolerance, what = shift_tolerance(case.die)
    reference = solution.sag.reference_length if along == "x" else solution.sag.reference_width
    return (
        Headline("sag_mm", "Table sag", "mm", spread.sag,
                 where="along x" if solution.sag.along_x >= solution.sag.along_y else "along y",
                 driver=drivers.get("sag", "")),
        Headline("sag_slope_mm_per_m", "Table sag per metre", "mm/m", scaled(spread.sag_slope, 1e3),
                 None if acceptance is None else acceptance.slope * 1e3,
                 where=f"along {along}, over {reference:.0f} mm",
                 driver=drivers.get("sag_slope", drivers.get("sag", ""))),
        Headline("greatest_gap_mm", "Greatest gap below the base", "mm", spread.gap,
                 where=place(x, y, case.die.base.plan), driver=drivers.get("gap", "")),
        Headline("contact_share_percent", "Contact share of the base", "%", scaled(spread.contact_share, 1e2),
                 driver=drivers.get("contact_share", "")),
        Headline("face_range_mm", "Face: change since bedding-in" if bedded else "Face error", "mm", spread.face,
                 case.die.limits.spotting if bedded else case.die.limits.bedding, driver=drivers.get("face", "")),
        Headline("creep_um_per_stroke", "Creep per stroke", "um", scaled(spread.creep, 1e3), where=_heading(analysis),
                 note=held, driver=drivers.get("creep", "")),
        Headline("strokes_to_tolerance", "Strokes until creep uses up its tolerance", "strokes",
                 strokes_until(tolerance, spread.creep), note=f"{tolerance:g} mm, {what}"),
    )  # fmt: skip


def scaled(value: Interval, factor: float) -> Interval:
    """The interval in a unit ``1 / factor`` as large."""
    return Interval(value.low * factor, value.nominal * factor, value.high * factor)


def strokes_until(tolerance: float, creep: Interval) -> Interval:
    """Strokes in which a creep (mm a stroke) uses up a tolerance (mm); infinite where nothing creeps."""
    low, usual, high = (tolerance / c if c > NOTHING else math.inf for c in (creep.high, creep.nominal, creep.low))
    return Interval(low, usual, high)


def _steeper_along_x(analysis: Analysis) -> bool:
    sag = analysis.solution.sag
    return sag.along_x / sag.reference_length >= sag.along_y / sag.reference_width


def _heading(analysis: Analysis) -> str:
    """Where the die creeps to, in words, bolster axes."""
    if analysis.creep.free <= NOTHING:
        return ""
    ways = ("to the right", "to the right and rear", "to the rear", "to the left and rear",
            "to the left", "to the left and front", "to the front", "to the right and front")  # fmt: skip
    return ways[round(analysis.creep.direction / (math.pi / 4)) % 8]

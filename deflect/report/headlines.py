"""The few numbers that matter, read off an analysis once for every output."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from deflect.findings import Analysis, Finding, Status
from deflect.mechanics.cutting import shift_tolerance
from deflect.model.values import Interval
from deflect.report.wording import place

# The rule that judges each number, and the number's name among the ranges.
_RULES = MappingProxyType({
    "sag_slope_mm_per_m": "table-sag",
    "greatest_gap_mm": "gap",
    "contact_share_percent": "contact",
    "face_range_mm": "face",
    "strokes_to_tolerance": "creep",
})  # fmt: skip
_RANGED = MappingProxyType({
    "sag_mm": "sag",
    "sag_slope_mm_per_m": "sag_slope",
    "greatest_gap_mm": "gap",
    "contact_share_percent": "contact_share",
    "face_range_mm": "face",
    "creep_um_per_stroke": "creep",
})  # fmt: skip
# Creep below a nanometre a stroke is round-off, mm.
NOTHING = 1e-6


@dataclass(frozen=True)
class Headline:
    """One headline number.

    key: its name in JSON, unit included; value in ``unit``; limit and status: of the rule that judges it,
    None where none does; where, note: in words; driver: the input that moves it most.
    """

    key: str
    title: str
    unit: str
    value: Interval
    limit: float | None = None
    at_most: bool = True
    status: Status | None = None
    where: str = ""
    note: str = ""
    driver: str = ""


def headlines(analysis: Analysis, findings: Sequence[Finding]) -> tuple[Headline, ...]:
    """Sag, gap, contact, face, creep and strokes, each with its range and the limit that its rule sets."""
    case, solution, spread = analysis.case, analysis.solution, analysis.spread
    along, reference = _governing(analysis)
    tolerance, what = shift_tolerance(case.die)
    held = analysis.creep.held
    turned = " (die axes)" if case.die.placing.rotation else ""
    numbers = (
        Headline("sag_mm", "Table sag", "mm", spread.sag, where=f"along {along}"),
        Headline("sag_slope_mm_per_m", "Table sag per metre", "mm/m", scaled(spread.sag_slope, 1e3),
                 where=f"along {along}, over {reference:.0f} mm"),
        Headline("greatest_gap_mm", "Greatest gap below the base", "mm", spread.gap,
                 where=place(*solution.greatest_gap_at, case.die.base.plan) + turned),
        Headline("contact_share_percent", "Contact share of the base", "%", scaled(spread.contact_share, 1e2)),
        Headline("face_range_mm", "Face: change since bedding-in" if case.die.bedded else "Face error", "mm",
                 spread.face),
        Headline("creep_um_per_stroke", "Creep per stroke", "um", scaled(spread.creep, 1e3), where=_heading(analysis),
                 note="of the unkeyed die: keys hold it" if held else ""),
        Headline("strokes_to_tolerance", "Strokes to the creep tolerance", "strokes",
                 strokes_until(tolerance, Interval.exactly(0.0) if held else spread.creep),
                 note="keys hold it" if held else f"{tolerance:g} mm, {what}"),
    )  # fmt: skip
    drivers, judged = dict(spread.drivers), {finding.rule.id: finding for finding in findings}
    return tuple(_judged(replace(n, driver=drivers.get(_RANGED.get(n.key, ""), "")), judged) for n in numbers)


def _judged(number: Headline, findings: Mapping[str, Finding]) -> Headline:
    """The number with limit and status of the rule that judges it."""
    finding = findings.get(_RULES.get(number.key, ""))
    if finding is None or finding.reading is None or finding.rule.unit != number.unit:
        return number
    return replace(number, limit=finding.limit, at_most=finding.reading.at_most, status=finding.status)


def scaled(value: Interval, factor: float) -> Interval:
    """The interval in a unit ``1 / factor`` as large."""
    return Interval(value.low * factor, value.nominal * factor, value.high * factor)


def strokes_until(tolerance: float, creep: Interval) -> Interval:
    """Strokes in which a creep (mm a stroke) uses up a tolerance (mm); infinite where nothing creeps."""
    low, usual, high = (whole_strokes(tolerance, c) for c in (creep.high, creep.nominal, creep.low))
    return Interval(low, usual, high)


def whole_strokes(tolerance: float, creep: float) -> float:
    """Whole strokes that fit into the tolerance."""
    return float(math.floor(tolerance / creep)) if creep > NOTHING else math.inf


def _governing(analysis: Analysis) -> tuple[str, float]:
    """The axis along which the sag is greater for its reference length, and that length, mm."""
    sag = analysis.solution.sag
    if sag.along_x / sag.reference_length >= sag.along_y / sag.reference_width:
        return "x", sag.reference_length
    return "y", sag.reference_width


def _heading(analysis: Analysis) -> str:
    """Where the die creeps to, in words, bolster axes."""
    if analysis.creep.free <= NOTHING:
        return ""
    ways = ("to the right", "to the right and rear", "to the rear", "to the left and rear",
            "to the left", "to the left and front", "to the front", "to the right and front")  # fmt: skip
    return ways[round(analysis.creep.direction / (math.pi / 4)) % 8]

"""The few numbers that matter, read off an analysis once for every output."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from deflect.findings import Advice, Analysis, Finding, Status, Step, Trouble
from deflect.model.values import Interval
from deflect.report import strokes
from deflect.report.places import gap_place
from deflect.report.wording import bare, figure, ranged, span

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
    "strokes_to_tolerance": "strokes",
})  # fmt: skip
# Creep below a nanometre a stroke is round-off, mm.
NOTHING = 1e-6
HELD = "held"
"""Said in place of a number of strokes where something holds the die against creep."""


@dataclass(frozen=True)
class Headline:
    """One headline number.

    key: its name in JSON, unit included; value in ``unit``; limit and status: of the rule that judges it,
    None where none does; where, note: in words; driver: the input that moves it most, or two; held: it is a number of
    creep, and something holds the die.
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
    held: bool = False

    @property
    def shown(self) -> str:
        """The usual value with its unit, as people read it."""
        told = figure(self.value.nominal, self.unit) if self.unit != "um" else strokes.pace_told(self.value.nominal)
        if not self.held:
            return told
        return HELD if self.unit == "strokes" else f"free: {told}"

    @property
    def range_shown(self) -> str:
        """The range without its unit; empty where there is none."""
        if self.unit == "um":
            return strokes.pace_span(self.value)
        return "" if self.held and self.unit == "strokes" else span(self.value, self.unit)

    @property
    def short(self) -> str:
        """The usual value without its unit, where the unit follows later."""
        if self.held or not math.isfinite(self.value.nominal):
            return self.shown
        return bare(self.value.nominal, self.unit)


def headlines(analysis: Analysis, findings: Sequence[Finding]) -> tuple[Headline, ...]:
    """Sag, gap, contact, face, creep and strokes, each with its range and the limit that its rule sets."""
    case, spread = analysis.case, analysis.spread
    along, reference = _governing(analysis)
    held = analysis.creep.held
    by = held_by(analysis)
    turned = " (die axes)" if case.die.placing.rotation else ""
    numbers = (
        Headline("sag_mm", "Table sag", "mm", spread.sag, where=f"along {along}", note=_other_way(analysis)),
        Headline("sag_slope_mm_per_m", "Table sag per metre", "mm/m", scaled(spread.sag_slope, 1e3),
                 where=f"along {along}, over {reference:.0f} mm"),
        Headline("greatest_gap_mm", "Greatest gap below the base", "mm", spread.gap,
                 where=gap_place(analysis) + turned),
        Headline("contact_share_percent", "Contact share of the base", "%", scaled(spread.contact_share, 1e2)),
        Headline("face_range_mm", "Face: change since bedding-in" if case.die.bedded else "Face error", "mm",
                 spread.face),
        Headline("creep_um_per_stroke", "Creep per stroke", "um", strokes.pace(analysis),
                 where=heading(analysis), note=f"{by} hold the die" if held else "", held=held),
        Headline("strokes_to_tolerance", "Strokes until creep meets its limit", "strokes",
                 Interval.exactly(math.inf) if held else whole(spread.strokes),
                 where="" if held else strokes.met(analysis),
                 note=f"{by} hold the die" if held else strokes.reached_told(analysis), held=held),
    )  # fmt: skip
    judged = {finding.rule.id: finding for finding in findings}
    return tuple(_judged(replace(n, driver=strokes.driven_by(analysis, _RANGED[n.key])), judged) for n in numbers)


def _judged(number: Headline, findings: Mapping[str, Finding]) -> Headline:
    """The number with limit and status of the rule that judges it."""
    finding = findings.get(_RULES.get(number.key, ""))
    if finding is None or finding.reading is None or finding.rule.unit != number.unit:
        return number
    return replace(number, limit=finding.limit, at_most=finding.reading.at_most, status=finding.status)


def held_by(analysis: Analysis) -> str:
    """What holds the die against creep, where it is held."""
    return "locating cones" if analysis.case.die.placing.coned else "keys"


def value_shown(finding: Finding, analysis: Analysis, with_range: bool = True) -> str:
    """A rule's number as people read it; "held" for the strokes of a die that something holds."""
    if finding.value is None:
        return "–"
    if finding.rule.unit == "strokes" and finding.rule.trouble is Trouble.CREEP and analysis.creep.held:
        return HELD
    unit = finding.rule.unit
    return ranged(finding.value, unit) if with_range else figure(finding.value.nominal, unit)


def change_shown(step: Step, advice: Advice) -> str:
    """How a step changes its number; strokes as they are told everywhere else."""
    before = {f.rule.id: f for f in advice.assessment.findings}
    for outcome in advice.outcomes:
        if (outcome.remedy.id, outcome.proposal.size) != (step.remedy, step.size):
            continue
        for now in outcome.findings:
            was = before.get(now.rule.id)
            if now.rule.unit == "strokes" and was is not None and step.change.startswith(f"{now.rule.title} "):
                first = value_shown(was, advice.assessment.analysis, with_range=False)
                return f"{now.rule.title} {first} → {value_shown(now, outcome.analysis, with_range=False)}"
    return step.change


def settled(advice: Advice) -> tuple[str, ...]:
    """Which input would settle which of the rules that are open: "friction would settle: Creep".

    Where a rule comes out alike at both ends of the input, the input is told as moving it, not as settling it.
    """
    open_ones = (Status.UNDECIDED, Status.NOT_CHECKED)
    titles = {f.rule.id: f.rule.title for f in advice.assessment.findings if f.status in open_ones}
    settles: dict[str, list[str]] = {}
    moves: dict[str, list[str]] = {}
    for rule in dict.fromkeys(one.rule for one in advice.measurements if one.rule in titles):
        told = [one for one in advice.measurements if one.rule == rule]
        alone = [one.uncertain for one in told if one.decides] if told[0].decides else []
        for name in alone:
            settles.setdefault(name, []).append(titles[rule])
        if not alone and any(one.decides for one in told):
            together = " and ".join(one.uncertain for one in told)
            settles.setdefault(f"{together} together", []).append(titles[rule])
        elif not alone:
            moves.setdefault(told[0].uncertain, []).append(titles[rule])
    lines = [f"{name} would settle: {', '.join(dict.fromkeys(rules))}" for name, rules in settles.items()]
    lines += [f"{name} moves most, yet does not settle alone: {', '.join(rules)}" for name, rules in moves.items()]
    return tuple(lines)


def scaled(value: Interval, factor: float) -> Interval:
    """The interval in a unit ``1 / factor`` as large."""
    return Interval(value.low * factor, value.nominal * factor, value.high * factor)


def whole(value: Interval) -> Interval:
    """Whole strokes; infinite ones stay so."""
    low, usual, high = (float(math.floor(s)) if math.isfinite(s) else s
                        for s in (value.low, value.nominal, value.high))  # fmt: skip
    return Interval(low, usual, high)


def _governing(analysis: Analysis) -> tuple[str, float]:
    """The axis along which the sag is greater for its reference length, and that length, mm."""
    sag = analysis.solution.sag
    if sag.along_x / sag.reference_length >= sag.along_y / sag.reference_width:
        return "x", sag.reference_length
    return "y", sag.reference_width


def _other_way(analysis: Analysis) -> str:
    """The sag along the axis that does not govern."""
    sag = analysis.solution.sag
    along_x, along_y = ("x", sag.along_x), ("y", sag.along_y)
    (_, least), (way, depth) = (along_x, along_y) if _governing(analysis)[0] == "x" else (along_y, along_x)
    return f"along {way} {figure(depth, 'mm')}" + (", over a longer length" if depth > least else "")


def heading(analysis: Analysis) -> str:
    """Where the free die creeps to, in words, bolster axes; empty: nowhere."""
    if analysis.creep.free <= NOTHING:
        return ""
    ways = ("to the right", "to the right and rear", "to the rear", "to the left and rear",
            "to the left", "to the left and front", "to the front", "to the right and front")  # fmt: skip
    return ways[round(analysis.creep.direction / (math.pi / 4)) % 8]

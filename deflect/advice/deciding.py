"""What would decide an undecided case: which input, how to measure it, what each outcome would mean."""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType

from deflect.advice.judging import judge
from deflect.advice.numbers import figure
from deflect.findings import Assessment, Finding, Measurement, Rule, Status, Trouble
from deflect.mechanics.analysis import analyse_at_ends, analyse_without_creep
from deflect.mechanics.draws import UNCERTAIN, uncertain_of

# How many inputs are named: one or two decide, more is a research project.
_MOST = 2
# Share of its limit by which an input must move a rule to be named (ours).
_MOVES = 0.01
_TWO_DIALS = "Two dials at one end of the base, one on the base, one on the table beside it, through one stroke."
_HEADLINE = {
    Trouble.SAG: "sag_slope",
    Trouble.GAP: "gap",
    Trouble.ROCKING: "contact_share",
    Trouble.FACE: "face",
    Trouble.CREEP: "creep",
}
# Rules on what is no headline: which input moves them is found by solving anew.
_NO_HEADLINE = (Trouble.STRESS, Trouble.PRESSURE)
# How a fitter measures each input (common practice, no source).
HOW = {
    "land stiffness": "Dial on the bolster's top over the land, its foot on the floor beside the bed: zero it without "
    "force, read it under a known force; the movement over the land is the bed's.",
    "hold-down of the bolster": "Count the bolts or clamps that hold the bolster down, try them with the torque "
    "wrench, and put a dial on a corner of the bolster: if it rises under force, they do not hold.",
    "local give at the land": "Feeler gauge between bolster and bed at the opening's edge, with and without force.",
    "local give of the contact": "Blue the underside of the base, load it once, and compare the marked area.",
    "friction": "Pull the free lower half with a load cell until it slips; divide by its weight.",
    "table out of level": "Precision level on the cleaned bolster along x and y, and once more turned end for end.",
    "side thrust": "Dial against the base along x and along y, zeroed before the stroke, read at the bottom and after "
    "it; witness marks on base and table after fifty strokes.",
    "one-sided cutting": "Dial against the base across the open end of the trim line, zeroed before and read "
    "at the bottom: with and without a sheet.",
    "force off the press's centre": "Dials between slide and table at the four corners, read at the bottom of the "
    "stroke: the tilt of the slide tells how far the force is off.",
    "tangential give": _TWO_DIALS,
    "joint stiffness": _TWO_DIALS,
    "effective thickness of the bolster": "deflect calibrate with more dials over the bed opening, or a greater force.",
    "walls of the bed": "Dials on the bolster over the middle of each wall and over the columns, under a known force; "
    "deflect calibrate finds the walls from them.",
    "warmth of the die base": "Contact thermometer on the base's top and on its underside near the edge, after an hour "
    "of running.",
    "warmth of the bolster": "Contact thermometer on the bolster's top and from below in the bed opening, after an "
    "hour of running.",
    "land stiffness of the press it was bedded on": "The same dial over the land of that press, under a known force.",
}
# The pressure around the ring has a range of its own, that of the pins' heights.
_RING_PRESSURE = "ring-pressure"
PIN_HEIGHTS = "heights of the cushion pins"
HOW_PIN_HEIGHTS = (
    "Cushion up on blocks, its energy locked out: a dial over every pin from one surface. State them as "
    "die.blank_holder.pin_heights, and the uncertainty of the dial as pin_scatter."
)


def measurements(before: Assessment) -> tuple[Measurement, ...]:
    """The one or two inputs that move the undecided rules most, solved at both of their ends.

    Where a rule comes out alike at both ends of the first, the second is solved with the first at the end that brings
    the rule nearer to the other outcome: together they may decide.
    """
    drivers = dict(before.analysis.spread.drivers)
    told: dict[str, Measurement] = {}
    for finding in (f for f in before.findings if f.status is Status.UNDECIDED):
        if finding.rule.id == _RING_PRESSURE and len(told) < _MOST:
            told[PIN_HEIGHTS] = _pin_heights(finding)
            continue
        trouble = finding.rule.trouble
        if trouble in _NO_HEADLINE and len(told) < _MOST:
            first = _most_moving(before, finding.rule, {})
        else:
            first = drivers.get(_HEADLINE.get(trouble, ""))
        if first is None or first in told or len(told) >= _MOST:
            continue
        ends = _at_both_ends(before, finding.rule, first)
        told[first] = _measurement(finding.rule, first, ends)
        if told[first].decides or len(told) >= _MOST:
            continue
        nearer = _nearer_to_the_limit(ends)
        given = {first: float(nearer)}
        second = _most_moving(before, finding.rule, given)
        if second is not None and second not in told:
            with_first = f", {first} at its {('low', 'high')[nearer]} end"
            told[second] = _measurement(
                finding.rule, second, _at_both_ends(before, finding.rule, second, given), with_first
            )
    return tuple(told.values())


def _pin_heights(finding: Finding) -> Measurement:
    """The pins' heights, at the best and at the worst of those that were drawn for the rule's range."""
    assert finding.reading is not None
    value, rule = finding.reading.value, finding.rule
    best, worst = (
        f"at the {which} of the heights within their scatter: {rule.title} {_shown(end, rule.unit)}, {status.value}"
        for which, end, status in (("best", value.low, Status.HOLDS), ("worst", value.high, Status.BREAKS))
    )
    return Measurement(PIN_HEIGHTS, rule.id, HOW_PIN_HEIGHTS, best, worst)


def _most_moving(before: Assessment, rule: Rule, given: Mapping[str, float]) -> str | None:
    """The input that moves a rule most, once those ``given`` are known; None where none of them moves it."""
    if rule.trouble is Trouble.CREEP:  # each end would have to be marched: the draws of the ranges must do
        return dict(before.analysis.spread.seconds).get(_HEADLINE[Trouble.CREEP])
    case, moves = before.analysis.case, dict[str, float]()
    for name in uncertain_of(case):
        if name not in given:
            low, high = (
                judge(rule, analyse_without_creep(case, before.analysis, ends={**given, name: end}))
                for end in (0.0, 1.0)
            )
            if low is not None and high is not None and low.reading is not None and high.reading is not None:
                moves[name] = abs(high.reading.value.nominal - low.reading.value.nominal)
    limits = {f.rule.id: f.reading.limit for f in before.findings if f.reading is not None}
    most = max(moves, key=lambda name: moves[name], default=None)
    return most if most is not None and moves[most] > _MOVES * abs(limits.get(rule.id) or 0.0) else None


def _at_both_ends(
    before: Assessment, rule: Rule, name: str, given: Mapping[str, float] = MappingProxyType({})
) -> tuple[Finding | None, Finding | None]:
    """The rule at the low and at the high end of one input, ``given`` others at theirs."""
    assert name in UNCERTAIN
    analysis = before.analysis
    worst = analysis.creep.thrust_direction

    def at(end: float) -> Finding | None:
        return judge(rule, analyse_at_ends(analysis.case, {**given, name: end}, worst, analysis.mesh_error))

    return at(0.0), at(1.0)


def _nearer_to_the_limit(ends: tuple[Finding | None, Finding | None]) -> int:
    """0: the low end, 1: the high one."""
    room = [
        abs(f.reading.value.nominal - f.reading.limit)
        if f is not None and f.reading is not None and f.reading.limit is not None
        else math.inf
        for f in ends
    ]
    return int(room[1] < room[0])


def _measurement(
    rule: Rule, name: str, ends: tuple[Finding | None, Finding | None], with_first: str = ""
) -> Measurement:
    low, high = (None if f is None else f.status for f in ends)
    return Measurement(
        uncertain=name,
        rule=rule.id,
        how=HOW[name],
        at_low=_words("low", ends[0], with_first),
        at_high=_words("high", ends[1], with_first),
        decides=low is not high,
    )


def _words(end: str, finding: Finding | None, with_first: str) -> str:
    if finding is None or finding.reading is None:
        return f"at the {end} end of its range: not to be said"
    value = _shown(finding.reading.value.nominal, finding.rule.unit)
    where = f"at the {end} end of its range{with_first}, all else usual"
    return f"{where}: {finding.rule.title} {value}, {finding.status.value}"


def _shown(value: float, unit: str) -> str:
    """Of a die that does not creep at all the strokes have no end."""
    return f"{figure(value, unit)} {unit}" if math.isfinite(value) else f"{unit} without end"

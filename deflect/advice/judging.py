"""Asking the rules."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from deflect.advice.registry import all_cautions, all_rules
from deflect.findings import Assessment, Finding, MeshError, NotChecked, Reading, Rule, Status, Warned
from deflect.mechanics.analysis import USUAL_SAMPLES, Analysis, analyse
from deflect.model.case import Case
from deflect.model.values import Interval

Progress = Callable[[str], None]
WRONG = (Status.BREAKS, Status.UNDECIDED)
# Share of its limit below which a usual value is next to nothing (ours).
_NEXT_TO_NOTHING = 0.1


def judge(rule: Rule, analysis: Analysis) -> Finding | None:
    """Ask one rule; None where it does not apply."""
    answer = rule.measure(analysis)
    if isinstance(answer, NotChecked):
        return Finding(rule, Status.NOT_CHECKED, None, answer.reason, answer.inputs) if answer.applies else None
    return Finding(rule, status(answer), answer)


def judge_all(analysis: Analysis) -> tuple[Finding, ...]:
    """Ask every rule that applies."""
    asked = (judge(rule, analysis) for rule in all_rules())
    return tuple(f for f in asked if f is not None)


def status(reading: Reading) -> Status:
    """How a number with its range stands to its limit."""
    if reading.limit is None:
        return Status.REPORTED
    value = reading.value
    best, worst = (value.low, value.high) if reading.at_most else (-value.high, -value.low)
    limit = reading.limit if reading.at_most else -reading.limit
    if worst <= limit:
        return Status.HOLDS
    return Status.BREAKS if best > limit else Status.UNDECIDED


def assess(
    case: Case,
    samples: int = USUAL_SAMPLES,
    mesh_error: bool = True,
    thrust_direction: float | None = None,
    like: MeshError | None = None,
) -> Assessment:
    """Analyse a case and ask every rule; the arguments are those of ``analyse``."""
    analysis = analyse(case, samples, mesh_error, thrust_direction, like)
    return Assessment(analysis, judge_all(analysis))


def cautions(analysis: Analysis) -> tuple[Warned, ...]:
    """All cautions of a case: never none."""
    return tuple(c.say(analysis) for c in all_cautions())


def with_old_range(finding: Finding, was: Finding | None) -> Finding:
    """A finding at the usual values, judged with the relative range that the rule had before.

    A usual value that was next to nothing has no relative range to speak of: the range is taken as wide as it was.
    """
    if finding.reading is None or was is None or was.reading is None or finding.reading.certain:
        return finding
    old, now = was.reading.value, finding.reading.value.nominal
    if old.is_exact or old.nominal <= 0 or now <= 0:
        return finding
    limit = finding.reading.limit
    if finding.reading.at_most and limit is not None and old.nominal < _NEXT_TO_NOTHING * limit:
        low, high = max(now + old.low - old.nominal, 0.0), now + old.high - old.nominal
    else:
        low, high = now * old.low / old.nominal, now * old.high / old.nominal
    if not finding.reading.at_most and finding.rule.unit == "%":
        high = min(high, 100.0)  # no share of a whole is more than all of it
    # Round-off must not push an end past the usual value.
    reading = replace(finding.reading, value=Interval(min(low, now), now, max(high, now)))
    return Finding(finding.rule, status(reading), reading, finding.reason)


def severity(finding: Finding | None) -> int:
    """0 holds or not checked, 1 undecided, 2 breaks."""
    if finding is None:
        return 0
    return {Status.BREAKS: 2, Status.UNDECIDED: 1}.get(finding.status, 0)

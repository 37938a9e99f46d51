"""Where the numbers speak against what the trade says: both are told, in one sentence."""

from __future__ import annotations

from deflect.advice.judging import WRONG
from deflect.advice.numbers import figure
from deflect.findings import Assessment, Finding, Outcome, Reading, Saying, Status

# A number that moves the wrong way by less than this share has not moved (ours).
_WORTH = 0.02
# Share of the way to its limit from which a number no longer speaks against a saying (ours).
_HALF = 0.5
# Sentences of a case: more would drown the advice.
_MOST = 3


def against_trade(before: Assessment, outcomes: tuple[Outcome, ...]) -> tuple[str, ...]:
    """Sentences of the case as it stands, and of the remedies in their order."""
    # One sentence of the case as it stands: they tell the same numbers.  On a dirty table it is the dirt that speaks.
    dirty = bool(before.analysis.case.die.placing.dirt)
    told = [pair for finding in before.findings if not dirty for pair in _of_rule(finding, before)][:1]
    told += [pair for outcome in outcomes for pair in _of_remedy(outcome, before)]
    first = dict(reversed(told))
    return tuple(first[saying] for saying in dict.fromkeys(saying for saying, _ in told))[:_MOST]


def against_remedy(outcome: Outcome, before: Assessment) -> tuple[str, ...]:
    """What the numbers of a remedy, solved anew, say against the trade's saying of it; one sentence a saying."""
    return tuple(sentence for _, sentence in _of_remedy(outcome, before))


def _of_remedy(outcome: Outcome, before: Assessment) -> list[tuple[Saying, str]]:
    old = {f.rule.id: f for f in before.findings}
    new = {f.rule.id: f for f in outcome.findings}
    told = []
    for saying in outcome.remedy.trade_says:
        moved = [_moved(old[rule], new[rule]) for rule in saying.rules if rule in old and rule in new]
        spoken = [words for words in moved if words]
        if spoken:
            told.append((saying, _sentence(saying, "the numbers of this case say that " + ", and ".join(spoken))))
    return told


def _of_rule(finding: Finding, before: Assessment) -> list[tuple[Saying, str]]:
    if finding.status is not Status.HOLDS:
        return []
    wrong = {f.rule.id: f for f in before.findings if f.status in WRONG}
    told = []
    for saying in finding.rule.trade_says:
        spoken = [_stands(wrong[rule]) for rule in saying.rules if rule in wrong]
        if spoken:
            told.append((saying, _sentence(saying, "here that holds, and yet " + ", and ".join(spoken))))
    return told


def _sentence(saying: Saying, numbers: str) -> str:
    return f"The trade says that {saying.words}; {numbers}."


def _moved(was: Finding, now: Finding) -> str:
    """How a rule's number goes the wrong way, or stays wrong; empty where it does neither."""
    if was.reading is None or now.reading is None or was.reading.at_most != now.reading.at_most:
        return ""
    first, then = was.reading.value.nominal, now.reading.value.nominal
    worse = then > first * (1 + _WORTH) if now.reading.at_most else then < first * (1 - _WORTH)
    if now.status not in WRONG or not (worse or (was.status in WRONG and not _well_on_its_way(was.reading, then))):
        return ""
    unit = now.rule.unit
    from_, to = figure(first, unit), figure(then, unit)
    name = now.rule.title.lower()
    how = f"stays at {to}" if from_ == to else f"goes {'the wrong way' if worse else 'only'} from {from_} to {to}"
    how = f"{how} {unit}"
    return f"{name} {how}{_wanted(now)}"


def _well_on_its_way(was: Reading, then: float) -> bool:
    """Whether a number has come at least half of the way to its limit, from where it was."""
    if was.limit is None or was.value.nominal == was.limit:
        return False
    return (was.value.nominal - then) / (was.value.nominal - was.limit) >= _HALF


def _stands(finding: Finding) -> str:
    assert finding.reading is not None
    value = figure(finding.reading.value.nominal, finding.rule.unit)
    return f"{finding.rule.title.lower()} is {value} {finding.rule.unit}{_wanted(finding)}"


def _wanted(finding: Finding) -> str:
    assert finding.reading is not None
    limit = finding.reading.limit
    if limit is None:
        return ""
    bound = "at most" if finding.reading.at_most else "at least"
    return f" where {bound} {figure(limit, finding.rule.unit)} {finding.rule.unit} is wanted"

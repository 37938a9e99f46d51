"""The order of advice that a person can follow: now at the press, before the next tryout, only in design."""

from __future__ import annotations

from deflect.advice.judging import WRONG
from deflect.advice.numbers import figure
from deflect.advice.trying import CLEAN, JOINED
from deflect.findings import Assessment, Finding, Outcome, Reading, Stage, Step

# Steps told of each stage: more is a list, not advice.
_A_STAGE = 2
# Share of the way to its limit by which a number must come nearer for the step to be told (ours).
_ON_ITS_WAY = 0.3
# A number that moves by less than this share has not moved (ours).
_UNMOVED = 0.02
# Numbers below this are nothing, in any unit.
_NOTHING = 1e-12


def steps(before: Assessment, outcomes: tuple[Outcome, ...]) -> tuple[Step, ...]:
    """Cleaning first, always; then, stage by stage, the remedies that cure or relieve something and harm nothing."""
    told = [_clean(before, outcomes)]
    for stage in Stage:
        here = [o for o in outcomes if o.remedy.stage is stage and o.remedy.id != CLEAN and not o.worsened]
        here = [o for o in here if not _makes_worse(before, o)]
        useful = [o for o in here if o.cured] or [o for o in here if _helps(before, o)]
        told += [_step(before, o) for o in _without_repeats(useful)[:_A_STAGE]]
    return tuple(told)


def _without_repeats(outcomes: list[Outcome]) -> list[Outcome]:
    """The outcomes that share no remedy with a better one."""
    named: set[str] = set()
    kept = []
    for outcome in outcomes:
        parts = set(outcome.remedy.id.split(JOINED))
        if not parts & named:
            named |= parts
            kept.append(outcome)
    return kept


def _clean(before: Assessment, outcomes: tuple[Outcome, ...]) -> Step:
    found = next((o for o in outcomes if o.remedy.id == CLEAN), None)
    if found is not None:
        return _step(before, found)
    return Step(
        stage=Stage.PRESS,
        remedy=CLEAN,
        title="Clean and stone table and underside",
        size="before every setting",
        why="A chip of 0.1 mm is a gap of 0.1 mm; the numbers here assume a clean table.",
        change="",
    )


def _step(before: Assessment, outcome: Outcome) -> Step:
    told = _relieved(before, outcome)
    why, change = ("It relieves what was found.", "") if told is None else _words(*told)
    return Step(
        stage=outcome.remedy.stage,
        remedy=outcome.remedy.id,
        title=outcome.remedy.title,
        size=outcome.proposal.size,
        why=why,
        change=change,
    )


def _relieved(before: Assessment, outcome: Outcome) -> tuple[Finding, Finding] | None:
    """The rule that a remedy moves most towards, or past, its limit: before and after."""
    old = {f.rule.id: f for f in before.findings if f.status in WRONG}
    best: tuple[float, tuple[Finding, Finding]] | None = None
    for now in outcome.findings:
        was = old.get(now.rule.id)
        if was is None or was.reading is None or now.reading is None:
            continue
        gain = (1.0 if now.rule.id in outcome.cured else 0.0) + _gain(was.reading, now.reading)
        if gain > 0.01 and (best is None or gain > best[0]):
            best = (gain, (was, now))
    return None if best is None else best[1]


def _makes_worse(before: Assessment, outcome: Outcome) -> bool:
    """Whether a number that stays wrong moves farther the wrong way."""
    old = {f.rule.id: f.reading for f in before.findings if f.status in WRONG}
    pairs = ((old.get(f.rule.id), f.reading) for f in outcome.findings if f.status in WRONG)
    return any(was is not None and now is not None and _gain(was, now) < -_UNMOVED for was, now in pairs)


def _helps(before: Assessment, outcome: Outcome) -> bool:
    """Whether a remedy that cures nothing takes a number well on its way: 12 strokes for 9 are no help."""
    told = _relieved(before, outcome)
    if told is None or told[0].reading is None or told[1].reading is None or told[0].reading.limit is None:
        return False
    was, now, limit = told[0].reading.value.nominal, told[1].reading.value.nominal, told[0].reading.limit
    holds = was <= limit if told[0].reading.at_most else was >= limit
    return holds or (was - now) / (was - limit) >= _ON_ITS_WAY


def _gain(was: Reading, now: Reading) -> float:
    """How far a number moves the right way, as a share of the greater of the two; negative: the wrong way."""
    first, then = was.value.nominal, now.value.nominal
    better = first - then if now.at_most else then - first
    return better / max(abs(first), abs(then), _NOTHING)


def _words(was: Finding, now: Finding) -> tuple[str, str]:
    assert was.reading is not None
    assert now.reading is not None
    unit = was.rule.unit
    wanted = was.reading.limit
    bound = "at most" if was.reading.at_most else "at least"
    limit = "" if wanted is None else f", {bound} {figure(wanted, unit)} {unit} wanted"
    why = f"{was.rule.title} is {figure(was.reading.value.nominal, unit)} {unit}{limit}: {was.rule.why}"
    after = "held" if now.reading.certain and now.rule.unit == "strokes" else figure(now.reading.value.nominal, unit)
    change = f"{was.rule.title} {figure(was.reading.value.nominal, unit)} → {after}"
    return why, change if after == "held" else f"{change} {unit}"

"""Trying remedies: every proposal is solved; what the mechanics does not confirm is not advised.

First every proposal of a remedy is solved at rest and under force, which finds its size; then each
remedy at that size with its creep; then pairs, where no single one is enough; then the best over the ranges.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import replace
from functools import cache

from deflect.advice.judging import WRONG, Progress, assess, judge_all, severity, with_old_range
from deflect.advice.registry import all_remedies
from deflect.findings import Ask, Assessment, Finding, Judged, Outcome, Proposal, Reading, Remedy, Status, Trouble
from deflect.mechanics.analysis import Analysis, analyse_without_creep
from deflect.model.case import Case
from deflect.model.values import Interval

# How many cures are solved over their ranges: the first, and the second if the first does not hold there.
MOST_CONFIRMED = 2
# The remedy that comes before all others where there is dirt below the die.
CLEAN = "clean-table"
# Between the names of two remedies that are one.
JOINED = "+"
# Draws of the ranges that confirm a cure: both corners, and a few between them.
CONFIRMING_SAMPLES = 8
# From how many of the best remedies pairs are made, and how many of the pairs are solved with their creep.
PAIRED, PAIRS = 4, 3
# Round-off of a rule's number.
_ROUND_OFF = 1e-9
# A number that a remedy moves by more than this share is worth a greater size of it.
_WORTH = 0.2


# A changed case at the usual values and at some draws of the ranges, without its creep.
Quickly = Callable[[Case, int], Assessment]


def try_remedies(before: Assessment, progress: Progress) -> tuple[Outcome, ...]:
    """Every remedy that may help, the best first; pairs where no single one is enough.

    Where there is dirt below the die it is cleaned away first, and nothing else is judged on a dirty table.
    """
    if before.analysis.case.die.placing.dirt:
        return _on_clean_table(before, progress)
    outcomes = [
        full(remedy, before, proposal) for remedy, proposal in sized_remedies(before, before.analysis, progress)
    ]
    outcomes = _confirm(sorted(outcomes, key=_rank), before, progress)
    if outcomes and not any(o.is_cure and o.confirmed for o in outcomes):
        progress("trying pairs of remedies")
        pairs = [full(remedy, before, proposal) for remedy, proposal in _pairs(outcomes, before)]
        outcomes += _confirm(sorted(pairs, key=_rank), before, progress)
    proposed = (o for o in outcomes if is_guarded(o, before) and not _does_the_opposite(o, before))
    return tuple(sorted(proposed, key=_rank))


def _does_the_opposite(outcome: Outcome, before: Assessment) -> bool:
    """Whether all that it is tried for gets worse by it: a plate below a die that is too high."""
    wrong = {f.rule.id for f in before.findings if f.status in WRONG and f.rule.trouble in outcome.remedy.cures}
    return bool(wrong) and wrong <= set(outcome.worsened)


def _on_clean_table(before: Assessment, progress: Progress) -> tuple[Outcome, ...]:
    """Cleaning, and where it is not enough the other remedies on top of it."""
    clean = next(remedy for remedy in all_remedies() if remedy.id == CLEAN)
    progress(f"trying: {clean.title.lower()}")
    first = full(clean, before, next(iter(clean.proposals(before.analysis))))
    (first,) = _confirm([first], before, progress)
    if first.is_cure and first.confirmed:
        return (first,)
    left = Assessment(first.analysis, first.findings)
    more = [
        full(combined(clean, remedy), before, _on_top(first, proposal))
        for remedy, proposal in sized_remedies(left, first.analysis, progress, frozenset((CLEAN,)))
    ]
    more = [outcome for outcome in more if is_guarded(outcome, before)]
    return (first, *_confirm(sorted(more, key=_rank), before, progress))


def is_guarded(outcome: Outcome, before: Assessment) -> bool:
    """Whether no rule that guards comes out short of its limit and worse than before: never proposed otherwise."""
    old = {f.rule.id: f for f in before.findings}
    return not any(f.rule.guards and _falls_short(f, old.get(f.rule.id)) for f in outcome.findings)


def _falls_short(now: Finding, was: Finding | None) -> bool:
    """Whether the usual value or the worse end of the range is short of the limit, and worse than it was."""
    if now.reading is None or now.reading.limit is None or was is None or was.reading is None:
        return False
    limit = replace(now.reading, value=Interval.exactly(now.reading.limit))
    ends = zip(_ends(now.reading), _ends(limit), _ends(was.reading), strict=True)
    return any(end < min(wanted, old) - _ROUND_OFF for end, wanted, old in ends)


def _ends(reading: Reading) -> tuple[float, float]:
    """The usual value and the worse end of the range, as numbers that must not fall."""
    value = reading.value
    return (-value.nominal, -value.high) if reading.at_most else (value.nominal, value.low)


def sized_remedies(
    before: Assessment, start: Analysis, progress: Progress, skip: frozenset[str] = frozenset()
) -> list[tuple[Remedy, Proposal]]:
    """Each remedy that may help with its best proposal, solved from ``start`` without creep."""
    troubles = {f.rule.trouble for f in before.findings if f.status in WRONG}
    chosen, quickly = [], _quickly(before)
    for remedy in all_remedies():
        if remedy.id in skip or not remedy.cures & troubles:
            continue
        progress(f"trying: {remedy.title.lower()}")
        proposals = list(remedy.offered(start, ask_for(remedy, before, quickly=quickly)))
        if len(proposals) == 1:
            chosen.append((remedy, proposals[0]))
        elif proposals:
            quick: list[Outcome] = []
            for proposal in proposals:
                tried = _outcome(remedy, before, proposal, quickly(proposal.case, 0), confirmed=False)
                if not is_guarded(tried, before):
                    continue
                quick.append(tried)
                if _does_its_part(tried) and not _gains(tried, before):
                    break  # the least that does what the remedy is for: greater ones need not be solved
            if quick:
                chosen.append((remedy, _least_that_cures(quick).proposal))
    return chosen


def ask_for(
    remedy: Remedy,
    before: Assessment,
    samples: int = 0,
    also: Collection[str] = (),
    quickly: Quickly | None = None,
) -> Ask:
    """How a changed case stands to the limits, for the search of a remedy's size.

    samples: draws of the ranges that are solved anew; none: the relative ranges are those of ``before``;
    also: rules that its size shall satisfy though the remedy is not for them; quickly: remembers what others asked.
    """
    solved = quickly or _quickly(before)
    old = {f.rule.id: f for f in before.findings}
    sought = {f.rule.trouble for f in before.findings if f.status in WRONG} & remedy.cures
    worst = before.analysis.creep.thrust_direction

    @cache
    def ask(case: Case) -> Judged:
        excess = harm = -1.0
        if sought == {Trouble.CREEP}:  # nothing else says how much is enough
            after = assess(case, 0, mesh_error=False, thrust_direction=worst, like=before.analysis.mesh_error)
        else:
            after = solved(case, samples)
        for finding in after.findings:
            was = old.get(finding.rule.id)
            reading = (finding if samples else with_old_range(finding, was)).reading
            if reading is None or reading.limit is None:
                continue
            wrong = was is not None and was.status in WRONG
            if wrong and (finding.rule.trouble in remedy.cures or finding.rule.id in also):
                excess = max(excess, _passes(reading, at_worst=True))
            elif severity(was) < 2:
                harm = max(harm, _passes(reading, at_worst=severity(was) == 0))
        return Judged(excess, harm)

    return ask


def _passes(reading: Reading, at_worst: bool) -> float:
    """By what share of its limit a number passes it, at the worse or at the better end of its range."""
    assert reading.limit is not None
    value, scale = reading.value, abs(reading.limit) or 1.0
    if reading.at_most:
        return ((value.high if at_worst else value.low) - reading.limit) / scale
    return (reading.limit - (value.low if at_worst else value.high)) / scale


def _does_its_part(outcome: Outcome) -> bool:
    """Whether it cures all that the remedy is for, creep apart, and harms nothing."""
    asked = {f.rule.id for f in outcome.findings if f.rule.trouble in outcome.remedy.cures}
    return bool(outcome.cured) and not asked & set(outcome.left) and not outcome.worsened


def _gains(outcome: Outcome, before: Assessment) -> bool:
    """Whether more of the same may cure what is left: the remedy moves it the right way, though it is not for it."""
    old = {f.rule.id: f.reading for f in before.findings}
    for finding in outcome.findings:
        now, was = finding.reading, old.get(finding.rule.id)
        if finding.rule.id in outcome.left and now is not None and was is not None:
            first, then = was.value.nominal, now.value.nominal
            if (then < (1 - _WORTH) * first) if now.at_most else (then * (1 - _WORTH) > first):
                return True
    return False


def _quickly(before: Assessment) -> Quickly:
    """Changed cases without their creep: the creep rule is left out unless the die is held.

    Each is solved once: what the search for a size has solved is proposed next, and every remedy asks about the case
    as it is.
    """

    @cache
    def solved(case: Case, samples: int = 0) -> Assessment:
        analysis = analyse_without_creep(case, before.analysis, samples)
        held = case.die.placing.held
        asked = (f for f in judge_all(analysis) if held or f.rule.trouble is not Trouble.CREEP)
        return Assessment(analysis, tuple(asked))

    return solved


def full(remedy: Remedy, before: Assessment, proposal: Proposal) -> Outcome:
    """A proposal solved at the usual values, with its creep."""
    after = assess(proposal.case, 0, mesh_error=False, like=before.analysis.mesh_error)
    return _outcome(remedy, before, proposal, after, confirmed=False)


def _confirm(outcomes: list[Outcome], before: Assessment, progress: Progress) -> list[Outcome]:
    """The first outcomes that cure at the usual values, solved over their ranges."""
    for k, outcome in enumerate(outcomes[:MOST_CONFIRMED]):
        if not outcome.is_cure or (k > 0 and outcomes[0].is_cure):
            break
        progress(f"over its ranges: {outcome.remedy.title.lower()}")
        outcomes[k] = _over_ranges(outcome, before)
        if not outcomes[k].is_cure and outcome.remedy.sized is not None:
            outcomes[k] = min([outcomes[k], *_sized_anew(outcomes[k], before)], key=_rank)
    return sorted(outcomes, key=_rank)


def _over_ranges(outcome: Outcome, before: Assessment) -> Outcome:
    like = before.analysis.mesh_error
    after = assess(outcome.proposal.case, CONFIRMING_SAMPLES, mesh_error=False, like=like)
    return _outcome(outcome.remedy, before, outcome.proposal, after, confirmed=True)


def _sized_anew(fell_short: Outcome, before: Assessment) -> Iterator[Outcome]:
    """The remedy at the size that its own ranges ask for: they may be wider than those of the case as it is."""
    ask = ask_for(fell_short.remedy, before, CONFIRMING_SAMPLES, fell_short.left)
    proposals = list(fell_short.remedy.offered(before.analysis, ask))
    if proposals and proposals[-1].size != fell_short.proposal.size:
        yield _over_ranges(replace(fell_short, proposal=proposals[-1]), before)


def _outcome(remedy: Remedy, before: Assessment, proposal: Proposal, after: Assessment, confirmed: bool) -> Outcome:
    """What a solved proposal cures, leaves and worsens; unconfirmed, it is judged with the ranges of before."""
    old = {f.rule.id: f for f in before.findings}
    findings: tuple[Finding, ...] = after.findings
    if not confirmed:
        findings = tuple(with_old_range(f, old.get(f.rule.id)) for f in findings)
    cured: list[str] = []
    left: list[str] = []
    worsened: list[str] = []
    for finding in findings:
        was = old.get(finding.rule.id)
        if was is not None and was.status in WRONG:
            (cured if finding.status is Status.HOLDS else left).append(finding.rule.id)
        if severity(finding) > severity(was) or _further_out(finding, was):
            worsened.append(finding.rule.id)
    asked = {f.rule.id for f in findings}
    left += [rule for rule, was in old.items() if was.status in WRONG and rule not in asked]
    return Outcome(remedy, proposal, after.analysis, findings, tuple(cured), tuple(left), tuple(worsened), confirmed)


def _further_out(now: Finding, was: Finding | None) -> bool:
    """Whether an exact number that breaks its limit already is moved farther beyond it: a shim below a die that
    is too high."""
    if was is None or was.reading is None or now.reading is None or now.status is not Status.BREAKS:
        return False
    if not (now.reading.certain and was.reading.certain and was.status is Status.BREAKS and was.reading.value.is_exact):
        return False
    first, then = was.reading.value.nominal, now.reading.value.nominal
    return now.reading.at_most == was.reading.at_most and (then > first if now.reading.at_most else then < first)


def _pairs(outcomes: Sequence[Outcome], before: Assessment) -> list[tuple[Remedy, Proposal]]:
    """The most promising pairs: a second remedy on top of each of the best, for what that one leaves."""
    found, quickly = list[Outcome](), _quickly(before)
    seen: set[frozenset[str]] = set()
    for first in [o for o in outcomes if o.cured and not o.worsened][:PAIRED]:
        left = {f.rule.trouble for f in first.findings if f.rule.id in first.left}
        # What a helper worsens alone may be what the first one mends.
        helpers = [
            o
            for o in outcomes
            if o.remedy.cures & left and o.remedy.id != first.remedy.id and set(o.worsened) <= set(first.cured)
        ]
        for other in sorted(helpers, key=lambda o: (-len(set(o.cured) & set(first.left)), strain(o)))[:PAIRED]:
            names = frozenset((first.remedy.id, other.remedy.id))
            if names in seen:
                continue
            seen.add(names)
            both = combined(first.remedy, other.remedy)
            proposals = list(other.remedy.offered(first.analysis, ask_for(both, before, quickly=quickly)))
            if proposals:
                proposal = _on_top(first, _like(other.proposal, proposals))
                found.append(_outcome(both, before, proposal, quickly(proposal.case, 0), confirmed=False))
    return [(o.remedy, o.proposal) for o in sorted(found, key=_rank)[:PAIRS]]


def _like(chosen: Proposal, proposals: Sequence[Proposal]) -> Proposal:
    """The proposal of the same size as the one that was chosen for the remedy alone, else the greatest."""
    return next((p for p in proposals if p.size == chosen.size), proposals[-1])


def _on_top(first: Outcome, proposal: Proposal) -> Proposal:
    """A proposal made for the case that ``first`` has changed already, with both sizes and hazards told."""
    hazard = " ".join(filter(None, (first.proposal.hazard, proposal.hazard)))
    return Proposal(proposal.case, f"{first.proposal.size}; and {proposal.size}", hazard)


def combined(first: Remedy, second: Remedy) -> Remedy:
    """Two remedies as one: efforts add up, drawbacks and hazards are told of both."""
    stages = list(type(first.stage))
    return Remedy(
        id=f"{first.id}{JOINED}{second.id}",
        title=f"{first.title}, and {second.title[0].lower()}{second.title[1:]}",
        cures=first.cures | second.cures,
        effort=f"{first.effort}; and {second.effort}",
        hours=first.hours + second.hours,
        stage=max(first.stage, second.stage, key=stages.index),
        who=f"{first.who}; {second.who}",
        when=f"{first.when}; and {second.when}",
        drawback=f"{first.drawback} {second.drawback}",
        hazard=f"{first.hazard} {second.hazard}",
        source=first.source,
        proposals=second.proposals,
        trade_says=first.trade_says + second.trade_says,
    )


def _least_that_cures(tried: Sequence[Outcome]) -> Outcome:
    """The first proposal that cures most and harms least; where none cures, the one that relieves most."""

    def merit(outcome: Outcome) -> tuple[int, int]:
        return (-len(outcome.worsened), len(outcome.cured))

    best = max(merit(o) for o in tried)
    equal = [o for o in tried if merit(o) == best]
    return equal[0] if equal[0].cured else min(equal, key=strain)


def strain(outcome: Outcome) -> float:
    """How far the troubles that the remedy is for still are from their limits: sum of value / limit."""
    total = 0.0
    for finding in outcome.findings:
        reading = finding.reading
        if finding.rule.trouble in outcome.remedy.cures and reading is not None and reading.limit is not None:
            value, limit = reading.value.nominal, reading.limit
            total += value / limit if reading.at_most else limit / max(value, 1.0)
    return total


def _rank(outcome: Outcome) -> tuple[int, int, float]:
    return (len(outcome.worsened) + len(outcome.left), -len(outcome.cured), outcome.remedy.hours)

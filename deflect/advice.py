"""From a case to advice: ask every rule, try every remedy, keep what the mechanics confirms."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from functools import cache
from types import ModuleType

import deflect.cautions
import deflect.remedies
import deflect.rules
from deflect.findings import (
    Advice,
    Assessment,
    Caution,
    Finding,
    NotChecked,
    Outcome,
    Reading,
    Remedy,
    Rule,
    Status,
    Trouble,
    Verdict,
    Warned,
)
from deflect.mechanics.analysis import USUAL_SAMPLES, Analysis, analyse
from deflect.model.case import Case

# Draws of the ranges for a remedy that cures at the usual values: enough to see whether it also holds at the ends.
REMEDY_SAMPLES = 8
_WRONG = (Status.BREAKS, Status.UNDECIDED)

Progress = Callable[[str], None]


def _members(package: ModuleType, name: str) -> list[object]:
    found = []
    for info in sorted(pkgutil.iter_modules(package.__path__), key=lambda i: i.name):
        found.append(getattr(importlib.import_module(f"{package.__name__}.{info.name}"), name))
    return found


@cache
def all_rules() -> tuple[Rule, ...]:
    """Every rule, in the order in which a die engineer asks."""
    order = {trouble: k for k, trouble in enumerate(Trouble)}
    rules = [r for r in _members(deflect.rules, "RULE") if isinstance(r, Rule)]
    return tuple(sorted(rules, key=lambda r: (order[r.trouble], r.id)))


@cache
def all_remedies() -> tuple[Remedy, ...]:
    """Every remedy, the quickest first."""
    remedies = [r for r in _members(deflect.remedies, "REMEDY") if isinstance(r, Remedy)]
    return tuple(sorted(remedies, key=lambda r: r.hours))


@cache
def all_cautions() -> tuple[Caution, ...]:
    """Every caution, in order."""
    cautions = [c for c in _members(deflect.cautions, "CAUTION") if isinstance(c, Caution)]
    return tuple(sorted(cautions, key=lambda c: c.order))


def judge(rule: Rule, analysis: Analysis) -> Finding | None:
    """Ask one rule; None where it does not apply."""
    answer = rule.measure(analysis)
    if isinstance(answer, NotChecked):
        return Finding(rule, Status.NOT_CHECKED, None, answer.reason) if answer.applies else None
    return Finding(rule, _status(answer), answer)


def _status(reading: Reading) -> Status:
    if reading.limit is None:
        return Status.REPORTED
    best, worst = (reading.value.low, reading.value.high) if reading.at_most else (-reading.value.high, -reading.value.low)
    limit = reading.limit if reading.at_most else -reading.limit
    if worst <= limit:
        return Status.HOLDS
    return Status.BREAKS if best > limit else Status.UNDECIDED


def assess(case: Case, samples: int = USUAL_SAMPLES, mesh_error: bool = True) -> Assessment:
    """Analyse a case and ask every rule."""
    analysis = analyse(case, samples, mesh_error)
    asked = (judge(rule, analysis) for rule in all_rules())
    return Assessment(analysis, tuple(f for f in asked if f is not None))


def cautions(analysis: Analysis) -> tuple[Warned, ...]:
    """All cautions of a case: never none."""
    return tuple(c.say(analysis) for c in all_cautions())


def advise(case: Case, samples: int = USUAL_SAMPLES, progress: Progress = lambda _: None) -> Advice:
    """Check a case, try the remedies for what is wrong, and say what it comes to."""
    progress("solving the case and its ranges")
    before = assess(case, samples)
    outcomes = _try_remedies(before, progress)
    verdict, reasons = _verdict(before, outcomes)
    return Advice(
        verdict=verdict,
        reasons=reasons,
        assessment=before,
        outcomes=outcomes,
        cautions=cautions(before.analysis),
        deciders=_deciders(before),
    )


def _try_remedies(before: Assessment, progress: Progress) -> tuple[Outcome, ...]:
    troubles = {f.rule.trouble for f in before.findings if f.status in _WRONG}
    outcomes = []
    for remedy in all_remedies():
        if not remedy.cures & troubles:
            continue
        progress(f"trying: {remedy.title.lower()}")
        tried = [_outcome(remedy, before, proposal) for proposal in remedy.proposals(before.analysis)]
        if tried:
            outcomes.append(_least_that_cures(remedy, tried))
    return tuple(sorted(outcomes, key=_rank))


def _outcome(remedy: Remedy, before: Assessment, proposal: object) -> Outcome:
    from deflect.findings import Proposal

    assert isinstance(proposal, Proposal)
    after = assess(proposal.case, REMEDY_SAMPLES, mesh_error=False)
    old = {f.rule.id: f for f in before.findings}
    cured, left, worsened = [], [], []
    for finding in after.findings:
        was = old[finding.rule.id]
        if was.status in _WRONG and finding.status is Status.HOLDS:
            cured.append(finding.rule.id)
        elif was.status in _WRONG:
            left.append(finding.rule.id)
        if _severity(finding) > _severity(was):
            worsened.append(finding.rule.id)
    return Outcome(remedy, proposal, after.analysis, after.findings, tuple(cured), tuple(left), tuple(worsened))


def _severity(finding: Finding) -> int:
    return {Status.BREAKS: 2, Status.UNDECIDED: 1}.get(finding.status, 0)


def _least_that_cures(remedy: Remedy, tried: list[Outcome]) -> Outcome:
    """The first proposal that cures most of what the remedy is for, without new harm if one such is there."""

    def merit(outcome: Outcome) -> tuple[int, int]:
        return (-len(outcome.worsened), sum(1 for f in outcome.findings if f.rule.id in outcome.cured))

    best = max(merit(o) for o in tried)
    return next(o for o in tried if merit(o) == best)


def _rank(outcome: Outcome) -> tuple[int, int, float]:
    return (len(outcome.worsened) + len(outcome.left), -len(outcome.cured), outcome.remedy.hours)


def _verdict(before: Assessment, outcomes: tuple[Outcome, ...]) -> tuple[Verdict, tuple[str, ...]]:
    broken = [f for f in before.findings if f.status is Status.BREAKS]
    open_ones = [f for f in before.findings if f.status is Status.UNDECIDED]
    reasons = [f"{f.rule.title} {f.status.value}" for f in (*broken, *open_ones)]
    reasons += [f"{f.rule.title} not checked: {f.reason}" for f in before.findings if f.status is Status.NOT_CHECKED]
    if not broken and not open_ones:
        return Verdict.FIT, tuple(reasons)
    cure = next((o for o in outcomes if o.is_cure), None)
    if cure is not None:
        return Verdict.WITH_MEASURES, (f"{cure.remedy.title}: {cure.proposal.size}", *reasons)
    if broken:
        return Verdict.NOT_FIT, tuple(reasons)
    return Verdict.UNDECIDED, tuple(reasons)


def _deciders(before: Assessment) -> tuple[str, ...]:
    """Inputs that move the headline numbers of the undecided rules most."""
    headline = {
        Trouble.SAG: "sag_slope",
        Trouble.GAP: "gap",
        Trouble.ROCKING: "contact_share",
        Trouble.FACE: "face",
        Trouble.CREEP: "creep",
        Trouble.MATCHING: "face",
    }
    drivers = dict(before.analysis.spread.drivers)
    wanted = [headline.get(f.rule.trouble) for f in before.findings if f.status is Status.UNDECIDED]
    return tuple(dict.fromkeys(drivers[key] for key in wanted if key in drivers))

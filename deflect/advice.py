"""From a case to advice: ask every rule, try every remedy, keep what the mechanics confirms."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable
from dataclasses import replace
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
    Proposal,
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
from deflect.model.values import Interval

# Draws of the ranges for the best remedies: the same draws as for the case itself, so that both compare.
REMEDY_SAMPLES = USUAL_SAMPLES
# How many remedies are solved over their ranges: the first, and the second where the first is no cure.
MOST_CONFIRMED = 2
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
    best, worst = (
        (reading.value.low, reading.value.high) if reading.at_most else (-reading.value.high, -reading.value.low)
    )
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
    """Every remedy that may help, solved at the usual values; the best of them over the ranges too."""
    troubles = {f.rule.trouble for f in before.findings if f.status in _WRONG}
    outcomes = []
    for remedy in all_remedies():
        if not remedy.cures & troubles:
            continue
        progress(f"trying: {remedy.title.lower()}")
        tried = [_outcome(remedy, before, proposal, samples=0) for proposal in remedy.proposals(before.analysis)]
        if tried:
            outcomes.append(_least_that_cures(tried))
    outcomes.sort(key=_rank)
    for k, outcome in enumerate(outcomes[:MOST_CONFIRMED]):
        if k > 0 and outcomes[0].is_cure:
            break
        progress(f"over its ranges: {outcome.remedy.title.lower()}")
        outcomes[k] = _outcome(outcome.remedy, before, outcome.proposal, REMEDY_SAMPLES)
    return tuple(sorted(outcomes, key=_rank))


def _outcome(remedy: Remedy, before: Assessment, proposal: Proposal, samples: int) -> Outcome:
    """Solve a proposal; without samples its findings are judged by how far they stood from their limits before."""
    after = assess(proposal.case, samples, mesh_error=False)
    findings = after.findings
    old = {f.rule.id: f for f in before.findings}
    if samples == 0:
        findings = tuple(_with_old_range(f, old.get(f.rule.id)) for f in findings)
    cured, left, worsened = [], [], []
    for finding in findings:
        was = old.get(finding.rule.id)
        wrong_before = was is not None and was.status in _WRONG
        if wrong_before and finding.status not in _WRONG:
            cured.append(finding.rule.id)
        elif wrong_before:
            left.append(finding.rule.id)
        if _severity(finding) > (0 if was is None else _severity(was)):
            worsened.append(finding.rule.id)
    return Outcome(
        remedy, proposal, after.analysis, findings, tuple(cured), tuple(left), tuple(worsened), confirmed=samples > 0
    )


def _with_old_range(finding: Finding, was: Finding | None) -> Finding:
    """A finding at the usual values, judged with the relative range that the rule had before."""
    if finding.reading is None or was is None or was.reading is None or finding.reading.certain:
        return finding
    old, now = was.reading.value, finding.reading.value.nominal
    if old.is_exact or old.nominal <= 0 or now <= 0:
        return finding
    value = Interval(now * old.low / old.nominal, now, now * old.high / old.nominal)
    reading = replace(finding.reading, value=value)
    return Finding(finding.rule, _status(reading), reading, finding.reason)


def _severity(finding: Finding) -> int:
    return {Status.BREAKS: 2, Status.UNDECIDED: 1}.get(finding.status, 0)


def _least_that_cures(tried: list[Outcome]) -> Outcome:
    """The first proposal that cures most and harms least; where none cures, the one that relieves most."""

    def merit(outcome: Outcome) -> tuple[int, int]:
        return (-len(outcome.worsened), len(outcome.cured))

    best = max(merit(o) for o in tried)
    equal = [o for o in tried if merit(o) == best]
    return equal[0] if equal[0].cured else min(equal, key=_strain)


def _strain(outcome: Outcome) -> float:
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


def _verdict(before: Assessment, outcomes: tuple[Outcome, ...]) -> tuple[Verdict, tuple[str, ...]]:
    broken = [f for f in before.findings if f.status is Status.BREAKS]
    open_ones = [f for f in before.findings if f.status is Status.UNDECIDED]
    reasons = [f"{f.rule.title} {f.status.value}" for f in (*broken, *open_ones)]
    reasons += [f"{f.rule.title} not checked: {f.reason}" for f in before.findings if f.status is Status.NOT_CHECKED]
    if not broken and not open_ones:
        return Verdict.FIT, tuple(reasons)
    cure = next((o for o in outcomes if o.is_cure and o.confirmed), None)
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

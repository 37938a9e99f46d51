"""From a case to advice: ask every rule, try every remedy, keep what the mechanics confirms.

assess(case) asks the rules; advise(case) also tries the remedies, orders them and names what would decide.
"""

from __future__ import annotations

from dataclasses import replace

from deflect.advice.deciding import measurements
from deflect.advice.judging import Progress, assess, cautions, judge
from deflect.advice.missing import missing_inputs, unasked
from deflect.advice.registry import all_cautions, all_remedies, all_rules
from deflect.advice.sayings import against_trade
from deflect.advice.steps import steps
from deflect.advice.together import Excluded, joined, together
from deflect.advice.trying import try_remedies
from deflect.advice.unmended import unmended
from deflect.findings import Advice, Assessment, Outcome, Status, Verdict
from deflect.mechanics.analysis import USUAL_SAMPLES
from deflect.mechanics.side_by_side import side_by_side
from deflect.model.case import Case
from deflect.sizing.lighter_ribs import lighter_ribs

__all__ = [
    "Excluded",
    "advise",
    "advise_on",
    "all_cautions",
    "all_remedies",
    "all_rules",
    "assess",
    "cautions",
    "compare_with_solids",
    "joined",
    "judge",
    "together",
]


def advise(case: Case, samples: int = USUAL_SAMPLES, progress: Progress = lambda _: None) -> Advice:
    """Check a case, try the remedies for what is wrong, and say what it comes to."""
    progress("solving the case and its ranges")
    return advise_on(assess(case, samples), progress)


def advise_on(before: Assessment, progress: Progress = lambda _: None) -> Advice:
    """The same for a case whose rules were asked already."""
    outcomes = try_remedies(before, progress)
    progress("asking what would decide")
    verdict, reasons = _verdict(before, outcomes)
    order = steps(before, outcomes)
    taken = {step.remedy for step in order}
    deciders = (*measurements(before), *missing_inputs(before))
    return Advice(
        verdict=verdict,
        reasons=reasons,
        assessment=before,
        outcomes=outcomes,
        cautions=cautions(before.analysis),
        deciders=tuple(d.uncertain for d in deciders),
        measurements=deciders,
        steps=order,
        against_trade=against_trade(before, tuple(sorted(outcomes, key=lambda o: o.remedy.id not in taken))),
        unmended=unmended(before, outcomes),
        lighter=lighter_ribs(before.analysis),
    )


def compare_with_solids(advice: Advice, progress: Progress = lambda _: None) -> Advice:
    """The same advice with its case solved as three-dimensional solids beside it, at the usual values.

    Verdict and remedies stay those of the plates.  Raises MechanicsFailed where solids cannot take the case.
    """
    solution = advice.assessment.analysis.solution
    return replace(advice, side_by_side=side_by_side(solution.case, solution.assumptions, progress))


def _verdict(before: Assessment, outcomes: tuple[Outcome, ...]) -> tuple[Verdict, tuple[str, ...]]:
    broken = [f for f in before.findings if f.status is Status.BREAKS]
    open_ones = [f for f in before.findings if f.status is Status.UNDECIDED]
    reasons = [f"{f.rule.title}: {f.status.value}" for f in (*broken, *open_ones)]
    reasons += [f"{f.rule.title} not checked: {f.reason}" for f in before.findings if f.status is Status.NOT_CHECKED]
    if not broken and not open_ones:
        return (Verdict.UNDECIDED if unasked(before) else Verdict.FIT), tuple(reasons)
    cure = next((o for o in outcomes if o.is_cure and o.confirmed), None)
    if cure is not None:
        return Verdict.WITH_MEASURES, (f"with: {cure.remedy.title}: {cure.proposal.size}", *reasons)
    if broken:
        return Verdict.NOT_FIT, tuple(reasons)
    return Verdict.UNDECIDED, tuple(reasons)

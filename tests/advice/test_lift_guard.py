"""No advice leaves the lower half held down less well than it must be, or less well than before."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deflect.advice import advise, all_rules
from deflect.advice.trying import is_guarded
from deflect.findings import Advice, Assessment, Finding, Outcome, Reading, Status
from deflect.mechanics.lift_off import lift_off
from deflect.model.case import Case
from deflect.model.values import Interval

PICK_UP = next(rule for rule in all_rules() if rule.id == "pick-up")


def tight(case: Case, required: float, clamps: int = 4, guides: float | None = None) -> Case:
    """The case with another required reserve, fewer clamps, and guides that pull."""
    pull = case.die.lift_off.guides if guides is None else Interval(0.0, guides, guides)
    lift = replace(case.die.lift_off, required=required, guides=pull)
    placing = replace(case.die.placing, clamps=case.die.placing.clamps[:clamps])
    return replace(case, die=replace(case.die, lift_off=lift, placing=placing))


def never_less(advice: Advice) -> None:
    """Every outcome keeps the required reserve, or the one before where that was short of it."""
    before = lift_off(advice.assessment.analysis.case)
    for outcome in advice.outcomes:
        after = lift_off(outcome.proposal.case)
        assert after.reserve.low >= min(before.required, before.reserve.low) * (1 - 1e-9), outcome.remedy.id
        assert after.reserve.nominal >= min(before.required, before.reserve.nominal) * (1 - 1e-9), outcome.remedy.id
        assert "pick-up" not in outcome.worsened


@pytest.mark.usefixtures("coarse")
def test_a_remedy_that_takes_weight_below_the_requirement_is_not_proposed(rowan: Case) -> None:
    """A lighter base relieves the gap; where the reserve just suffices, it is left out, and it is there otherwise."""
    just_enough = lift_off(rowan).reserve.low * 0.999
    free = advise(rowan, samples=0)
    bound = advise(tight(rowan, required=just_enough), samples=0)
    never_less(free)
    never_less(bound)
    lighter = {"compliant-base"}
    assert lighter & {o.remedy.id for o in free.outcomes}
    assert not lighter & {part for o in bound.outcomes for part in o.remedy.id.split("+")}


@pytest.mark.usefixtures("coarse")
def test_a_key_is_proposed_to_a_loose_die_only_with_clamps(maple: Case) -> None:
    """Keyed without clamps, a pull above its weight would lift it: the key comes together with clamps."""
    loose = tight(maple, required=1.5, clamps=0, guides=100e3)
    placing = replace(loose.die.placing, keyed=False)
    matching = replace(loose.die.matching, stated=False)
    advice = advise(replace(loose, die=replace(loose.die, placing=placing, matching=matching)), samples=0)
    never_less(advice)
    told = {o.remedy.id for o in advice.outcomes}
    assert "more-clamps" in told
    assert not told & {"key", "cones"}
    assert any(set(one.split("+")) & {"key", "cones"} and "more-clamps" in one for one in told)


@pytest.mark.usefixtures("coarse")
def test_clamps_cure_a_short_reserve(rowan: Case) -> None:
    advice = advise(tight(rowan, required=1.5, guides=200e3), samples=0)
    never_less(advice)
    clamped = next(o for o in advice.outcomes if o.remedy.id == "more-clamps")
    assert "pick-up" in clamped.cured
    assert lift_off(clamped.proposal.case).reserve.low >= 1.5


def reading(low: float, usual: float, limit: float = 1.5) -> Reading:
    return Reading(Interval(low, usual, 100.0), limit, at_most=False, certain=True)


@pytest.mark.parametrize(
    ("was", "now", "kept"),
    [
        ((2.0, 4.0), (1.6, 3.0), True),  # less, and still enough
        ((2.0, 4.0), (1.4, 3.0), False),  # short of it at worst
        ((1.2, 4.0), (1.2, 4.0), True),  # short before, no worse
        ((1.2, 4.0), (1.3, 3.5), True),  # better at worst, enough at the usual values
        ((1.2, 4.0), (1.1, 4.0), False),  # short before, and worse
        ((1.2, 1.4), (1.3, 1.3), False),  # better at worst, worse at the usual values
    ],
)
def test_either_end_of_the_reserve_is_guarded(
    rowan_advice: Advice, was: tuple[float, float], now: tuple[float, float], kept: bool
) -> None:
    one: Outcome = rowan_advice.outcomes[0]
    before = Assessment(
        rowan_advice.assessment.analysis, (Finding(PICK_UP, Status.UNDECIDED, reading(*was)),)
    )  # fmt: skip
    after = replace(one, findings=(Finding(PICK_UP, Status.UNDECIDED, reading(*now)),))
    assert is_guarded(after, before) is kept


def test_a_rule_that_does_not_guard_bars_nothing(rowan_advice: Advice) -> None:
    one = rowan_advice.outcomes[0]
    loose = replace(PICK_UP, guards=False)
    before = Assessment(rowan_advice.assessment.analysis, (Finding(loose, Status.HOLDS, reading(2.0, 4.0)),))
    assert is_guarded(replace(one, findings=(Finding(loose, Status.BREAKS, reading(0.1, 0.2)),)), before)

"""Inputs that are missing: what would decide is named, and what is said of each outcome is what the rule then says."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from deflect.advice import advise, all_rules, judge
from deflect.advice.missing import INPUTS, missing_inputs
from deflect.findings import Assessment, Finding, Measurement, Status, Verdict
from deflect.mechanics.analysis import Analysis, analyse
from deflect.model.case import Case
from deflect.model.press import Slide

Change = Callable[[Case], Case]


@pytest.fixture(scope="module")
def analysis(maple: Case) -> Analysis:
    return analyse(maple, samples=0, mesh_error=False, thrust_direction=0.0)


def press(**changes: object) -> Change:
    return lambda case: replace(case, press=replace(case.press, **changes))  # type: ignore[arg-type]


def die(**changes: object) -> Change:
    return lambda case: replace(case, die=replace(case.die, **changes))  # type: ignore[arg-type]


def bolster(**changes: object) -> Change:
    return lambda case: press(bolster=replace(case.press.bolster, **changes))(case)


def slide(**changes: object) -> Change:
    return lambda case: press(slide=replace(case.press.slide or Slide(), **changes))(case)


def flange(half: str, **changes: object) -> Change:
    def change(case: Case) -> Case:
        part = getattr(case.die, half)
        return die(**{half: replace(part, flange=replace(part.flange, **changes))})(case)

    return change


def closed(height: float) -> Change:
    return lambda case: die(overlap=case.die.lower.height + case.die.upper.height - height)(case)


def asked(rule_id: str, change: Change, analysis: Analysis) -> Finding:
    rule = next(rule for rule in all_rules() if rule.id == rule_id)
    finding = judge(rule, replace(analysis, case=change(analysis.case)))
    assert finding is not None
    return finding


def told(rule_id: str, change: Change, analysis: Analysis) -> Measurement:
    finding = asked(rule_id, change, analysis)
    assert finding.status is Status.NOT_CHECKED
    without = replace(analysis, case=change(analysis.case))
    (one,) = missing_inputs(Assessment(without, (finding,)))
    return one


def figures(words: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+(?:\.\d+)?", words.split(":")[0])]


# Rule, the input taken away, and the input given back as a figure of what is told.
GIVEN_BACK: list[tuple[str, Change, Callable[[float], Change]]] = [
    ("closed-height", die(overlap=None), closed),
    ("closed-height", press(shut_height=None), lambda mm: press(shut_height=mm)),
    ("closed-height", press(slide_adjustment=None), lambda mm: press(slide_adjustment=mm)),
    ("mass-on-bolster", bolster(permitted_mass=None), lambda t: bolster(permitted_mass=1e3 * t)),
    ("mass-on-slide", slide(permitted_mass=None), lambda t: slide(permitted_mass=1e3 * t)),
    ("lower-flange", flange("lower", thickness=None), lambda mm: flange("lower", thickness=mm)),
    ("upper-flange", flange("upper", thickness=None), lambda mm: flange("upper", thickness=mm)),
    ("upper-on-slide", slide(length=None), lambda mm: slide(length=mm)),
    ("force-over-height", die(force_height=None), lambda mm: die(force_height=mm)),
]  # fmt: skip
# How far beyond a figure that is told the rule must break: figures are rounded.
BEYOND = 0.02


@pytest.mark.parametrize(("rule", "take", "give"), GIVEN_BACK, ids=lambda one: one if isinstance(one, str) else "")
def test_what_is_told_of_each_outcome_is_what_the_rule_says(
    rule: str, take: Change, give: Callable[[float], Change], analysis: Analysis
) -> None:
    one = told(rule, take, analysis)
    assert one.at_low.endswith("holds")
    assert one.at_high.endswith("breaks")
    first = figures(one.at_low)
    bounds = first[:1] if rule in ("mass-on-bolster", "mass-on-slide", "upper-on-slide") else first
    for bound in bounds:
        inside, outside = (
            asked(rule, give(bound * (1 + share)), analysis).status is Status.HOLDS for share in (-BEYOND, BEYOND)
        )
        assert inside is not outside, (rule, bound)


def test_every_input_that_a_rule_may_miss_is_explained(maple: Case, analysis: Analysis) -> None:
    """A case with nothing stated misses every optional input of the mounting rules."""
    bare = die(overlap=None, force_height=None, cushion_pins=None, cushion_force=1e5, sheet=None)(
        press(shut_height=None, slide_adjustment=None, slide=None, force_over_height=())(
            bolster(t_slots=None, permitted_mass=None, pin_field=None)(maple)
        )
    )
    for half in ("lower", "upper"):
        bare = die(**{half: replace(getattr(bare.die, half), flange=None)})(bare)
    named = set()
    for rule in all_rules():
        finding = judge(rule, replace(analysis, case=bare))
        if finding is not None and finding.status is Status.NOT_CHECKED:
            named |= set(finding.missing)
    assert named <= set(INPUTS)
    assert len(named) >= 15


def test_no_more_than_two_are_told_in_full(analysis: Analysis) -> None:
    case = die(overlap=None, force_height=None)(bolster(permitted_mass=None)(analysis.case))
    without = replace(analysis, case=case)
    findings = tuple(f for f in (judge(rule, without) for rule in all_rules()) if f is not None)
    assert [m.rule for m in missing_inputs(Assessment(without, findings))] == ["closed-height", "mass-on-bolster"]


def test_a_missing_input_that_decides_leaves_the_case_undecided(maple: Case) -> None:
    advice = advise(press(shut_height=None)(maple), samples=0)
    assert advice.verdict is Verdict.UNDECIDED
    assert advice.deciders == ("shut height of the press",)
    assert "Press card" in advice.measurements[0].how


def test_the_press_s_own_acceptance_figure_decides_on_no_die(maple: Case) -> None:
    assert advise(press(acceptance=None)(maple), samples=0).verdict is Verdict.FIT

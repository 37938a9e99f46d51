"""Lift balance, cut and match in the report and in the JSON: words and numbers as the mechanics has them."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from deflect.findings import Advice
from deflect.mechanics.lift_off import lift_off
from deflect.mechanics.matching import budget
from deflect.model.die import Operation
from deflect.model.matching import Fitted
from deflect.model.values import Interval
from deflect.report import wording
from deflect.report.data import as_json
from deflect.report.sections import lift_off as lift_section
from deflect.report.sections import matching as match_section


def with_die(advice: Advice, **changes: object) -> Advice:
    analysis = advice.assessment.analysis
    case = replace(analysis.case, die=replace(analysis.case.die, **changes))  # type: ignore[arg-type]
    return replace(advice, assessment=replace(advice.assessment, analysis=replace(analysis, case=case)))


def told(fragment: str) -> str:
    plain = re.sub(r"<[^>]+>", " ", fragment).replace("&#39;", "'")
    return re.sub(r" ([.,;:])", r"\1", " ".join(plain.split()))


def matched(advice: Advice, **changes: object) -> Advice:
    return with_die(advice, matching=replace(advice.assessment.analysis.case.die.matching, **changes))  # type: ignore[arg-type]


def test_the_balance_is_told_line_by_line_and_drawn(advice: Advice) -> None:
    found = lift_off(advice.assessment.analysis.case)
    page = lift_section.fragment(advice)
    words = told(page)
    for one in (*found.pulls, *found.holds):
        assert words.count(one.source) >= 2  # in the drawing and in the table
        assert one.how in words
    for line in ("all that pulls", "all that holds", "Who would be hurt.", "What to do.", "352.8 kN", "1.5 times"):
        assert line in words
    assert "It has 4 clamps, fewer than the 6 that are asked for." in words
    assert "Set the 6 clamps that are asked for" in words
    assert "springs back with about 1.32 MN (15 % of the working force)" in words
    assert page.count("<svg") == 1


def test_a_short_reserve_says_how_much_more_holds(advice: Advice) -> None:
    die = advice.assessment.analysis.case.die
    lift = replace(
        die.lift_off, stripping=Interval.exactly(0.0), suction=Interval.exactly(0.0), guides=Interval(0, 0, 400e3)
    )
    words = told(lift_section.fragment(with_die(advice, lift_off=lift)))
    assert "Hold it down with 247.2 kN more to reach 1.5 times at worst" in words  # 1.5 x 400 - 352.8
    assert "what can pull hardest: seized guides, up to 400 kN" in words


@pytest.mark.parametrize(("held", "said"), [("keyed", "they hold nothing down"), ("coned", "it lifts off them freely")])
def test_what_holds_sideways_is_said_not_to_hold_down(advice: Advice, held: str, said: str) -> None:
    die = advice.assessment.analysis.case.die
    placing = replace(die.placing, clamps=(), **{held: True})
    lift = replace(die.lift_off, guides=Interval(0, 0, 400e3))
    words = told(lift_section.fragment(with_die(advice, placing=placing, lift_off=lift)))
    assert said in words
    assert "Clamp this half before the first stroke" in words


def test_a_reserve_without_end_is_not_told_as_a_hundred_times() -> None:
    assert wording.figure(100.0, "times") == "100 or more times"
    assert wording.figure(2.61, "times") == "2.6 times"


def test_the_cut_is_told_with_its_force_and_its_clearance(advice: Advice) -> None:
    words = told(match_section.fragment(advice))
    assert "The cut of 6248 mm asks for 7.798 MN with sharp edges, 9.358 MN with dull ones (up to 10.137 MN)" in words
    assert "8.8 MN are stated." in words
    assert "Clearance a side 230 µm to 250 µm." in words
    assert "too small" not in words
    assert "the working force in the case file is too small" in told(
        match_section.fragment(with_die(advice, working_force=7e6))
    )


def test_a_cut_that_is_not_known_says_so(advice: Advice) -> None:
    die = advice.assessment.analysis.case.die
    words = told(match_section.fragment(with_die(advice, cutting=replace(die.cutting, length=None))))
    assert "The shear force is not known" in words
    words = told(match_section.fragment(with_die(advice, operation=Operation.FORM)))
    assert "stated not to cut" in words


def test_the_budget_is_told_line_by_line_with_both_sums(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    words = told(match_section.fragment(advice))
    for line in budget(analysis).lines:
        assert line.cause.value in words
        assert line.how in words
    assert "root of the sum of squares, which counts" in words
    assert "worst case" in words
    assert "every value below is assumed, and no rule judges the sum" in words
    assert "assumed" not in told(match_section.fragment(matched(advice, stated=True)))


def test_the_dominating_line_chooses_what_a_toolmaker_does(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    held = replace(advice, assessment=replace(advice.assessment, analysis=replace(
        analysis, creep=replace(analysis.creep, held=True))))  # fmt: skip
    hot = matched(held, swing=Interval.exactly(20.0), length=2000.0)
    words = told(match_section.fragment(hot))
    assert "Thermal growth of the die dominates. Finish the critical line in one short pass at one temperature" in words
    assert "In one pass of 1 h die and machine grow by" in words
    loose = matched(held, key_play=Interval.exactly(0.9))
    assert "Play of what holds the die dominates. Fit keys or cones with less play" in told(
        match_section.fragment(loose)
    )
    walking = told(match_section.fragment(matched(advice, strokes=100_000)))
    assert "Creep until the next setting dominates. Hold the die by keys or cones" in walking
    assert "Creep alone uses up 15 µm within" in walking


def test_whether_the_target_can_be_measured_is_said(advice: Advice) -> None:
    given = advice.assessment.analysis.case.die.matching
    fine = replace(given.measuring, a=Interval.exactly(0.001), k=Interval.exactly(1e6))
    assert "The match can be measured: the uncertainty of 3.2 µm is no more than a third of 15 µm." in told(
        match_section.fragment(matched(advice, measuring=fine))
    )
    assert "cannot be measured by these means: their uncertainty of 16.2 µm" in told(match_section.fragment(advice))


def test_what_fitting_takes_out_is_named(advice: Advice) -> None:
    words = told(match_section.fragment(matched(advice, fitted=Fitted.IN_THE_PRESS)))
    assert "Taken out by fitting in the press: bending under force, thermal growth of the die" in words


def test_the_json_has_the_same_sums(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    data = as_json(advice)
    lift, found = data["lift_off"], lift_off(analysis.case)
    assert lift["holding_kN"]["usual"] == pytest.approx(found.holding.nominal / 1e3, rel=1e-5)
    assert sum(one["force_kN"]["high"] for one in lift["pulls"]) == pytest.approx(found.pull.high / 1e3, rel=1e-5)
    assert lift["reserve_times"]["low"] == pytest.approx(found.reserve.low, rel=1e-5)
    assert data["shear_force"]["sharp_edges_kN"]["usual"] == pytest.approx(7797.97, rel=1e-5)
    assert data["clearance"]["least_um"] == pytest.approx(230.0)
    match, sums = data["matching"], budget(analysis)
    assert match["root_sum_square_um"]["usual"] == pytest.approx(sums.root_sum_square.nominal * 1e3, rel=1e-5)
    assert match["worst_case_um"]["usual"] == pytest.approx(sums.worst.nominal * 1e3, rel=1e-5)
    assert match["can_be_measured"] is False
    assert match["is_stated"] is False


def test_a_die_that_does_not_cut_has_no_cut_in_the_json(advice: Advice) -> None:
    data = as_json(with_die(advice, operation=Operation.FORM))
    assert data["shear_force"] is None
    assert data["clearance"] is None

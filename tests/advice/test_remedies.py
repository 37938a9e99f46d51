"""Remedies are solved anew, cautions are always said, the verdict follows from the findings."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deflect.advice import all_cautions, all_remedies, assess, cautions
from deflect.findings import Advice, Assessment, Outcome, Status, Trouble, Verdict
from deflect.mechanics.analysis import analyse
from deflect.mechanics.keeping import forget
from deflect.model.case import Case


def outcome(advice: Advice, remedy: str) -> Outcome:
    return next(o for o in advice.outcomes if o.remedy.id == remedy)


def test_the_trim_die_does_not_fit_as_it_stands(rowan_advice: Advice) -> None:
    assert rowan_advice.verdict is not Verdict.FIT
    wrong = {f.rule.id for f in rowan_advice.assessment.findings if f.status in (Status.BREAKS, Status.UNDECIDED)}
    assert {"creep", "gap"} <= wrong


def test_the_restrike_die_fits(maple_assessment: Assessment) -> None:
    """Its upper half is not described, so that nobody can say how the halves close."""
    assert {f.rule.id for f in maple_assessment.findings if f.status is not Status.HOLDS} == {"closure"}


def test_every_outcome_equals_a_fresh_check_of_the_changed_case(rowan_advice: Advice) -> None:
    assert len(rowan_advice.outcomes) > 5
    forget()  # fresh: no body, contact or march of the advice is there to be found again
    for tried in rowan_advice.outcomes:
        fresh = analyse(tried.proposal.case, samples=0, mesh_error=False)
        for read in (
            lambda a: a.solution.greatest_gap,
            lambda a: a.solution.contact_share,
            lambda a: a.face.error_range,
            lambda a: a.creep.free,
            lambda a: a.solution.sag.slope,
        ):
            assert read(tried.analysis) == pytest.approx(read(fresh), rel=1e-9), tried.remedy.id


def test_a_key_stops_the_walk_and_nothing_else(rowan_advice: Advice) -> None:
    keyed = outcome(rowan_advice, "key")
    before = rowan_advice.assessment.analysis.on_usual_mesh
    assert keyed.cured == ("creep",)
    assert keyed.analysis.solution.greatest_gap == pytest.approx(before.solution.greatest_gap, rel=1e-12)
    # What is shown: put right by the finest mesh, of both alike.
    shown = rowan_advice.assessment.analysis.spread.gap.nominal
    assert keyed.analysis.spread.gap.nominal == pytest.approx(shown, rel=1e-12)
    assert shown == pytest.approx(rowan_advice.assessment.analysis.solution.greatest_gap, rel=1e-12)
    assert "picked up" in keyed.remedy.hazard


def test_a_thicker_base_flattens_the_face_and_opens_the_gap(rowan: Case) -> None:
    """Common practice, no source: what stiffens the die makes it bridge the sagging table."""
    thin = analyse(rowan.with_base_thickness(300.0), samples=0, mesh_error=False)
    thick = analyse(rowan.with_base_thickness(500.0), samples=0, mesh_error=False)
    assert thick.face.error_range < thin.face.error_range
    assert thick.solution.greatest_gap > thin.solution.greatest_gap


def test_thickness_carries_mass_and_height(rowan: Case) -> None:
    changed = rowan.with_base_thickness(rowan.die.base.thickness + 100.0)
    base = rowan.die.base
    extra = base.length * base.width * 100.0 * base.material.density
    assert changed.die.lower.mass - rowan.die.lower.mass == pytest.approx(extra)
    assert changed.die.lower.height - rowan.die.lower.height == pytest.approx(100.0)


def test_shims_fill_the_gap_that_they_lie_in(rowan_advice: Advice) -> None:
    shimmed = outcome(rowan_advice, "shims")
    assert shimmed.proposal.case.die.placing.shims
    assert shimmed.analysis.solution.greatest_gap < rowan_advice.assessment.analysis.solution.greatest_gap
    assert "captive" in shimmed.remedy.hazard


def test_a_shim_as_thick_as_a_sheet_lifts_the_die_off_the_rest(maple: Case) -> None:
    from deflect.model.die import Shim
    from deflect.model.values import Rectangle

    shim = Shim(Rectangle(0, 0, 400, 400), 1.0)
    lifted = replace(maple, die=replace(maple.die, placing=replace(maple.die.placing, shims=(shim,))))
    solution = analyse(lifted, samples=0, mesh_error=False).solution
    assert solution.contact_share < 0.2
    assert solution.greatest_gap > 0.3


def test_remedies_are_tried_only_for_what_they_cure(rowan_advice: Advice) -> None:
    troubles = {f.rule.trouble for f in rowan_advice.assessment.findings if f.status is not Status.HOLDS}
    for tried in rowan_advice.outcomes:
        assert tried.remedy.cures & troubles


def test_remedies_say_effort_drawback_and_hazard() -> None:
    for remedy in all_remedies():
        for text in (remedy.effort, remedy.who, remedy.when, remedy.drawback, remedy.hazard):
            assert len(text) > 5, remedy.id
        assert remedy.cures <= set(Trouble)


def test_cautions_are_always_said(rowan_advice: Advice, maple_assessment: Assessment) -> None:
    expected = {"lifting", "lifting-points", "turning", "pick-up", "die-blocks", "energy", "snap-through"}
    assert {c.id for c in all_cautions()} == expected
    for warned in (rowan_advice.cautions, cautions(maple_assessment.analysis)):
        assert {w.id for w in warned} == expected
        assert all(w.words and w.defer for w in warned)


def test_a_keyed_die_hears_that_keys_do_not_hold_it_down(maple_assessment: Assessment) -> None:
    words = " ".join(w for c in cautions(maple_assessment.analysis) if c.id == "pick-up" for w in c.words)
    assert "do not hold it down" in words


def test_the_verdict_of_undecided_names_what_would_decide(rowan: Case) -> None:
    """A land stiffness anywhere between soft and hard leaves the gap open: the land is named."""
    from deflect.advice import advise
    from deflect.model.press import Land
    from deflect.model.values import Interval

    bed = replace(rowan.press.bed, land=Land(Interval(5.0, 60.0, 700.0), "unknown"))
    advice = advise(replace(rowan, press=replace(rowan.press, bed=bed)))
    gap = next(f for f in advice.assessment.findings if f.rule.id == "gap")
    assert gap.status is Status.UNDECIDED
    assert "land stiffness" in advice.deciders


@pytest.mark.usefixtures("coarse")
def test_assessment_is_deterministic(maple: Case) -> None:
    first, second = assess(maple), assess(maple)
    assert first.analysis.spread == second.analysis.spread

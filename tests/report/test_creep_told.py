"""What is told of creep over the strokes, and of what holds the die."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from told_cases import creeping

from deflect.casefile import read_case
from deflect.findings import Advice, Analysis
from deflect.mechanics.analysis import analyse
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.holders import seats_of
from deflect.mechanics.meeting import Meeting
from deflect.mechanics.slipping import slipping_of
from deflect.mechanics.thrust import Leanings, side_thrust
from deflect.model.holder import LocatingCone
from deflect.model.values import Interval
from deflect.report import document, holding, strokes
from deflect.report.data import as_json
from deflect.report.headlines import headlines
from deflect.report.sections import creep as creep_section
from deflect.report.sections import holders as holders_section


def words(advice: Advice, section: str) -> str:
    """A section's text on one line."""
    page = document.document(advice)
    begin = page.index(f'<section id="{section}">')
    return " ".join(page[begin : page.index("</section>", begin)].split())


def told_of(advice: Advice, analysis: Analysis) -> Advice:
    return replace(advice, assessment=replace(advice.assessment, analysis=analysis), outcomes=())


@pytest.fixture(scope="module")
def sliding(advice: Advice) -> Advice:
    """The trim die on a table so slippery that friction does not hold it."""
    return told_of(advice, slippery(keyed=False))


def slippery(keyed: bool) -> Analysis:
    case = read_case("rowan-trim", "alder-10mn")
    placing = replace(case.die.placing, keyed=keyed)
    press = replace(case.press, friction=Interval(0.001, 0.002, 0.003))
    die = replace(case.die, placing=placing, side_thrust=Interval(0.03, 0.05, 0.06))
    return analyse(replace(case, die=die, press=press), samples=2, mesh_error=False)


def test_keys_take_the_thrust_that_friction_does_not_hold(advice: Advice) -> None:
    analysis = slippery(keyed=True)
    assert analysis.creep.march.slides
    told = as_json(told_of(advice, analysis))["holders"]
    taken = [one["holder_force_kN"]["usual"] for one in told if one["kind"] == "key"]
    # 5 % of 8.8 MN, less what friction, at most 0.002 of it, and the clamps' bolts take.
    assert 300.0 < max(taken) < 440.0


# ---- sliding of the patches


def test_the_patch_that_slides_most_is_the_one_of_the_march(advice: Advice) -> None:
    creep = advice.assessment.analysis.creep
    slipping = slipping_of(creep.course, creep.march)
    assert slipping is not None
    # The march counts from the state before the stroke, this from the shift per stroke: steady to a thousandth.
    assert slipping.slid.max() == pytest.approx(creep.march.breathing_slip, rel=1e-3)
    assert len(slipping.slid) == advice.assessment.analysis.solution.bears.sum()
    assert ((slipping.sticks >= 0) & (slipping.sticks <= 1 + 1e-12)).all()


def test_a_patch_slides_at_least_as_far_as_the_die_creeps(advice: Advice) -> None:
    creep = advice.assessment.analysis.creep
    slipping = slipping_of(creep.course, creep.march)
    assert slipping is not None
    assert slipping.slid.min() >= creep.free * (1 - 1e-6)


# ---- strokes


def test_strokes_are_listed_from_none_to_the_last(advice: Advice) -> None:
    counts = strokes.listed_strokes()
    assert (counts[0], counts[-1]) == (0, strokes.TOLD_STROKES)
    assert (np.diff(counts) >= 1).all()
    assert len(counts) < 30


def test_the_path_is_the_marched_one_and_goes_straight_on(advice: Advice) -> None:
    march = advice.assessment.analysis.creep.march
    assert strokes.places_after(march, march.at) == pytest.approx(march.path, abs=1e-15)
    last, more = strokes.places_after(march, march.at[-1] + np.array([0.0, 7.0]))
    assert more - last == pytest.approx(7 * march.shift, abs=1e-15)


def test_strokes_are_told_at_5_50_and_95_per_cent_of_the_draws(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    assert [(one.percent, one.strokes) for one in strokes.reached(analysis)] == [(5, 9), (50, 61), (95, 700)]
    assert (
        strokes.reached_told(analysis)
        == "of the draws 5 % within 9 strokes, 50 % within 61 strokes, 95 % within 700 strokes"
    )
    met = (Meeting("guide 1 touches", 3.2), Meeting("half of the cutting clearance is used up", math.inf))
    some = replace(analysis, spread=replace(analysis.spread, met=met))
    assert (
        strokes.reached_told(some) == "of the draws 5 % within 3 strokes, 50 % within 3 strokes, fewer than 95 % ever"
    )
    text = words(told_of(advice, some), "creep")
    assert "guide 1 touches" in text
    assert "fewer of them ever meet anything" in text
    none = replace(analysis, spread=replace(analysis.spread, met=(), drivers=(), seconds=()))
    assert (strokes.reached(none), strokes.reached_told(none), strokes.driven_by(none, "creep")) == ((), "", "")


def test_one_or_two_drivers_are_told(advice: Advice) -> None:
    assert strokes.driven_by(advice.assessment.analysis, "creep") == "friction and side thrust"
    assert strokes.driven_by(advice.assessment.analysis, "gap") == "stiffness of the land"
    assert "is mostly friction and side thrust." in words(advice, "creep")


def test_the_limit_is_told_with_what_is_met(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    number = next(n for n in headlines(analysis, ()) if n.key == "strokes_to_tolerance")
    assert number.where == "half of the cutting clearance is used up"
    still = creeping(analysis, 0.0)
    still = replace(
        still, spread=replace(still.spread, strokes=Interval.exactly(math.inf), creep=Interval.exactly(0.0))
    )
    assert strokes.met(still) == strokes.NOTHING_MET
    assert "At the usual values it meets nothing" in words(told_of(advice, still), "creep")


def test_a_turn_is_told_with_its_way(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    assert strokes.turn_told(analysis) == ""
    for turn, told in ((7.5e-6, "7.5 µrad anticlockwise"), (-2e-6, "2.0 µrad clockwise")):
        march = replace(analysis.creep.march, shift=np.array([0.0, 0.002, turn]))
        turned = replace(analysis, creep=replace(analysis.creep, march=march))
        assert strokes.turn_told(turned) == told
        assert f"and turns by {told}" in words(told_of(advice, turned), "creep")


# ---- side thrust


def test_the_sources_of_the_side_thrust_add_up(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    case = analysis.case
    found = strokes.sources(analysis)
    full = case.base_force + case.die.lower.mass * GRAVITY
    whole = side_thrust(analysis.creep.drives, Leanings.of(case), full, case.base_force, 0.0)
    # All parts of this die push the same way.
    assert sum(one.force.nominal for one in found) == pytest.approx(float(np.hypot(*whole[:2])), rel=1e-9)
    by_name = {one.name: one for one in found}
    assert by_name["side thrust"].force.nominal == pytest.approx(0.005 * case.base_force)
    assert by_name["one-sided cutting"].input == "nothing is cut along an open line"
    assert by_name["force off the press's centre"].input == "the force acts at the press's centre"


def test_a_stated_side_thrust_is_told_as_stated_and_what_it_counts() -> None:
    analysis = analyse(read_case("elder-offset", "alder-10mn"), samples=0, mesh_error=False)
    told = {one.name: one.input for one in strokes.sources(analysis)}
    assert told["side thrust"] == "die.side_thrust, stated"
    assert told["one-sided cutting"] == "counted in the side thrust that is stated"


def test_a_die_that_creeps_against_its_thrust_is_told_so(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    drives = replace(analysis.creep.drives, direction=-math.pi / 2)
    against = replace(analysis, creep=replace(analysis.creep, drives=drives))
    assert "That is against the side thrust, which pushes to −90°" in words(told_of(advice, against), "creep")
    assert "against" not in words(advice, "creep")


# ---- what holds it


def test_clamps_alone_get_one_line(advice: Advice) -> None:
    text = words(advice, "holders")
    assert "Nothing but its 4 clamps holds the die" in text
    assert "<table>" not in text


def test_nothing_is_shown_where_nothing_holds(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    placing = replace(analysis.case.die.placing, clamps=())
    case = replace(analysis.case, die=replace(analysis.case.die, placing=placing))
    text = words(told_of(advice, replace(analysis, case=case, held=None)), "holders")
    assert "Friction alone holds the die" in text


def test_keys_are_told_with_place_force_and_reserve(keyed: Advice) -> None:
    analysis = keyed.assessment.analysis
    parts = holding.holdings(analysis)
    assert [part.holder.kind for part in parts] == ["clamp"] * 4 + ["key"] * 3
    text = words(keyed, "holders")
    for part in parts:
        assert part.holder.name in text
    assert {part.way for part in parts[4:]} == {"left to right only", "front to rear only"}
    cross = parts[-1]
    assert cross.force is not None
    assert cross.capacity is not None
    assert cross.force.low <= cross.force.nominal <= cross.force.high
    assert cross.reserve == pytest.approx(1 - cross.force.high / cross.capacity)
    assert "at every stroke, of 144 kN that it may take" in cross.told


def test_straps_take_no_more_than_they_slip_at(keyed: Advice) -> None:
    for part in holding.holdings(keyed.assessment.analysis):
        if part.holder.kind == "clamp":
            assert part.force is not None
            assert part.force.high <= part.holder.limit * (1 + 1e-9)
            assert not replace(part, force=Interval.exactly(2 * part.holder.limit)).overrun


def test_a_key_far_out_that_takes_most_is_told_to_come_nearer(keyed: Advice) -> None:
    analysis = keyed.assessment.analysis
    parts = holding.holdings(analysis)
    assert holding.too_far_out(analysis, parts) == ""
    far = replace(parts[-1], force=Interval.exactly(2e5), distance=900.0, breathing=0.08)
    told = holding.too_far_out(analysis, (*parts[:-1], far))
    assert told == (
        "key 3 takes most: it stands 900 mm from the neutral point and blocks the breathing there. "
        "Nearer to the middle it takes less."
    )
    assert far.overrun
    within = replace(far, breathing=0.03)
    assert holding.too_far_out(analysis, (*parts[:-1], within)) == ""


def test_an_open_end_of_the_range_is_told(keyed: Advice) -> None:
    analysis = keyed.assessment.analysis
    assert holding.beyond(analysis) == ""
    wide = replace(analysis.spread, creep=Interval(0.0, 0.002, 10.0))
    assert holding.beyond(replace(analysis, spread=wide)).startswith("At an end of the ranges")


def test_a_die_that_slides_away_has_no_number(sliding: Advice) -> None:
    analysis = sliding.assessment.analysis
    assert analysis.creep.march.slides
    number = next(n for n in headlines(analysis, ()) if n.key == "creep_um_per_stroke")
    assert number.shown == "slides away"
    assert "no shift per stroke can be told" in words(sliding, "creep")
    text = words(sliding, "holders")
    assert "what its parts would take is withheld" in text
    data = as_json(sliding)
    assert data["creep"]["slides_away"] is True
    assert data["creep"]["shift_y_um"] is None
    assert data["creep"]["path_free"] == []
    assert all(one["holder_force_kN"] is None for one in data["holders"])
    assert "withheld" in data["holders"][0]["note"]
    assert data["headlines"]["creep_um_per_stroke"]["usual"] is None


# ---- JSON


def test_json_tells_path_meeting_and_slip(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    told = as_json(advice)["creep"]
    last = told["path_free"][-1]
    assert last["strokes"] == strokes.TOLD_STROKES
    assert last["shift_y_um"] == pytest.approx(strokes.TOLD_STROKES * told["shift_y_um"], rel=0.05)
    assert told["path_held"][-1]["shift_y_um"] < last["shift_y_um"]
    assert told["meeting"]["what"] == analysis.met.what
    assert [one["draws_percent"] for one in told["meeting_of_draws"]] == [5, 50, 95]
    assert len(told["slip"]["patches"]) == analysis.solution.bears.sum()


def test_json_tells_every_holder(keyed: Advice) -> None:
    told = as_json(keyed)["holders"]
    assert [one["holder"] for one in told][-3:] == ["key 1", "key 2", "key 3"]
    assert told[-1]["capacity_kN"] == 144


def test_sections_stand_one_after_the_other() -> None:
    assert creep_section.ORDER < holders_section.ORDER


def test_a_cone_that_stands_too_high_is_told_with_what_it_carries(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    assert holding.seats(analysis) == ()
    cones = (LocatingCone(-900.0, 0.0, seat_error=0.02), LocatingCone(900.0, 0.0, floats=0.0))
    placing = replace(analysis.case.die.placing, keyed=False, keys=(), coned=True, cones=cones)
    coned = replace(analysis, case=replace(analysis.case, die=replace(analysis.case.die, placing=placing)))
    (told,) = holding.seats(coned)
    assert told.startswith("cone 1 stands too high for the base")
    # Of its own stiffness, about 0.12 MN/mm, times 0.02 mm before the base sits, and a little of all the rest.
    assert 2e3 < seats_of(coned.case)["cone 1"].force < 2e4
    assert "cone 2" not in seats_of(coned.case)

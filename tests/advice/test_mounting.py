"""Whether a die goes in at all: heights, plans, slots, pins, masses and forces, followed by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from deflect.advice import advise, all_rules, judge
from deflect.findings import Analysis, Finding, Reading, Status, Verdict
from deflect.mechanics.analysis import analyse
from deflect.mechanics.mounting import clamping, hole_lines, permitted_force, pin_misses, reaches
from deflect.model.case import Case
from deflect.model.die import Half, Placing, Shim
from deflect.model.press import BOLT_OF_THROAT, Bolster, ForceAtHeight, PinField, SubPlate, TSlots
from deflect.model.values import Rectangle

ROOM = Rectangle(0.0, 0.0, 4000.0, 2200.0)
QUARTER = math.pi / 2


@pytest.fixture(scope="module")
def solved(maple: Case) -> Analysis:
    return analyse(maple, samples=0, mesh_error=False, thrust_direction=0.0)


def asked(rule_id: str, case: Case, solved: Analysis) -> Finding:
    """A rule that looks at nothing but the case."""
    finding = judge(next(r for r in all_rules() if r.id == rule_id), replace(solved, case=case))
    assert finding is not None
    return finding


# ---- heights


def test_closed_height_follows_base_and_shims(rowan: Case) -> None:
    """1145 mm as the file says; a base 100 mm thicker and a shim of 0.25 mm add to it."""
    assert rowan.closed_height == 1145.0
    thicker = rowan.with_base_thickness(rowan.die.base.thickness + 100.0)
    assert thicker.closed_height == 1245.0
    shims = (Shim(Rectangle(0, 0, 400, 400), 0.25), Shim(Rectangle(500, 0, 400, 400), 0.05))
    shimmed = replace(thicker.die, placing=replace(thicker.die.placing, shims=shims))
    assert replace(thicker, die=shimmed).closed_height == 1245.25


def test_a_sub_plate_takes_height_and_counts_as_mass(rowan: Case, solved: Analysis) -> None:
    """2.7 x 1.5 m of 100 mm steel: 1145 + 100 mm, and 11.5 + 8.5 + 3.18 t."""
    bolster = rowan.press.bolster
    plate = SubPlate(Rectangle(0, 0, 2700, 1500), 100.0, bolster.material)
    raised = replace(rowan, press=replace(rowan.press, bolster=replace(bolster, sub_plate=plate)))
    assert raised.closed_height == 1245.0
    mass = asked("mass-on-bolster", raised, solved).value
    assert mass is not None
    assert mass.nominal == pytest.approx(20.0 + 2.7 * 1.5 * 0.1 * 7.85)


def test_closed_height_follows_any_change_of_a_half(rowan: Case) -> None:
    lower = replace(rowan.die.lower, height=rowan.die.lower.height + 60.0)
    assert replace(rowan.die, lower=lower).closed_height == 1205.0


def test_closed_height_is_none_where_it_is_not_stated(rowan: Case) -> None:
    assert replace(rowan, die=replace(rowan.die, overlap=None)).closed_height is None


def test_a_remedy_may_make_the_die_too_high(rowan: Case, solved: Analysis) -> None:
    assert asked("closed-height", rowan.with_base_thickness(550.0), solved).status is Status.HOLDS
    finding = asked("closed-height", rowan.with_base_thickness(560.0), solved)
    assert finding.status is Status.BREAKS
    assert (finding.reading.value.nominal, finding.limit) == (1255.0, 1250.0)  # type: ignore[union-attr]


def test_a_die_may_be_too_low(rowan: Case, solved: Analysis) -> None:
    low = rowan.with_base_thickness(154.0)
    assert low.closed_height == 849.0
    finding = asked("closed-height", low, solved)
    assert (finding.status, finding.limit) == (Status.BREAKS, 850.0)


def test_too_high_is_too_high_whatever_the_adjustment(rowan: Case, solved: Analysis) -> None:
    press = replace(rowan.press, shut_height=1144.0, slide_adjustment=None)
    assert asked("closed-height", replace(rowan, press=press), solved).status is Status.BREAKS


def test_heights_carry_no_round_off(rowan: Case, solved: Analysis) -> None:
    """1145 + 0.2 + 0.15 mm is more than 1145.35 mm in binary, and 1250.4 - 400.1 mm more than 850.3 mm."""
    shims = (Shim(Rectangle(0, 0, 400, 400), 0.15),)
    die = replace(rowan.die, placing=replace(rowan.die.placing, shims=shims))
    high = Case(replace(rowan.press, shut_height=1145.35), die).with_base_thickness(450.2)
    assert asked("closed-height", high, solved).status is Status.HOLDS
    low = Case(replace(rowan.press, shut_height=1250.4, slide_adjustment=400.1), rowan.die)
    assert asked("closed-height", low.with_base_thickness(450.0 - 294.7), solved).status is Status.HOLDS


@pytest.mark.parametrize(
    ("value", "limit", "at_most", "status"),
    [
        (39.0, 40.0, False, Status.BREAKS),
        (40.0, 40.0, False, Status.HOLDS),
        (64.0, 40.0, False, Status.HOLDS),
        (66.0, 90.0, True, Status.HOLDS),
        (90.0, 90.0, True, Status.HOLDS),
        (91.0, 90.0, True, Status.BREAKS),
    ],
)
def test_a_number_between_two_limits_is_read_against_the_nearer(
    value: float, limit: float, at_most: bool, status: Status, maple: Case, solved: Analysis
) -> None:
    reading = Reading.between(value, 40.0, 90.0)
    assert (reading.limit, reading.at_most, reading.certain) == (limit, at_most, True)
    flange = replace(maple.die.lower.flange, thickness=value)  # type: ignore[type-var]
    die = replace(maple.die, lower=replace(maple.die.lower, flange=flange))
    assert asked("lower-flange", replace(maple, die=die), solved).status is status


# ---- plans


def test_reach_over_the_edges() -> None:
    """A plan of 2800 x 1500 set 700 mm to the right: 100 mm over the right edge, 350 mm left at the front."""
    over = reaches(Placing(x=700.0), Rectangle(0, 0, 2800, 1500), ROOM)
    assert over == pytest.approx({"left": -1300.0, "right": 100.0, "front": -350.0, "back": -350.0})


def test_a_turned_plan_reaches_elsewhere() -> None:
    over = reaches(Placing(rotation=QUARTER), Rectangle(0, 0, 2800, 1500), ROOM)
    assert over == pytest.approx({"left": -1250.0, "right": -1250.0, "front": 300.0, "back": 300.0})


def test_the_upper_half_may_be_larger_than_the_base(maple: Case, solved: Analysis) -> None:
    """The slide is 4100 mm long: an upper half of 4102 mm reaches 1 mm over each end."""
    upper = replace(maple.die.upper, length=4102.0)
    finding = asked("upper-on-slide", replace(maple, die=replace(maple.die, upper=upper)), solved)
    assert finding.status is Status.BREAKS
    assert finding.value is not None
    assert finding.value.nominal == pytest.approx(1.0)


# ---- clamping slots

SLOTS = tuple((x, y) for x in (-1000.0, -600.0, 600.0, 1000.0) for y in (-560.0, 560.0))


@pytest.mark.parametrize(
    ("placing", "t_slots", "met"),
    [
        (Placing(), TSlots(36.0, 200.0, "y", 0.0), 8),
        (Placing(), TSlots(36.0, 300.0, "y", 0.0), 4),
        (Placing(), TSlots(36.0, 200.0, "y", 50.0), 0),
        (Placing(x=50.0), TSlots(36.0, 200.0, "y", 50.0), 8),
        (Placing(), TSlots(36.0, 560.0, "x", 0.0), 8),
        (Placing(x=3.0), TSlots(36.0, 200.0, "y", 0.0), 8),  # half of 36 - 30 mm
        (Placing(x=3.1), TSlots(36.0, 200.0, "y", 0.0), 0),
        (Placing(rotation=QUARTER), TSlots(36.0, 200.0, "x", 0.0), 8),  # turned with the slots
        (Placing(rotation=QUARTER), TSlots(36.0, 200.0, "y", 0.0), 0),  # x = -560, 560 now
        (Placing(rotation=math.pi), TSlots(36.0, 200.0, "y", 0.0), 8),
        (Placing(), TSlots(42.0, 200.0, "y", 0.0), 8),  # bolts of 36 mm in slots of 36 mm
        (Placing(), TSlots(48.0, 200.0, "y", 0.0), 0),  # bolts of 42 mm do not go through
        (Placing(), TSlots(48.0, 200.0, "y", 0.0, bolt=30.0), 8),
        (Placing(x=1200.0), TSlots(36.0, 200.0, "y", 0.0), 6),  # two stand off the table
    ],
)
def test_slots_that_meet(placing: Placing, t_slots: TSlots, met: int) -> None:
    assert clamping(placing, SLOTS, 36.0, t_slots, ROOM).met == met


def test_there_is_no_t_slot_in_a_cut_out() -> None:
    cut = Rectangle(1000.0, 560.0, 300.0, 300.0)
    assert clamping(Placing(), SLOTS, 36.0, TSlots(36.0, 200.0, "y", 0.0), ROOM, (cut,)).met == 7


def test_there_is_no_t_slot_beyond_the_last() -> None:
    """Lines at … 1690, 1890 mm; one at 2090 mm would be off the table of 4000 mm."""
    slots = TSlots(36.0, 200.0, "y", 90.0)
    assert clamping(Placing(), ((1985.0, 0.0), (1999.0, 0.0)), 300.0, slots, ROOM).missed_by == (95.0, math.inf)


def test_bolts_of_t_slots_bs_2485() -> None:
    """BS 2485 (published): throats of 22, 28, 36, 42 mm take M20, M24, M30, M36."""
    assert [TSlots(width, 200.0, "y", 0.0).bolt_diameter for width in (22.0, 28.0, 36.0, 42.0)] == [20, 24, 30, 36]
    assert TSlots(41.0, 200.0, "y", 0.0).bolt_diameter == 30.0
    assert list(BOLT_OF_THROAT) == sorted(BOLT_OF_THROAT)


def test_the_maker_may_ask_for_more_than_four_clamps(maple: Case, solved: Analysis) -> None:
    for asked_for, status in ((0, Status.HOLDS), (8, Status.HOLDS), (9, Status.BREAKS)):
        case = replace(maple, press=replace(maple.press, clamps_required=asked_for))
        finding = asked("clamps-on-slide", case, solved)
        assert (finding.status, finding.limit) == (status, max(4, asked_for))


# ---- cushion pins

FIELD = PinField(150.0, 50.0, Rectangle(0.0, 0.0, 2100.0, 900.0))


def test_whole_cells_stand_in_the_middle_of_the_region() -> None:
    """2100 mm hold 14 cells of 150 mm, 900 mm hold 6: holes at 75, 225 … 975 and at 75, 225, 375 mm."""
    assert hole_lines(FIELD, True) == pytest.approx(np.arange(-975.0, 976.0, 150.0))
    assert hole_lines(FIELD, False) == pytest.approx([-375.0, -225.0, -75.0, 75.0, 225.0, 375.0])


def test_a_stated_hole_places_the_grid() -> None:
    """A hole on the middle: the next at 150 … 900 mm; at 1050 mm it would lie half outside the region."""
    assert hole_lines(replace(FIELD, hole=(0.0, 0.0)), True) == pytest.approx(np.arange(-900.0, 901.0, 150.0))
    assert hole_lines(replace(FIELD, hole=(3000.0, 75.0)), False) == pytest.approx(np.arange(-375.0, 376.0, 150.0))


def test_pins_by_hand(maple: Case) -> None:
    bolster: Bolster = maple.press.bolster
    pins = ((75.0, 75.0), (78.0, 79.0), (1125.0, 375.0))
    assert pin_misses(Placing(), pins, bolster, FIELD) == pytest.approx([0.0, 5.0, 150.0])
    assert pin_misses(Placing(rotation=QUARTER), pins, bolster, FIELD) == pytest.approx([0.0, 5.0, 750.0])
    assert pin_misses(Placing(x=40.0), pins[:1], bolster, FIELD) == pytest.approx([40.0])
    cut = replace(bolster, openings=(Rectangle(1125.0, 375.0, 100.0, 100.0),))
    assert pin_misses(Placing(), pins, cut, FIELD) == pytest.approx([0.0, 5.0, 0.0])


def test_a_region_without_a_whole_hole_is_told(maple: Case, solved: Analysis) -> None:
    field = replace(FIELD, region=Rectangle(0.0, 0.0, 100.0, 900.0))
    press = replace(maple.press, bolster=replace(maple.press.bolster, pin_field=field))
    finding = asked("cushion-pins", Case(press, replace(maple.die, cushion_pins=((0.0, 0.0),))), solved)
    assert finding.status is Status.NOT_CHECKED
    assert "press.bolster.pin_holes" in finding.reason


def test_a_die_that_needs_no_pins_is_not_asked(maple: Case, solved: Analysis) -> None:
    rule = next(r for r in all_rules() if r.id == "cushion-pins")
    for pins, force in ((None, 0.0), ((), 0.0), ((), 1e6)):
        case = replace(maple, die=replace(maple.die, cushion_pins=pins, cushion_force=force))
        assert judge(rule, replace(solved, case=case)) is None


# ---- masses and forces


def test_an_estimated_mass_may_leave_it_open(maple: Case, solved: Analysis) -> None:
    """An estimate of 9.2 t stands for 7.8 to 10.6 t (2.2 to 3.0 where 2.6 t/m3 are taken)."""
    upper = Half(450.0, 9200.0, mass_is_estimated=True)
    case = replace(maple, die=replace(maple.die, upper=upper))
    for permitted, status in ((7.7e3, Status.BREAKS), (10.0e3, Status.UNDECIDED), (10.7e3, Status.HOLDS)):
        slide = replace(maple.press.slide, permitted_mass=permitted)  # type: ignore[type-var]
        finding = asked("mass-on-slide", replace(case, press=replace(case.press, slide=slide)), solved)
        assert finding.status is status
        assert finding.reading is not None
        assert "weigh it" in finding.reading.note


CURVE = (ForceAtHeight(7.0, 10e6), ForceAtHeight(13.0, 7e6), ForceAtHeight(25.0, 4e6))


@pytest.mark.parametrize(
    ("height", "force"), [(0.0, 10e6), (7.0, 10e6), (9.0, 9e6), (13.0, 7e6), (19.0, 5.5e6), (25.0, 4e6), (25.1, None)]
)
def test_permitted_force_lies_straight_between_points(height: float, force: float | None) -> None:
    assert permitted_force(CURVE, height) == (None if force is None else pytest.approx(force))


def test_beyond_the_curve_only_what_is_certain_is_said(maple: Case, solved: Analysis) -> None:
    """Above 25 mm no more than 4 MN can be permitted: 2.5 MN may be right, 4.1 MN cannot."""
    press = replace(maple.press, force_over_height=CURVE)
    for force, status in ((2.5e6, Status.NOT_CHECKED), (4.1e6, Status.BREAKS)):
        die = replace(maple.die, force_height=30.0, working_force=force)
        assert asked("force-over-height", Case(press, die), solved).status is status


# ---- what the demo scenario shows


def test_elder_tells_what_is_not_stated_of_it() -> None:
    from deflect.casefile import read_case

    elder = analyse(read_case("elder-offset", "alder-10mn"), samples=0, mesh_error=False, thrust_direction=0.0)
    findings = [f for f in (judge(rule, elder) for rule in all_rules()) if f is not None]
    open_ones = {f.rule.id for f in findings if f.status is Status.NOT_CHECKED}
    assert open_ones == {"clamps-on-slide", "upper-flange", "force-over-height"}


def test_not_checked_stands_beside_the_verdict(maple: Case) -> None:
    advice = advise(replace(maple, die=replace(maple.die, overlap=None)), samples=0)
    assert advice.verdict is Verdict.UNDECIDED
    assert advice.reasons == (
        "Closed height not checked: die.closed_height is missing",
        "Faces close not checked: die.upper.base is missing",
    )

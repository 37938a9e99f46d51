"""Every rule: one case that breaks it, one that holds it, and its words."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from deflect.advice import all_rules, assess, judge
from deflect.findings import Analysis, Finding, NotChecked, Reading, Rule, Status, Trouble
from deflect.mechanics.analysis import analyse
from deflect.model.case import Case
from deflect.model.die import Bedded, BlankHolder, Limits, Operation
from deflect.model.force import Patch
from deflect.model.holder import Key, Seat
from deflect.model.matching import Fitted
from deflect.model.press import Acceptance, ForceAtHeight, TSlots
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.ring import Carried
from deflect.model.values import Interval, Rectangle
from deflect.sources import PRACTICE

Change = Callable[[Case], Case]


def die(**changes: object) -> Change:
    return lambda case: replace(case, die=replace(case.die, **changes))  # type: ignore[arg-type]


def press(**changes: object) -> Change:
    return lambda case: replace(case, press=replace(case.press, **changes))  # type: ignore[arg-type]


def base(**changes: object) -> Change:
    return lambda case: replace(case, die=replace(case.die, base=replace(case.die.base, **changes)))  # type: ignore[arg-type]


def placing(**changes: object) -> Change:
    return lambda case: replace(case, die=replace(case.die, placing=replace(case.die.placing, **changes)))  # type: ignore[arg-type]


def bolster(**changes: object) -> Change:
    def change(case: Case) -> Case:
        return replace(case, press=replace(case.press, bolster=replace(case.press.bolster, **changes)))  # type: ignore[arg-type]

    return change


def slide(**changes: object) -> Change:
    def change(case: Case) -> Case:
        assert case.press.slide is not None
        return replace(case, press=replace(case.press, slide=replace(case.press.slide, **changes)))  # type: ignore[arg-type]

    return change


def half(which: str, **changes: object) -> Change:
    return lambda case: die(**{which: replace(getattr(case.die, which), **changes)})(case)


def flange(which: str, **changes: object) -> Change:
    return lambda case: half(which, flange=replace(getattr(case.die, which).flange, **changes))(case)


def holding(case: Case, thickness: float) -> Case:
    """The case as a draw die with a blank holder of some thickness on a cushion."""
    ring = BlankHolder(2600.0, 1200.0, 200.0, thickness, case.die.base.material)
    return die(operation=Operation.DRAW, cushion_force=1e6, blank_holder=ring)(case)


def both_halves(case: Case) -> Case:
    """The case with an upper base like the lower one; the slide of its press is described already."""
    return half("upper", base=case.die.base)(case)


def ringed(case: Case, thickness: float, **carried: object) -> Case:
    """A draw die of both halves with a blank holder on 22 pins."""
    pins = tuple((-700.0 + 200 * k, y) for y in (-400.0, 400.0) for k in range(8)) + tuple(
        (x, y) for x in (-700.0, 700.0) for y in (-200.0, 0.0, 200.0)
    )
    ring = BlankHolder(1400.0, 800.0, 200.0, thickness, case.die.base.material, Carried(4e5, **carried))  # type: ignore[arg-type]
    draw = die(operation=Operation.DRAW, cushion_force=1e6, cushion_pins=pins, blank_holder=ring)
    return both_halves(draw(case))


def lift(**changes: object) -> Change:
    return lambda case: die(lift_off=replace(case.die.lift_off, **changes))(case)  # type: ignore[arg-type]


def matching(**changes: object) -> Change:
    return lambda case: die(matching=replace(case.die.matching, **changes))(case)  # type: ignore[arg-type]


def weak(material: object) -> object:
    return replace(material, permitted_stress=1.0)  # type: ignore[type-var]


# Two on each of two T-slots, which run along y.
FOUR_KEYS = tuple(Key(x, y, math.pi / 2) for x in (-600.0, 600.0) for y in (-500.0, 500.0))

# The usual keys of the trim die, of something as soft as putty.
SOFT_KEYS = tuple(
    Key(x, y, slot, Seat.KEYWAY, pressure=1e-3)
    for x, y, slot in ((0.0, -420.0, math.pi / 2), (0.0, 420.0, math.pi / 2), (100.0, 0.0, 0.0))
)

# The case that breaks each rule: a change of the demo case that fits ("maple") or of the trim die ("rowan").
BREAKS: dict[str, tuple[str, Change]] = {
    "rated-force": ("maple", lambda c: replace(c, press=replace(c.press, rated_force=0.9 * c.die.working_force))),
    "acceptance": ("maple", press(acceptance=Acceptance(1e-5, 0.6, 2520.0, 1380.0))),
    "table-sag": ("maple", press(acceptance=Acceptance(1e-6, 0.6, 2520.0, 1380.0))),
    "gap": ("rowan", bolster(dish=0.5)),
    "contact": ("rowan", bolster(dish=0.5)),
    "face": ("maple", die(limits=Limits(0.001, 0.001, 0.015))),
    "cutting-clearance": ("rowan", base(thickness=70.0)),
    "creep": ("rowan", lambda c: c),
    "force-offset": ("maple", press(permitted_offset=(1.0, 1.0))),
    "bearing-pressure": ("maple", base(bearing=(Rectangle(-1600, 0, 40, 300), Rectangle(1600, 0, 40, 300)))),
    "base-stress": ("maple", lambda c: base(material=weak(c.die.base.material))(c)),
    "bolster-stress": ("maple", lambda c: bolster(material=weak(c.press.bolster.material))(c)),
    "closed-height": ("maple", press(shut_height=949.0)),
    "base-on-bolster": ("maple", placing(x=401.0)),
    "upper-on-slide": ("maple", slide(length=3398.0)),
    "clamps-on-bolster": ("maple", bolster(t_slots=TSlots(36.0, 250.0, "y", 0.0))),
    "clamps-on-slide": ("maple", slide(t_slots=TSlots(54.0, 300.0, "y", 0.0))),
    "lower-flange": ("maple", flange("lower", thickness=120.0)),
    "upper-flange": ("maple", flange("upper", thickness=30.0)),
    "cushion-pins": ("maple", die(cushion_pins=((75.0, 75.0), (115.0, 75.0)))),
    "mass-on-bolster": ("maple", bolster(permitted_mass=19.6e3)),
    "mass-on-slide": ("maple", slide(permitted_mass=9.1e3)),
    "crane-capacity": ("maple", press(crane_capacity=10e3)),
    "force-over-height": ("maple", press(force_over_height=(ForceAtHeight(3.0, 2.6e6), ForceAtHeight(5.0, 2.2e6)))),
    "blank-holder": ("maple", lambda c: holding(c, 900.0)),
    "as-closed": ("maple", lambda c: both_halves(die(limits=Limits(0.03, 0.01, 0.015))(c))),
    "closure": ("maple", lambda c: both_halves(die(limits=Limits(0.03, 0.01, 0.015))(c))),
    "ring-pressure": ("maple", lambda c: ringed(c, 120.0, heights=(-0.3, -0.3, *(0.0,) * 20))),
    "holder-strength": ("maple", lambda c: ringed(c, 5.0)),
    "key-layout": ("maple", placing(keys=FOUR_KEYS)),
    "key-force": ("rowan", placing(keyed=True, keys=SOFT_KEYS)),
    "pick-up": ("maple", lift(guides=Interval.exactly(300e3))),
    "shear-force": ("rowan", die(working_force=7.7e6)),
    "matching": ("maple", matching(fitted=Fitted.BY_NUMBERS)),
    "thin-rib": ("maple", base(ribs=RibPattern(60.0, 0.0, 50.0, Ribs(300.0, 25.0), Ribs(300.0, 40.0)))),
}
HOLDS: dict[str, tuple[str, Change]] = {rule: ("maple", lambda c: c) for rule in BREAKS} | {
    "blank-holder": ("maple", lambda c: holding(c, 60.0)),
    "as-closed": ("maple", lambda c: both_halves(c)),
    "closure": ("maple", lambda c: both_halves(c)),
    "ring-pressure": ("maple", lambda c: ringed(c, 120.0, uneven=0.99)),
    "holder-strength": ("maple", lambda c: ringed(c, 120.0)),
    "thin-rib": ("maple", base(ribs=RibPattern(60.0, 0.0, 50.0, Ribs(300.0, 40.0), Ribs(300.0, 40.0)))),
    "cutting-clearance": ("rowan", lambda c: c),
    "shear-force": ("rowan", die(working_force=7.9e6)),
    "force-offset": ("rowan", lambda c: c),
    "cushion-pins": ("maple", die(cushion_pins=((75.0, 75.0), (-225.0, 75.0)))),
}

# Each input without which a rule of mounting is not checked.
NOT_CHECKED: list[tuple[str, str, Change]] = [
    ("closed-height", "die.closed_height", die(overlap=None)),
    ("closed-height", "press.shut_height", press(shut_height=None)),
    ("closed-height", "press.slide_adjustment", press(slide_adjustment=None)),
    ("upper-on-slide", "press.slide.length", slide(length=None)),
    ("upper-on-slide", "press.slide.width", press(slide=None)),
    ("clamps-on-bolster", "press.bolster.t_slots", bolster(t_slots=None)),
    ("clamps-on-bolster", "die.lower.flange.slots", flange("lower", slots=())),
    ("clamps-on-bolster", "die.lower.flange.slot_width", half("lower", flange=None)),
    ("clamps-on-slide", "press.slide.t_slots", press(slide=None)),
    ("clamps-on-slide", "press.slide.width", slide(width=None)),
    ("clamps-on-slide", "die.upper.flange.slots", half("upper", flange=None)),
    ("clamps-on-slide", "die.upper.flange.slot_width", flange("upper", slot_width=None)),
    ("lower-flange", "die.lower.flange.thickness", flange("lower", thickness=None)),
    ("upper-flange", "die.upper.flange.thickness", half("upper", flange=None)),
    ("cushion-pins", "die.cushion_pins", die(cushion_force=1e6)),
    ("cushion-pins", "press.bolster.pin_holes", lambda c: bolster(pin_field=None)(die(cushion_pins=((0.0, 0.0),))(c))),
    ("mass-on-bolster", "press.bolster.permitted_mass", bolster(permitted_mass=None)),
    ("mass-on-slide", "press.slide.permitted_mass", slide(permitted_mass=None)),
    ("closure", "die.upper.base", half("upper", base=None)),
    ("closure", "press.slide.body", press(slide=None)),
    ("crane-capacity", "press.crane_capacity", press(crane_capacity=None)),
    ("force-over-height", "die.force_height", die(force_height=None)),
    ("force-over-height", "press.force_over_height", press(force_over_height=())),
    ("force-over-height", "press.force_over_height", die(force_height=201.0)),
]


def asked(rule_id: str, case: Case) -> Finding:
    rule = next(r for r in all_rules() if r.id == rule_id)
    finding = judge(rule, analyse(case, samples=0, mesh_error=False, thrust_direction=0.0))
    assert finding is not None
    return finding


def test_every_rule_has_a_case_on_either_side() -> None:
    assert {r.id for r in all_rules()} == set(BREAKS) == set(HOLDS)


@pytest.mark.parametrize("rule_id", sorted(BREAKS))
def test_rule_breaks(rule_id: str, request: pytest.FixtureRequest) -> None:
    name, change = BREAKS[rule_id]
    case = change(request.getfixturevalue(name))
    if rule_id == "force-offset":
        case = placing(x=50.0)(case)
    assert asked(rule_id, case).status is Status.BREAKS


@pytest.mark.parametrize("rule_id", sorted(HOLDS))
def test_rule_holds(rule_id: str, request: pytest.FixtureRequest) -> None:
    name, change = HOLDS[rule_id]
    assert asked(rule_id, change(request.getfixturevalue(name))).status is Status.HOLDS


def test_a_press_that_permits_no_offset_allows_a_force_in_the_middle_and_no_other(
    request: pytest.FixtureRequest,
) -> None:
    none = press(permitted_offset=(0.0, 0.0))(request.getfixturevalue("maple"))
    assert asked("force-offset", none).status is Status.HOLDS
    assert asked("force-offset", placing(x=1.0)(none)).status is Status.BREAKS


def test_rules_have_words_and_a_source() -> None:
    for rule in all_rules():
        for text in (rule.title, rule.question, rule.formula, rule.why, rule.breaks, rule.holds, rule.source.text):
            assert len(text) >= 5, rule.id
        assert rule.question.endswith("?"), rule.id


def _rule_with(reading: Reading | NotChecked) -> Rule:
    return Rule("x", "X", "?", Trouble.GAP, "mm", "f", "w", PRACTICE, "b", "h", lambda _: reading)


@pytest.mark.parametrize(
    ("value", "at_most", "status"),
    [
        (Interval(1, 2, 3), True, Status.HOLDS),
        (Interval(3, 4, 5), True, Status.UNDECIDED),
        (Interval(4.5, 5, 6), True, Status.BREAKS),
        (Interval(4.5, 5, 6), False, Status.HOLDS),
        (Interval(3, 4, 5), False, Status.UNDECIDED),
        (Interval(1, 2, 3), False, Status.BREAKS),
    ],
)
def test_a_range_that_straddles_its_limit_is_undecided(
    value: Interval, at_most: bool, status: Status, maple_analysis: Analysis
) -> None:
    finding = judge(_rule_with(Reading(value, 4.0, at_most)), maple_analysis)
    assert finding is not None
    assert finding.status is status


def test_missing_input_is_not_checked_and_never_fit(maple: Case) -> None:
    finding = asked("acceptance", press(acceptance=None)(maple))
    assert finding.status is Status.NOT_CHECKED
    assert "acceptance" in finding.reason


@pytest.mark.parametrize(("rule_id", "key", "change"), NOT_CHECKED)
def test_what_is_missing_for_mounting_is_named(
    rule_id: str, key: str, change: Change, maple: Case, maple_analysis: Analysis
) -> None:
    rule = next(r for r in all_rules() if r.id == rule_id)
    finding = judge(rule, replace(maple_analysis, case=change(maple)))
    assert finding is not None
    assert finding.status is Status.NOT_CHECKED
    assert key in finding.reason


def test_a_crane_that_lifts_each_half_but_not_both_is_undecided(maple: Case) -> None:
    heavier = max(maple.die.lower.mass, maple.die.upper.mass)
    finding = asked("crane-capacity", press(crane_capacity=1.2 * heavier)(maple))
    assert finding.status is Status.UNDECIDED
    assert finding.value is not None
    assert finding.value.low == pytest.approx(heavier / 1e3)
    assert finding.value.high == pytest.approx((maple.die.lower.mass + maple.die.upper.mass) / 1e3)


def test_a_cutting_die_without_sheet_is_not_checked(rowan: Case) -> None:
    assert asked("cutting-clearance", die(sheet=None)(rowan)).status is Status.NOT_CHECKED


def test_a_cut_of_unknown_length_is_not_checked(rowan: Case) -> None:
    cutting = replace(rowan.die.cutting, length=None)
    finding = asked("shear-force", die(cutting=cutting)(rowan))
    assert (finding.status, finding.reason) == (Status.NOT_CHECKED, "die.cutting.length is missing")


def test_a_budget_of_assumed_values_only_is_not_judged(rowan: Case, maple: Case) -> None:
    """Of a die that cuts it is told as not checked; of another one the rule is left out."""
    unstated = matching(stated=False)
    finding = asked("matching", unstated(rowan))
    assert finding.status is Status.NOT_CHECKED
    assert "assumed" in finding.reason
    rule = next(r for r in all_rules() if r.id == "matching")
    assert judge(rule, analyse(unstated(maple), samples=0, mesh_error=False, thrust_direction=0.0)) is None


def test_dull_edges_are_told_where_they_ask_for_more_than_is_stated(rowan: Case) -> None:
    told = asked("shear-force", rowan).reading
    assert told is not None
    assert told.value.nominal == pytest.approx(7797.97, abs=0.01)
    assert "more than is stated and the press is rated for" in told.note
    assert "more" not in asked("shear-force", die(working_force=11e6)(rowan)).reading.note  # type: ignore[union-attr]


def test_a_keyed_die_without_clamps_breaks_wherever_the_pull_may_exceed_its_weight(maple: Case) -> None:
    """13 t weigh 127.5 kN: free it is undecided, keyed it breaks; a pull that cannot exceed it leaves it undecided."""
    for pull, keyed, status in (
        (130e3, False, Status.UNDECIDED),
        (130e3, True, Status.BREAKS),
        (60e3, True, Status.HOLDS),
        (100e3, True, Status.UNDECIDED),
    ):
        quiet = {"stuck_panel": Interval.exactly(0.0), "suction": Interval.exactly(0.0)}
        case = lift(guides=Interval(0.0, 0.0, pull), **quiet)(placing(keyed=keyed, clamps=())(maple))
        assert asked("pick-up", case).status is status, (pull, keyed)


def test_too_few_clamps_are_named(maple: Case) -> None:
    assert asked("pick-up", maple).reading.note == ""  # type: ignore[union-attr]
    three = placing(clamps=maple.die.placing.clamps[:3])(maple)
    assert asked("pick-up", three).reading.note == "3 clamps, where 4 are asked for"  # type: ignore[union-attr]
    more = press(clamps_required=6)(maple)
    assert asked("pick-up", more).reading.note == "4 clamps, where 6 are asked for"  # type: ignore[union-attr]


def test_what_cannot_be_measured_is_said_where_numbers_decide(maple: Case) -> None:
    told = asked("matching", matching(fitted=Fitted.BY_NUMBERS)(maple)).reading
    assert told is not None
    assert "15 µm cannot be measured" in told.note
    assert told.where == "on the face, most of it bending under force"
    assert "in the press that will be used" in told.note
    fitted = asked("matching", maple).reading
    assert fitted is not None
    assert "measured" not in fitted.note


def test_a_rule_that_does_not_apply_is_left_out(maple: Case) -> None:
    assert maple.die.operation is Operation.RESTRIKE
    rule = next(r for r in all_rules() if r.id == "cutting-clearance")
    assert judge(rule, analyse(maple, samples=0, mesh_error=False, thrust_direction=0.0)) is None


def test_bedded_on_the_same_press_at_the_same_force_changes_nothing(maple: Case) -> None:
    """The change of the face from a state to itself is nothing: derived."""
    same = die(bedded=Bedded(maple.press, maple.die.working_force))(maple)
    finding = asked("face", same)
    assert finding.reading is not None
    assert finding.reading.value.nominal < 1e-9
    assert finding.reading.limit == maple.die.limits.spotting


def test_a_ring_on_a_bedded_die_ranges_as_the_table_does(maple: Case) -> None:
    """The face of a die bedded where it runs changes by rounding alone at the usual values: no measure of a range."""
    here = replace(maple.press, name="the same by another name")
    case = die(bedded=Bedded(here, maple.die.working_force))(holding(maple, 120.0))
    analysis = analyse(case, samples=0, mesh_error=False, thrust_direction=0.0)
    spread = replace(analysis.spread, face=Interval(0.0, 1e-14, 0.016), sag=Interval(0.08, 0.10, 0.13))
    finding = judge(next(r for r in all_rules() if r.id == "blank-holder"), replace(analysis, spread=spread))
    assert finding is not None
    assert finding.reading is not None
    value = finding.reading.value
    assert (value.low, value.high) == pytest.approx((0.8 * value.nominal, 1.3 * value.nominal))


def test_face_pattern_area_follows_the_patterns(maple: Case) -> None:
    """Only the face where force acts is judged: a small patch has less error than the whole."""
    small = die(patterns=(Patch(1.0, Rectangle(0, 0, 600, 400)),))(maple)
    whole = assess(maple, 0, False).analysis.face
    part = assess(small, 0, False).analysis.face
    assert part.in_face.sum() < whole.in_face.sum()


@pytest.fixture(scope="module")
def maple_analysis(maple: Case) -> Analysis:
    return analyse(maple, samples=0, mesh_error=False, thrust_direction=0.0)


@pytest.mark.parametrize(
    ("keys", "told"), [("a", "a is missing"), ("ab", "a and b are missing"), ("abc", "a, b and c are missing")]
)
def test_inputs_that_are_missing_are_listed_as_people_list(keys: str, told: str) -> None:
    assert NotChecked.missing(dict.fromkeys(keys)).reason == told

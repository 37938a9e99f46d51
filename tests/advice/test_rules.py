"""Every rule: one case that breaks it, one that holds it, and its words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from deflect.advice import all_rules, assess, judge
from deflect.findings import Analysis, Finding, NotChecked, Reading, Rule, Status, Trouble
from deflect.mechanics.analysis import analyse
from deflect.model.case import Case
from deflect.model.die import Bedded, Limits, Operation
from deflect.model.force import Patch
from deflect.model.press import Acceptance
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


def weak(material: object) -> object:
    return replace(material, permitted_stress=1.0)  # type: ignore[type-var]


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
}
HOLDS: dict[str, tuple[str, Change]] = {rule: ("maple", lambda c: c) for rule in BREAKS} | {
    "cutting-clearance": ("rowan", lambda c: c),
    "force-offset": ("rowan", lambda c: c),
}


def asked(rule_id: str, case: Case) -> Finding:
    rule = next(r for r in all_rules() if r.id == rule_id)
    finding = judge(rule, analyse(case, samples=0, mesh_error=False))
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


def test_a_cutting_die_without_sheet_is_not_checked(rowan: Case) -> None:
    assert asked("cutting-clearance", die(sheet=None)(rowan)).status is Status.NOT_CHECKED


def test_a_rule_that_does_not_apply_is_left_out(maple: Case) -> None:
    assert maple.die.operation is Operation.RESTRIKE
    rule = next(r for r in all_rules() if r.id == "cutting-clearance")
    assert judge(rule, analyse(maple, samples=0, mesh_error=False)) is None


def test_bedded_on_the_same_press_at_the_same_force_changes_nothing(maple: Case) -> None:
    """The change of the face from a state to itself is nothing: derived."""
    same = die(bedded=Bedded(maple.press, maple.die.working_force))(maple)
    finding = asked("face", same)
    assert finding.reading is not None
    assert finding.reading.value.nominal < 1e-9
    assert finding.reading.limit == maple.die.limits.spotting


def test_face_pattern_area_follows_the_patterns(maple: Case) -> None:
    """Only the face where force acts is judged: a small patch has less error than the whole."""
    small = die(patterns=(Patch(1.0, Rectangle(0, 0, 600, 400)),))(maple)
    whole = assess(maple, 0, False).analysis.face
    part = assess(small, 0, False).analysis.face
    assert part.in_face.sum() < whole.in_face.sum()


@pytest.fixture(scope="module")
def maple_analysis(maple: Case) -> Analysis:
    return analyse(maple, samples=0, mesh_error=False)

"""Which of the uncertain inputs would decide: on rules whose number is known, of inputs that are stood in for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType

import pytest

import deflect.advice.deciding as deciding
from deflect.advice import all_rules
from deflect.advice.deciding import measurements
from deflect.findings import Assessment, Finding, Reading, Rule, Status
from deflect.mechanics.analysis import Analysis, analyse
from deflect.mechanics.draws import UNCERTAIN
from deflect.model.case import Case
from deflect.model.values import Interval

FIRST, SECOND = "land stiffness", "local give of the contact"
LIMIT = 1.0
GAP = next(rule for rule in all_rules() if rule.id == "gap")
Number = Callable[[float, float], float]


@pytest.fixture(scope="module")
def analysis(maple: Case) -> Analysis:
    return analyse(maple, samples=0, mesh_error=False, thrust_direction=0.0)


def told(
    monkeypatch: pytest.MonkeyPatch, analysis: Analysis, number: Number, rule: Rule = GAP
) -> list[tuple[str, bool, str, str]]:
    """What is told of an undecided rule that is ``number`` of the first and of the second input, 0 to 1 each."""

    def at(case: Case, ends: Mapping[str, float]) -> Mapping[str, float]:
        assert set(ends) <= set(UNCERTAIN)
        return ends

    def judged(rule: Rule, ends: Mapping[str, float]) -> Finding:
        value = number(ends.get(FIRST, 0.5), ends.get(SECOND, 0.5))
        status = Status.HOLDS if value <= LIMIT else Status.BREAKS
        return Finding(rule, status, Reading(Interval.exactly(value), LIMIT))

    monkeypatch.setattr(deciding, "analyse_at_ends", lambda case, ends, *_: at(case, ends))
    monkeypatch.setattr(deciding, "analyse_without_creep", lambda case, _, ends=MappingProxyType({}): at(case, ends))
    monkeypatch.setattr(deciding, "judge", judged)
    undecided = Finding(rule, Status.UNDECIDED, Reading(Interval(0.5, 1.1, 2.0), LIMIT))
    spread = replace(analysis.spread, drivers=(("gap", FIRST),))
    found = measurements(Assessment(replace(analysis, spread=spread), (undecided,)))
    return [(m.uncertain, m.decides, m.at_low, m.at_high) for m in found]


def test_an_input_that_decides_alone_is_told_alone(monkeypatch: pytest.MonkeyPatch, analysis: Analysis) -> None:
    (one,) = told(monkeypatch, analysis, lambda first, second: 2.0 * first)
    assert one[:2] == (FIRST, True)
    assert one[2].endswith("holds")
    assert one[3].endswith("breaks")


def test_two_that_decide_together_are_told_together(monkeypatch: pytest.MonkeyPatch, analysis: Analysis) -> None:
    """Alone the first leaves 1.2 to 1.6, above 1; at its low end the second leads from 0.95 to 1.45."""
    first, second = told(monkeypatch, analysis, lambda a, b: 0.95 + 0.4 * a + 0.5 * b)
    assert first[:2] == (FIRST, False)
    assert second[:2] == (SECOND, True)
    assert f"{FIRST} at its low end" in second[2]
    assert second[2].endswith("holds")
    assert second[3].endswith("breaks")


def test_the_first_stands_at_the_end_that_is_nearer(monkeypatch: pytest.MonkeyPatch, analysis: Analysis) -> None:
    _, second = told(monkeypatch, analysis, lambda a, b: 1.35 - 0.4 * a + 0.5 * b)
    assert f"{FIRST} at its high end" in second[2]


def test_a_stress_is_moved_by_the_input_that_is_found_by_solving(
    monkeypatch: pytest.MonkeyPatch, analysis: Analysis
) -> None:
    """No headline stands for it, so that no draw says what moves it."""
    stress = next(rule for rule in all_rules() if rule.id == "base-stress")
    (one,) = told(monkeypatch, analysis, lambda a, b: 0.8 + 0.2 * a + 0.6 * b, stress)
    assert one[:2] == (SECOND, True)


def test_one_that_moves_nothing_is_not_named(monkeypatch: pytest.MonkeyPatch, analysis: Analysis) -> None:
    (one,) = told(monkeypatch, analysis, lambda first, _: 1.2 + 0.4 * first)
    assert one[:2] == (FIRST, False)


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [(0.03, "mm", "0.030 mm"), (12345.0, "strokes", "12345 strokes"), (float("inf"), "strokes", "strokes without end")],
)
def test_an_outcome_is_shown_as_its_number_is_everywhere_else(value: float, unit: str, shown: str) -> None:
    finding = Finding(replace(GAP, unit=unit), Status.HOLDS, Reading(Interval.exactly(value), LIMIT))
    assert f"{GAP.title} {shown}, holds" in deciding._words("low", finding, "")


def test_a_ring_between_its_pins_asks_for_their_heights(analysis: Analysis) -> None:
    """Its range is that of the pins alone, so that no drawn input of the press could decide."""
    rule = next(rule for rule in all_rules() if rule.id == "ring-pressure")
    undecided = Finding(rule, Status.UNDECIDED, Reading(Interval(18.0, 26.0, 36.0), 30.0))
    (one,) = measurements(Assessment(analysis, (undecided,)))
    assert (one.uncertain, one.rule, one.decides) == ("heights of the cushion pins", "ring-pressure", True)
    assert one.at_low.endswith("Pressure around the ring 18 %, holds")
    assert one.at_high.endswith("Pressure around the ring 36 %, breaks")
    assert "die.blank_holder.pin_heights" in one.how

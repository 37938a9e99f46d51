"""A thinner ring is judged by the range of its own pins, not by that of the ring before it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deflect.advice import all_rules, assess
from deflect.advice.judging import judge, with_old_range
from deflect.casefile import read_case
from deflect.findings import Assessment, Finding, Status
from deflect.remedies import compliant_holder

RULE = next(rule for rule in all_rules() if rule.id == "ring-pressure")


@pytest.fixture(scope="module")
def before() -> Assessment:
    return assess(read_case("hickory-draw", "cypress-10mn"), 0, mesh_error=False)


def ring(before: Assessment, thickness: float) -> Finding:
    case = before.analysis.case
    holder = case.die.blank_holder
    assert holder is not None
    thinner = replace(case, die=replace(case.die, blank_holder=replace(holder, thickness=thickness)))
    found = judge(RULE, replace(before.analysis, case=thinner))
    assert found is not None
    return found


def test_a_thinner_ring_shows_its_pins_more(before: Assessment) -> None:
    """At 155 mm its usual number falls by a quarter, but the end of its range by a ninth only: it is undecided."""
    (was,) = [finding for finding in before.findings if finding.rule.id == RULE.id]
    half, less = ring(before, 155.0), ring(before, 110.0)
    for now, status in ((half, Status.UNDECIDED), (less, Status.HOLDS)):
        assert with_old_range(now, was) == now
        assert now.status is status


def test_what_carries_a_thinner_ring_must_reach_higher() -> None:
    assert "must reach as much higher" in compliant_holder.REMEDY.drawback

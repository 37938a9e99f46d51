"""The range that an unconfirmed remedy is judged with: that of the case before it."""

from __future__ import annotations

import pytest

from deflect.advice import all_rules
from deflect.advice.judging import with_old_range
from deflect.findings import Finding, Reading, Status
from deflect.model.values import Interval

RULE = next(rule for rule in all_rules() if rule.id == "gap")


def found(low: float, usual: float, high: float, limit: float = 0.05) -> Finding:
    return Finding(RULE, Status.HOLDS, Reading(Interval(low, usual, high), limit))


def test_a_number_keeps_its_relative_range() -> None:
    told = with_old_range(found(0.02, 0.02, 0.02), found(0.03, 0.04, 0.06))
    assert told.reading is not None
    assert told.reading.value.low == pytest.approx(0.015)
    assert told.reading.value.high == pytest.approx(0.03)
    assert told.status is Status.HOLDS


def test_a_number_that_was_next_to_nothing_keeps_the_width_of_its_range() -> None:
    """0.001 mm with 0 to 0.004 is no reason to take 0.02 mm for up to 0.08."""
    told = with_old_range(found(0.02, 0.02, 0.02), found(0.0, 0.001, 0.004))
    assert told.reading is not None
    assert told.reading.value.low == pytest.approx(0.019)
    assert told.reading.value.high == pytest.approx(0.023)
    assert told.status is Status.HOLDS

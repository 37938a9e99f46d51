"""The rule of what holders take, on values made by hand."""

from __future__ import annotations

import math
from dataclasses import dataclass
from types import SimpleNamespace
from typing import cast

import pytest

from deflect.advice.judging import judge
from deflect.findings import Analysis, Status
from deflect.mechanics.holders import InPlaneHolder
from deflect.model.values import Interval
from deflect.rules.key_force import RULE


@dataclass(frozen=True)
class Force:
    """What a holder takes: in the steady state, and at the bottom of the stroke, N."""

    holder: InPlaneHolder
    force: Interval
    bottom: float


def key(name: str, capacity: float, low: float, usual: float, high: float) -> Force:
    holder = InPlaneHolder(name, "key", (300.0, 400.0), (1.0, 0.0), 0.02, 6e5, capacity=capacity)
    return Force(holder, Interval(low, usual, high), 0.5 * usual)


def told(*forces: Force) -> tuple[Status, Interval, str]:
    finding = judge(RULE, cast(Analysis, SimpleNamespace(holding=forces)))
    assert finding is not None
    assert finding.reading is not None
    return finding.status, finding.reading.value, finding.reading.where


@pytest.mark.parametrize(
    ("forces", "status"),
    [
        ((60e3, 90e3, 140e3), Status.HOLDS),
        ((60e3, 90e3, 150e3), Status.UNDECIDED),
        ((150e3, 200e3, 260e3), Status.BREAKS),
    ],
)
def test_force_against_capacity(forces: tuple[float, float, float], status: Status) -> None:
    """144 kN = 150 MPa x 12 x 80 mm2."""
    found, value, _ = told(key("key 1", 144e3, *forces))
    assert found is status
    assert value.nominal == pytest.approx(100 * forces[1] / 144e3)


def test_the_worst_part_is_told_and_each_end_is_that_of_all() -> None:
    """Usually 50 % and 60 %; at the high end 95 % and 80 %, at the low end 10 % and 40 %."""
    status, value, where = told(key("key 1", 100e3, 10e3, 50e3, 95e3), key("key 2", 200e3, 80e3, 120e3, 160e3))
    assert status is Status.HOLDS
    assert (value.low, value.nominal, value.high) == pytest.approx((40.0, 60.0, 95.0))
    assert where == "key 2, 500 mm from the middle: 120 kN of 200 kN, 60 kN at the bottom of the stroke"


def test_clamps_slip_and_are_not_judged() -> None:
    clamp = Force(InPlaneHolder("clamp 1", "clamp", (0, 0), None, 0.0, 4e4, limit=9e3), Interval.exactly(9e3), 9e3)
    assert clamp.holder.capacity == math.inf
    assert judge(RULE, cast(Analysis, SimpleNamespace(holding=(clamp,)))) is None
    assert told(clamp, key("key 1", 144e3, 1e3, 2e3, 3e3))[2].startswith("key 1")


def test_a_free_die_is_not_asked() -> None:
    assert judge(RULE, cast(Analysis, SimpleNamespace(holding=()))) is None

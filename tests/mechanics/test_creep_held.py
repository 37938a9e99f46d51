"""Which of some directions of thrust is told of a held die, on strokes made up for each direction."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics import creep
from deflect.mechanics.creep import Held, HolderForce, Marched, find_creep, hold_all_round, with_range
from deflect.mechanics.holders import InPlaneHolder
from deflect.mechanics.march import Creep
from deflect.mechanics.standing import Assumptions
from deflect.mechanics.thrust import Drives
from deflect.model.values import Interval

CASE = read_case("rowan-trim", "alder-10mn")
KEYS = tuple(InPlaneHolder(f"key {k}", "key", (0.0, 0.0), None, 0.0, 1e5) for k in (1, 2))
DRIVES = Drives(0.15, 0.0, 0.0, 0.0, 0.0, direction=0.5, tangential_give=0.3, joint=1e3)


def marched(*shift: float, slides: bool = False) -> Creep:
    return Creep(np.array(shift), np.zeros((1, 3)), np.zeros(1), True, 1, 0.0, 0.0, slides)


def held(*forces: float) -> Held:
    told = (HolderForce(key, Interval.exactly(f), 0.0, 0.0) for key, f in zip(KEYS, forces, strict=False))
    return Held(marched(0.0, 0.0, 0.0), tuple(told))


def all_round(monkeypatch: pytest.MonkeyPatch, by: dict[float, Held | None]) -> Held | None:
    """Along directions of 0.1, 0.5 (the worst) and 0.9 rad."""
    monkeypatch.setattr(creep, "hold", lambda one, case: by[one.drives.direction])
    result = Marched(DRIVES, marched(1e-3, 0.0, 0.0), cast(Any, None), 1, 0.0)
    return hold_all_round(result, CASE, (0.1, 0.5, 0.9))


def test_each_holder_takes_its_most_along_any_direction(monkeypatch: pytest.MonkeyPatch) -> None:
    worst = held(100.0, 20.0)
    found = all_round(monkeypatch, {0.1: held(90.0, 70.0), 0.5: worst, 0.9: held(40.0, 30.0)})
    assert found is not None
    assert found.march is worst.march
    assert [one.force.nominal for one in found.forces] == [100.0, 70.0]


def test_directions_along_which_friction_does_not_hold_are_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    found = all_round(monkeypatch, {0.1: None, 0.5: held(100.0, 20.0), 0.9: held(120.0, 10.0)})
    assert found is not None
    assert [one.force.nominal for one in found.forces] == [120.0, 20.0]


def test_a_die_that_nothing_grips_is_not_asked_along_others(monkeypatch: pytest.MonkeyPatch) -> None:
    """The other directions would raise: they are not there."""
    none = held()
    assert all_round(monkeypatch, {0.5: none}) is none
    assert all_round(monkeypatch, {0.5: None}) is None


def test_a_holders_range_is_over_all_inputs() -> None:
    found = with_range(held(100.0, 20.0), [held(90.0, 70.0), None, held(130.0, 30.0)])
    assert [(f.force.low, f.force.nominal, f.force.high) for f in found.forces] == [
        (90.0, 100.0, 130.0),
        (20.0, 20.0, 70.0),
    ]


def test_the_first_of_the_worst_directions_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Shifts of 2, 5 and 5 um: the second; friction and contact are in agreement after two rounds alike."""
    sizes = {0.0: 2e-3, 1.0: 5e-3, 2.0: 5e-3 * (1 + 1e-9)}
    monkeypatch.setattr(creep, "solve_course", lambda *_: SimpleNamespace())
    monkeypatch.setattr(creep, "friction_at", lambda *_: None)
    monkeypatch.setattr(creep, "creep", lambda course, drives: marched(0.0, sizes[drives.direction], 7.0))
    nothing = cast(Any, None)
    found = find_creep(nothing, nothing, Assumptions(40.0), DRIVES, (0.0, 1.0, 2.0))
    assert found.drives == replace(DRIVES, direction=1.0)
    assert found.rounds == 2
    assert found.disagreement == 0.0


def test_a_die_that_slides_is_not_solved_again(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(creep, "solve_course", lambda *_: SimpleNamespace())
    monkeypatch.setattr(creep, "creep", lambda course, drives: marched(10.0, 0.0, 0.0, slides=True))
    nothing = cast(Any, None)
    assert find_creep(nothing, nothing, Assumptions(40.0), DRIVES, (0.0,)).rounds == 1

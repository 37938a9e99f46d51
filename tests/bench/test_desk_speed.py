"""How soon the desk can draw: what is solved between an event and its picture.  Measured, never asserted."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from deflect.casefile import read_case
from deflect.desk.picture import picture
from deflect.mechanics.glance import glance
from deflect.model.case import Case

# The desk's mesh while a die is under way.
COARSER = 1.5


@pytest.fixture(scope="module")
def case() -> Case:
    """The trim die of the demo, solved once, on both meshes."""
    found = read_case("rowan-trim", "alder-10mn")
    glance(found)
    glance(found, coarser=COARSER)
    return found


def test_die_under_way(case: Case, benchmark: BenchmarkFixture) -> None:
    steps = itertools.count(1)

    def move() -> None:
        placing = replace(case.die.placing, x=float(next(steps)))
        picture(glance(replace(case, die=replace(case.die, placing=placing)), coarser=COARSER).solution)

    benchmark(move)


def test_die_set_down(case: Case, benchmark: BenchmarkFixture) -> None:
    steps, like = itertools.count(1), glance(case).solution

    def move() -> None:
        placing = replace(case.die.placing, x=float(next(steps)))
        picture(glance(replace(case, die=replace(case.die, placing=placing)), like).solution)

    benchmark(move)


def test_new_force(case: Case, benchmark: BenchmarkFixture) -> None:
    steps, like = itertools.count(1), glance(case).solution

    def press() -> None:
        changed = replace(case, die=replace(case.die, working_force=8e6 + 1e3 * next(steps)))
        picture(glance(changed, like).solution)

    benchmark(press)


def test_new_base_thickness(case: Case, benchmark: BenchmarkFixture) -> None:
    steps, like = itertools.count(1), glance(case).solution
    benchmark(lambda: picture(glance(case.with_base_thickness(400.0 + next(steps)), like).solution))

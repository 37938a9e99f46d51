"""How long the parts of a check take: run with ``python -m pytest tests/bench --benchmark-only``.

The trim die of the demo scenario on its press, patches of 100 mm, one core.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from deflect.advice import assess
from deflect.advice.trying import sized_remedies
from deflect.mechanics import standing as standing_module
from deflect.mechanics.analysis import analyse
from deflect.mechanics.body import condense_table
from deflect.mechanics.creep import Marched, find_creep, find_creep_like, hold
from deflect.mechanics.drag import Drag
from deflect.mechanics.footprint import footprint
from deflect.mechanics.keeping import forget
from deflect.mechanics.solution import solve
from deflect.mechanics.standing import Assumptions, Standing, stand
from deflect.mechanics.stroke import creep, solve_course
from deflect.mechanics.thrust import Drives
from deflect.model.case import Case
from deflect.model.die import Shim
from deflect.model.values import Rectangle

DRIVES = Drives(0.15, 5e-4, 0.005, 0.0, 0.0, 0.0, 4 / 15, 1500.0)


@pytest.fixture(scope="module")
def ready(case: Case) -> Standing:
    return stand(case)


def test_cold_mechanics(benchmark: BenchmarkFixture, case: Case, usual: Assumptions) -> None:
    """Mesh, factorise, condense and solve rest and full force, nothing cached."""
    benchmark.pedantic(lambda: solve(stand(case), usual), setup=forget, rounds=5)


def test_new_force(benchmark: BenchmarkFixture, ready: Standing, usual: Assumptions) -> None:
    """The contact at another force, started from the last one."""
    start = ready.solve(1.0, usual).closed
    benchmark(lambda: ready.solve(0.9, usual, start))


def test_course_of_a_stroke(benchmark: BenchmarkFixture, ready: Standing, usual: Assumptions) -> None:
    """Contact from rest to full force."""
    benchmark(lambda: solve_course(ready, usual))


@pytest.fixture(scope="module")
def marched(ready: Standing, usual: Assumptions) -> Marched:
    return find_creep(ready, Drag.of(ready), usual, DRIVES, (0.0,))


def test_march(benchmark: BenchmarkFixture, marched: Marched) -> None:
    """Strokes of the free die until the shift is steady, the contact solved."""
    benchmark(lambda: creep(marched.course, DRIVES))


def test_creep_with_contact(benchmark: BenchmarkFixture, ready: Standing, usual: Assumptions) -> None:
    """The same in rounds with the contact, until they agree."""
    drag = Drag.of(ready)
    benchmark(lambda: find_creep(ready, drag, usual, DRIVES, (0.0,)))


def test_creep_at_other_inputs(
    benchmark: BenchmarkFixture, ready: Standing, usual: Assumptions, marched: Marched
) -> None:
    """One draw of the ranges."""
    drag, other = marched.course.drag, replace(DRIVES, friction=0.1)
    soft = replace(usual, contact_give=1.0)
    benchmark(lambda: find_creep_like(marched, ready, drag, soft, other))


def test_held_die(benchmark: BenchmarkFixture, case: Case, marched: Marched) -> None:
    """Strokes of the keyed die until its keys take a steady force."""
    keyed = replace(case, die=replace(case.die, placing=replace(case.die.placing, keyed=True)))
    benchmark(lambda: hold(marched, keyed))


def test_new_position(benchmark: BenchmarkFixture, case: Case, usual: Assumptions) -> None:
    """The die moved on the table: no new factorisation."""
    places = iter(range(1, 10_000))

    def moved() -> Case:
        return replace(case, die=replace(case.die, placing=replace(case.die.placing, x=float(next(places)))))

    benchmark(lambda: solve(stand(moved()), usual))


REMEDIES: dict[str, Callable[[Case], Case]] = {
    "key": lambda c: replace(c, die=replace(c.die, placing=replace(c.die.placing, keyed=True))),
    "thicker base": lambda c: c.with_base_thickness(500.0),
    "more compliant base": lambda c: c.with_base_thickness(300.0),
    "shims": lambda c: replace(
        c,
        die=replace(c.die, placing=replace(c.die.placing, shims=(Shim(Rectangle(0, 0, 400, 400), 0.05),))),
    ),
}


@pytest.mark.parametrize("remedy", sorted(REMEDIES))
def test_remedy(benchmark: BenchmarkFixture, case: Case, usual: Assumptions, remedy: str) -> None:
    """A remedy solved anew: the table is never factorised again, a new base is (it is the small one)."""
    stand(case)
    changed = REMEDIES[remedy](case)
    benchmark(lambda: solve(stand(changed), usual))


def test_remedies_factorise_no_table(case: Case) -> None:
    """Not a speed but its reason: no remedy condenses a table anew."""
    stand(case)
    before = condense_table.cache_info().misses
    prints = footprint.cache_info().misses
    for change in REMEDIES.values():
        standing_module.stand(change(case))
    assert condense_table.cache_info().misses == before
    assert footprint.cache_info().misses == prints


def test_all_remedies_without_the_march(benchmark: BenchmarkFixture, case: Case) -> None:
    """Every remedy that may help sized and solved, at about 400 contact patches, creep apart."""
    before = assess(case, 2)

    def fresh() -> None:
        forget()
        stand(case)

    benchmark.pedantic(lambda: sized_remedies(before, before.analysis, str), setup=fresh, rounds=3)


def test_analysis_with_ranges(benchmark: BenchmarkFixture, case: Case) -> None:
    """Everything about one case: usual values, 16 draws with creep, second mesh."""
    benchmark.pedantic(lambda: analyse(case), rounds=2)

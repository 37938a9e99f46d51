"""How long the parts of a study take: run with ``python -m pytest tests/bench --benchmark-only``.

The trim die of the demo scenario, 405 patches of 100 mm, on a table of 405 cells, one core.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import cycle

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from deflect.casefile import read_case
from deflect.mechanics.ground import table_of
from deflect.mechanics.keeping import forget
from deflect.mechanics.screening import condense_die, condense_top, screen
from deflect.model.case import Case


@pytest.fixture(scope="module")
def case() -> Case:
    return read_case("rowan-trim", "birch-12mn")


def elsewhere(case: Case) -> list[Case]:
    """The same die at other places and other forces."""
    random = np.random.default_rng(1)
    found = []
    for _ in range(60):
        x, y, force = random.uniform(-150, 150), random.uniform(-80, 80), random.uniform(0.8, 1.1)
        placing = replace(case.die.placing, x=x, y=y)
        found.append(
            replace(case, die=replace(case.die, placing=placing, working_force=force * case.die.working_force))
        )
    return found


def test_screen_a_new_place_and_force(benchmark: BenchmarkFixture, case: Case) -> None:
    """Bodies condensed; each pair starts from the contacts of the one before."""
    table, die = condense_top(case.press, table_of(case.press)[0].nominal), condense_die(case.die)
    start = screen(case, table, die).start
    cases = cycle(elsewhere(case))

    def one() -> None:
        nonlocal start
        start = screen(next(cases), table, die, start).start

    benchmark.pedantic(one, rounds=120, warmup_rounds=5)


def test_condense_a_table(benchmark: BenchmarkFixture, case: Case) -> None:
    stiffness = table_of(case.press)[0].nominal
    benchmark.pedantic(lambda: condense_top(case.press, stiffness), setup=forget, rounds=3)


def test_condense_a_die(benchmark: BenchmarkFixture, case: Case) -> None:
    benchmark.pedantic(lambda: condense_die(case.die), setup=forget, rounds=3)

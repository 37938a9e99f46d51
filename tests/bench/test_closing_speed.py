"""How long it takes to close both halves of a die: run with ``python -m pytest tests/bench --benchmark-only``."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from deflect.advice import assess
from deflect.casefile import read_case
from deflect.mechanics.closure import close_pair, usual
from deflect.mechanics.hanging import hang
from deflect.mechanics.keeping import forget
from deflect.mechanics.ring import pressed_ring
from deflect.mechanics.standing import stand
from deflect.model.case import Case


@pytest.fixture(scope="module")
def case() -> Case:
    found = read_case("sorrel-restrike", "birch-12mn")
    return replace(found, die=replace(found.die, bedded=None))


def test_full_press(benchmark: BenchmarkFixture, case: Case) -> None:
    """Both halves meshed, factorised, condensed and closed on the sheet, nothing cached."""
    stiff = usual(case)
    benchmark.pedantic(lambda: close_pair(case, stand(case), hang(case), stiff), setup=forget, rounds=5)


def test_check_of_a_full_press(benchmark: BenchmarkFixture, case: Case) -> None:
    """Every rule at the usual values, creep and both halves closed among them; mesh error and ranges come on top."""
    benchmark.pedantic(lambda: assess(case, samples=0, mesh_error=False), setup=forget, rounds=5, warmup_rounds=1)


def test_closing_anew(benchmark: BenchmarkFixture, case: Case) -> None:
    """The halves at hand, closed once more."""
    stiff, standing, hanging_half = usual(case), stand(case), hang(case)
    benchmark(lambda: close_pair(case, standing, hanging_half, stiff))


def test_ring(benchmark: BenchmarkFixture) -> None:
    """A blank holder on 32 pins."""
    die = read_case("sedge-draw", "birch-12mn").die
    benchmark(lambda: pressed_ring(die))

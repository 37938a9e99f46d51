"""Beside what one would use instead: a general-purpose three-dimensional solver with contact.

Run with ``python -m pytest -n 0 tests/bench/test_calculix_speed.py --benchmark-only``; skipped where there is none.
Both give the sag of the slab below the block under a patch within 2.5 % of the converged solids (0.4119 mm; ours).
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from deflect.mechanics.keeping import forget
from deflect.mechanics.standing import Standing, State, stand
from deflect.mechanics.support import FACE_GIVE

sys.path += [str(Path(__file__).parent), str(Path(__file__).parents[1] / "mechanics")]

import by_calculix
from reference_bodies import BOLSTER, HOLDING_LAND, PATCH, case_of

SAG, EQUAL = 0.4119, 0.025
FORCE = 10e6
# A coarse mesh of CalculiX that comes as near: elements away from the opening's edge and along it, mm.
SIZE, FINE = 200.0, 50.0


def sag(standing: Standing, state: State) -> float:
    """Of the slab's top at its middle, mm: mean movement, thickening, and the squeeze by the patches above it."""
    surface = float((standing.table.top(np.zeros((1, 2))).surface @ state.table_motion)[0])
    away = np.hypot(*standing.base.patches.centre[standing.bears].T)
    pressure = float((state.contact_force / standing.contact_area)[away < away.min() + 1e-6].mean())
    return -(surface - FACE_GIVE * BOLSTER.thickness / (2 * BOLSTER.material.youngs_modulus) * pressure)


def test_plates_cold(benchmark: BenchmarkFixture) -> None:
    """Mesh, factorise, condense and solve, nothing kept from before."""

    def cold() -> float:
        standing = stand(case_of(PATCH, FORCE))
        return sag(standing, standing.solve(1.0, HOLDING_LAND))

    found = benchmark.pedantic(cold, setup=forget, rounds=3)
    benchmark.extra_info["sag, mm"] = found
    assert found == pytest.approx(SAG, rel=EQUAL)


def test_plates_again_at_a_new_force(benchmark: BenchmarkFixture) -> None:
    standing = stand(case_of(PATCH, FORCE))
    start = standing.solve(1.0, HOLDING_LAND).closed
    benchmark.pedantic(lambda: standing.solve(0.9, HOLDING_LAND, start), rounds=10)


@pytest.mark.skipif(not by_calculix.installed(), reason="the program ccx (Debian: calculix-ccx) is not installed")
def test_calculix(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """Write the input, solve, read the answer: a new force or place is the same again.  Wall time, of one thread."""
    found = benchmark.pedantic(lambda: by_calculix.sag(tmp_path, SIZE, FINE), rounds=1)
    benchmark.extra_info["sag, mm"] = found
    assert found == pytest.approx(SAG, rel=EQUAL)

"""How the parts of a check grow with mesh and patches: run with ``python -m pytest -n 0 tests/bench --benchmark-only``.

The trim die of the demo scenario on its press.  The *floor* is what nobody can go below at the same mesh: one sparse
factorisation and one answer per body, by the sparse direct solver of a general-purpose library.
"""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from deflect.mechanics.footprint import Mesh
from deflect.mechanics.keeping import forget
from deflect.mechanics.plate import Plate, factorise
from deflect.mechanics.solution import solve
from deflect.mechanics.standing import Assumptions, Standing, stand
from deflect.model.case import Case

# Size of patch and element, mm: about 100, 400 and 1600 patches below the die; then finer elements alone.
SIZES = {
    "patch 200, mesh 200": Mesh(200.0, 200.0),
    "patch 100, mesh 100": Mesh(100.0, 100.0),
    "patch 100, mesh 50": Mesh(50.0, 100.0),
    "patch 100, mesh 25": Mesh(25.0, 100.0),
    "patch 50, mesh 50": Mesh(50.0, 50.0),
}


@pytest.fixture(scope="module", params=SIZES)
def mesh(request: pytest.FixtureRequest) -> Mesh:
    forget()
    return SIZES[request.param]


def rounds(mesh: Mesh, usual: int) -> int:
    """The finest mesh takes a minute a time."""
    return 1 if mesh.element < 50.0 else usual


@pytest.fixture(scope="module")
def ready(case: Case, mesh: Mesh) -> Standing:
    return stand(case, mesh)


def told(benchmark: BenchmarkFixture, standing: Standing) -> None:
    table, base = (body.plate for body in (standing.table, standing.base) if hasattr(body, "plate"))
    benchmark.extra_info |= {
        "contact patches": standing.contacts,
        "ports": int(standing.signed_rows.shape[0]),
        "unknowns of the plates": int(table.basis.N + base.basis.N),
    }


def test_floor(benchmark: BenchmarkFixture, ready: Standing) -> None:
    """One sparse factorisation and one answer per body."""
    plates: list[Plate] = [body.plate for body in (ready.table, ready.base) if hasattr(body, "plate")]
    for plate in plates:
        _ = plate.stiffness

    def once() -> None:
        for plate in plates:
            factorise(plate.stiffness, plate.free).solve(np.ones(plate.free.size))

    benchmark.pedantic(once, rounds=3)
    told(benchmark, ready)


def test_cold_check(benchmark: BenchmarkFixture, case: Case, mesh: Mesh, usual: Assumptions, ready: Standing) -> None:
    """Mesh, factorise, condense and solve rest and full force, nothing kept from before."""
    told(benchmark, ready)
    benchmark.pedantic(lambda: solve(stand(case, mesh), usual), setup=forget, rounds=rounds(mesh, 2))


def test_new_force(benchmark: BenchmarkFixture, ready: Standing, usual: Assumptions) -> None:
    """The contact at another force, started from the last one."""
    told(benchmark, ready)
    start = ready.solve(1.0, usual).closed
    benchmark.pedantic(lambda: ready.solve(0.9, usual, start), rounds=5)


def test_new_position(benchmark: BenchmarkFixture, case: Case, mesh: Mesh, usual: Assumptions, ready: Standing) -> None:
    """The die moved on the table: no new factorisation."""
    told(benchmark, ready)
    places = itertools.count(1)

    def moved() -> None:
        placing = replace(case.die.placing, x=float(next(places)))
        solve(stand(replace(case, die=replace(case.die, placing=placing)), mesh), usual)

    benchmark.pedantic(moved, rounds=rounds(mesh, 3))

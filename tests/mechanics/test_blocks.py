"""The block factor of a plate against a sparse factor of a general-purpose library, and what it refuses."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.sparse as sparse

from deflect.faults import MechanicsFailed
from deflect.mechanics.blocks import BlockFactor
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.plate import Plate, factorise
from deflect.mechanics.sections import solid_section
from deflect.model.material import Material
from deflect.model.values import Rectangle

STEEL = Material("steel", youngs_modulus=210e3, poisson_ratio=0.3, density=7.85e-6, permitted_stress=100.0)


@pytest.mark.parametrize("lines", [(9, 5), (5, 9)], ids=["long in x", "long in y"])
@pytest.mark.parametrize("openings", [(), (Rectangle(100.0, 0.0, 250.0, 200.0),)], ids=["whole", "with an opening"])
def test_answers_of_a_plate_are_those_of_a_sparse_factor(
    lines: tuple[int, int], openings: tuple[Rectangle, ...]
) -> None:
    """SuperLU (X. S. Li, ACM Trans. Math. Softw. 31 (2005) 302) on the same stiffness."""
    x, y = (np.linspace(-80.0 * n, 80.0 * n, n) for n in lines)
    plate = Plate.uniform(PlanMesh.with_openings(x, y, openings), solid_section(80.0, STEEL))
    loads = np.random.default_rng(3).normal(size=(plate.free.size, 7))
    answer = plate.factor.solve(loads)
    expected = factorise(plate.stiffness, plate.free).solve(loads)
    # Condition of the stiffness, about 1e6, times round-off.
    assert answer == pytest.approx(expected, abs=1e-9 * np.abs(expected).max())
    assert plate.factor.solve(loads[:, :1]) == pytest.approx(answer[:, :1], rel=1e-9, abs=1e-12 * np.abs(answer).max())


def test_a_body_that_is_not_held_is_refused() -> None:
    with pytest.raises(MechanicsFailed, match="not positive definite"):
        BlockFactor.of(sparse.csr_array(np.diag([1.0, 0.0, 1.0])), np.array([0, 0, 1]))


def test_blocks_that_are_no_neighbours_must_not_couple() -> None:
    coupled = np.eye(3)
    coupled[0, 2] = coupled[2, 0] = 0.1
    with pytest.raises(ValueError, match="not neighbours"):
        BlockFactor.of(sparse.csr_array(coupled), np.array([0, 1, 2]))

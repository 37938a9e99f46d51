"""A solid's own readings on movements that are known: even strains, rigid motions, and forces laid out on it."""

from __future__ import annotations

import numpy as np
import pytest

from deflect.mechanics.arrays import Floats
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.solid import Solid, solid_matter
from deflect.mechanics.solid_body import solid_forces
from deflect.model.die import DieBase
from deflect.model.force import Line, Patch
from deflect.model.material import Material
from deflect.model.values import Rectangle

STEEL = Material("steel", 210_000.0, 0.3, 7.85e-6, 120.0)
LAYERS = np.array([10.0, 40.0, 110.0])
X, Y = np.array([-200.0, 0.0, 300.0]), np.array([-100.0, 50.0, 150.0, 200.0])
SOLID = Solid(PlanMesh.with_openings(X, Y, ()), LAYERS, (solid_matter(STEEL),), np.zeros(6, dtype=np.int64))
POINTS = np.array([[-150.0, -60.0], [120.0, 10.0], [299.0, 199.0]])


def places() -> Floats:
    """Where the nodes of the faces are (3, nodes): in order of a motion."""
    x, y = SOLID.rigid[2::3, 1], SOLID.rigid[2::3, 2]
    return np.stack([x, y, -SOLID.rigid[0::3, 1]])


def stretched(ex: float, ey: float, shear: float) -> Floats:
    """A motion of even strains in plan, the same on both faces."""
    x, y, _ = places()
    motion = np.zeros(SOLID.motions)
    motion[0::3], motion[1::3] = ex * x + shear * y / 2, ey * y + shear * x / 2
    return motion


@pytest.mark.parametrize("strain", [(1e-4, 0.0, 0.0), (1e-4, 2e-4, 0.0), (2e-4, -1e-4, 3e-4)])
def test_stress_of_a_face_is_von_mises_of_plane_stress(strain: tuple[float, float, float]) -> None:
    ex, ey, shear = strain
    e, nu = STEEL.youngs_modulus, STEEL.poisson_ratio
    sx, sy = e * (ex + nu * ey) / (1 - nu**2), e * (ey + nu * ex) / (1 - nu**2)
    txy = e / (2 * (1 + nu)) * shear
    exact = np.sqrt(((sx - sy) ** 2 + sx**2 + sy**2) / 2 + 3 * txy**2)
    assert SOLID.face_stress(stretched(*strain), POINTS) == pytest.approx(exact, rel=1e-9)


def test_faces_read_a_motion_that_is_quadratic_exactly() -> None:
    """Rise, lean of the line between the faces, and slopes along x and y."""
    x, y, z = places()
    motion = np.zeros(SOLID.motions)
    motion[2::3] = 1e-5 * x**2 + 2e-5 * x * y - 3e-5 * y**2
    motion[0::3], motion[1::3] = -z * (1e-3 + 1e-5 * x), -z * 2e-3
    px, py = POINTS.T
    for read, height in ((SOLID.top(POINTS), 110.0), (SOLID.underside(POINTS), 10.0)):
        assert read.surface @ motion == pytest.approx(1e-5 * px**2 + 2e-5 * px * py - 3e-5 * py**2, abs=1e-12)
        assert read.along[0] @ motion == pytest.approx(-height * (1e-3 + 1e-5 * px), abs=1e-12)
        assert read.along[1] @ motion == pytest.approx(np.full(3, -height * 2e-3), abs=1e-12)
        assert read.rotation_x @ motion == pytest.approx(1e-3 + 1e-5 * px, abs=1e-12)
        assert read.rotation_y @ motion == pytest.approx(np.full(3, 2e-3), abs=1e-12)
        strain = [row @ motion for row in read.strain]
        assert strain[0] == pytest.approx(np.full(3, -height * 1e-5), abs=1e-12)
        assert np.abs(strain[1:]).max() < 1e-12


def test_a_force_at_a_point_moves_the_mean_of_its_pad() -> None:
    """Nine points 33 mm apart; at an edge those beyond it stand on it."""
    x, _, _ = places()
    motion = np.zeros(SOLID.motions)
    motion[2::3] = x**2
    third = 100.0 / 3
    read = SOLID.top(np.array([[-150.0, 0.0], [290.0, 0.0], [-200.0, 0.0]])).deflection @ motion
    assert read[0] == pytest.approx(150.0**2 + 2 / 3 * third**2)
    assert read[1] == pytest.approx(((290.0 - third) ** 2 + 290.0**2 + 300.0**2) / 3)
    assert read[2] == pytest.approx((2 * 200.0**2 + (200.0 - third) ** 2) / 3)


def test_rigid_motions_move_every_node_as_a_rigid_body() -> None:
    x, y, z = places()
    assert sorted({round(float(v), 9) for v in z}) == [10.0, 110.0]
    tilt_x, tilt_y = SOLID.rigid[:, 1], SOLID.rigid[:, 2]
    assert tilt_x[0::3] == pytest.approx(-z)
    assert tilt_x[2::3] == pytest.approx(x)
    assert tilt_y[1::3] == pytest.approx(-z)
    assert tilt_y[2::3] == pytest.approx(y)
    assert (x.min(), x.max(), y.min(), y.max()) == pytest.approx((-200.0, 300.0, -100.0, 200.0))
    assert SOLID.face_stress(tilt_x + 2 * tilt_y, POINTS) == pytest.approx(0.0, abs=1e-6)


def test_its_weight_is_its_mass_at_its_middle() -> None:
    mass = 500.0 * 300.0 * 100.0 * STEEL.density
    assert SOLID.rigid.T @ SOLID.own_weight() == pytest.approx([-mass, -mass * 50.0, -mass * 50.0])


def test_lines_of_force_spread_to_half_of_the_bases_thickness() -> None:
    """A line along x of a base 200 mm thick presses on a strip 100 mm wide; its resultant stays where it is."""
    base = DieBase(1000.0, 600.0, 200.0, STEEL)
    line = Line(0.5, ((-300.0, 0.0), (300.0, 0.0)))
    found = solid_forces((line, Patch(0.5, Rectangle(200.0, 100.0, 100.0, 100.0))), 2e5, base)
    assert found.force.sum() == pytest.approx(2e5)
    assert found.centre == pytest.approx([100.0, 50.0])
    strip = solid_forces((line,), 1e5, base)
    y = strip.points[:, 1]
    assert (y.min(), y.max()) == pytest.approx((-37.5, 37.5))
    # Evenly over 100 mm: the second moment of four points is 15/16 of b^2/12.
    assert strip.force @ y**2 / 5e4 == pytest.approx(100.0**2 / 12 * 15 / 16)


def test_a_line_near_an_edge_spreads_as_far_as_the_edge() -> None:
    """20 mm from the edge: 20 mm to either side, so that it stays where it is."""
    base = DieBase(1000.0, 600.0, 200.0, STEEL)
    strip = solid_forces((Line(1.0, ((-300.0, 280.0), (300.0, 280.0))),), 1e5, base)
    assert strip.centre == pytest.approx([0.0, 280.0], abs=1e-9)
    assert strip.points[:, 1].max() == pytest.approx(295.0)
    assert strip.points[:, 1].min() == pytest.approx(265.0)

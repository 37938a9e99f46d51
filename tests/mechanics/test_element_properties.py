"""What a sound plate element must do, whatever the problem: properties, each derived from the equations.

Sources of the demands: B. M. Irons (patch test); K. J. Bathe, E. N. Dvorkin, Int. J. Numer. Methods Eng. 22
(1986) 697 (no locking, no spurious modes).  Exact figures: deflect.checks.exact.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import scipy.sparse as sparse
from skfem import CellBasis, MeshQuad

from deflect.checks.bench.plates import (
    SIDE,
    bend,
    even_pressure,
    held,
    moments,
    patch_force,
    point_force,
    rectangle,
    sinking,
    slab,
)
from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.element import ElementQuadMITC9
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.plate import Plate, edge_unknowns
from deflect.mechanics.sections import PlateSection
from deflect.model.values import Rectangle


def test_rigid_motions_cost_no_energy_and_meet_the_load() -> None:
    """Equilibrium: whatever supports carry, they carry the whole load and its moments."""
    plate = rectangle(slab(80.0), 1.4 * SIDE, SIDE, 7, 5)
    load = patch_force(plate, Rectangle(200.0, -150.0, 180.0, 220.0), 5e4)
    fixed = held(plate, "soft", ("left", "front"))
    motion = bend(plate, load, fixed)
    reaction = plate.stiffness @ motion - load
    assert np.abs(np.delete(reaction, fixed)).max() < 1e-9 * 5e4
    # The load's resultant: force down, and its moments about the origin.
    assert plate.rigid.T @ load == pytest.approx([-5e4, -5e4 * 200.0, 5e4 * 150.0], rel=1e-9)
    assert plate.rigid.T @ reaction == pytest.approx(-(plate.rigid.T @ load), rel=1e-7)


def _off_centre(length: float, width: float, at: tuple[float, float], section: PlateSection) -> tuple[Plate, Floats]:
    """A plate held on the left (hard) and in front (soft), loaded off its centre."""
    plate = rectangle(section, length, width, round(length / 100), round(width / 100))
    motion = bend(plate, patch_force(plate, Rectangle(*at, 150.0, 150.0), 1e5), _two_sides(plate, "left", "front"))
    return plate, motion


def _two_sides(plate: Plate, hard: str, soft: str) -> Integers:
    return np.union1d(edge_unknowns(plate, (hard,), "hard"), edge_unknowns(plate, (soft,), "soft"))


PROBES = [(-300.0, -200.0), (100.0, 50.0), (500.0, 300.0), (650.0, -350.0)]


def test_mirrored_problem_has_the_mirrored_answer() -> None:
    plate, motion = _off_centre(1400.0, 800.0, (150.0, -120.0), slab(60.0))
    load = patch_force(plate, Rectangle(-150.0, -120.0, 150.0, 150.0), 1e5)
    mirrored = bend(plate, load, _two_sides(plate, "right", "front"))
    for x, y in PROBES:
        assert sinking(plate, mirrored, -x, y) == pytest.approx(sinking(plate, motion, x, y), rel=1e-7)
        there = moments(plate, mirrored, -x, y) * (1, 1, -1)
        assert there == pytest.approx(moments(plate, motion, x, y), rel=1e-6, abs=1e-3)


def test_turned_problem_has_the_turned_answer() -> None:
    """By 90 degrees, with a section stiffer along one axis: x becomes y, y becomes -x."""
    plain = slab(60.0)
    swap = np.ix_([1, 0, 2], [1, 0, 2])
    along_x = replace(
        plain,
        bending=plain.bending * np.outer((2.0, 1, 1), (2.0, 1, 1)) ** 0.5,
        shear=plain.shear * np.diag((1.5, 1.0)),
    )
    along_y = replace(along_x, bending=along_x.bending[swap], shear=along_x.shear[::-1, ::-1])
    plate, motion = _off_centre(1400.0, 800.0, (150.0, -120.0), along_x)
    turned = rectangle(along_y, 800.0, 1400.0, 8, 14)
    load = patch_force(turned, Rectangle(120.0, 150.0, 150.0, 150.0), 1e5)
    answer = bend(turned, load, _two_sides(turned, "front", "right"))
    for x, y in PROBES:
        assert sinking(turned, answer, -y, x) == pytest.approx(sinking(plate, motion, x, y), rel=1e-7)
        mx, my, mxy = moments(plate, motion, x, y)
        assert moments(turned, answer, -y, x) == pytest.approx((my, mx, -mxy), rel=1e-6, abs=1e-3)


def test_shifted_problem_has_the_same_answer() -> None:
    plate, motion = _off_centre(1400.0, 800.0, (150.0, -120.0), slab(60.0))
    mesh = PlanMesh.with_openings(plate.mesh.x + 5300.0, plate.mesh.y - 1700.0, ())
    shifted = Plate.uniform(mesh, slab(60.0))
    load = patch_force(shifted, Rectangle(5450.0, -1820.0, 150.0, 150.0), 1e5)
    answer = bend(shifted, load, _two_sides(shifted, "left", "front"))
    for x, y in PROBES:
        assert sinking(shifted, answer, x + 5300.0, y - 1700.0) == pytest.approx(sinking(plate, motion, x, y), rel=1e-7)


def test_betti_and_maxwell_reciprocity() -> None:
    """Deflection at i under a force at j is that at j under a force at i; the same of forces and rotations."""
    plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
    read = plate.at(np.array(PROBES))
    rows = sparse.vstack([read.deflection, read.rotation_x, read.surface]).tocsr()
    compliance = rows @ plate.respond(rows)
    assert compliance == pytest.approx(compliance.T, abs=1e-10 * np.abs(compliance).max())
    assert np.linalg.eigvalsh((compliance + compliance.T) / 2).min() > -1e-12 * np.abs(compliance).max()


def test_superposition_while_nothing_touches() -> None:
    plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
    fixed = held(plate, "soft")
    one, other = even_pressure(plate, 0.5), point_force(plate, 300.0, -100.0, 2e4)
    together = bend(plate, 2 * one - other, fixed)
    assert together == pytest.approx(2 * bend(plate, one, fixed) - bend(plate, other, fixed), abs=1e-9)


def test_pins_carry_nothing_once_the_loads_balance() -> None:
    """A free plate under balanced forces bends alike, whichever three deflections are pinned."""
    shapes = []
    for pinned in (None, ((100.0, 0.0), (500.0, -200.0), (-300.0, 300.0))):
        plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
        if pinned is not None:
            deflections = np.flatnonzero(plate.component == 0)
            away = plate.basis.doflocs[:, deflections, None] - np.array(pinned).T[:, None, :]
            plate.__dict__["pins"] = deflections[np.hypot(*away).argmin(axis=0)]
        load = point_force(plate, 0, 0, 2e4) + sum(
            point_force(plate, x, y, -5e3) for x, y in ((600, 300), (-600, 300), (600, -300), (-600, -300))
        )
        motion = plate.respond(sparse.csr_array(load[None, :]))[:, 0]
        rigid = plate.rigid
        shapes.append(motion - rigid @ np.linalg.lstsq(rigid, motion, rcond=None)[0])
    assert shapes[0] == pytest.approx(shapes[1], abs=1e-9 * np.abs(shapes[0]).max())


def test_weight_is_mass() -> None:
    plate = rectangle(slab(60.0), 1400.0, 800.0, 7, 4)
    # The invented material weighs 1e-6 kg/mm3.
    assert plate.rigid.T @ plate.own_weight() == pytest.approx([-60e-6 * 1400.0 * 800.0, 0, 0], abs=1e-6)


# One element whose own axes are x and y, and one that is no parallelogram.
BOX = MeshQuad(np.array([[-150.0, 250.0, 250.0, -150.0], [40.0, 40.0, 340.0, 340.0]]), np.arange(4)[:, None])
SKEWED = MeshQuad(np.array([[-150.0, 250.0, 330.0, -110.0], [40.0, -30.0, 340.0, 250.0]]), np.arange(4)[:, None])


def test_shear_is_tied_at_two_gauss_points_along_it_and_three_across() -> None:
    """Bucalem and Bathe 1993: there, for every function, the shear along an edge's way is the slope less the rotation.

    The points are Gauss's own.  Across, they count only where the element is no parallelogram.
    """
    two, three = (0.5 + np.polynomial.legendre.leggauss(n)[0] / 2 for n in (2, 3))
    for way, (x, y) in enumerate(((two, three), (three, two))):
        ties = np.stack([g.ravel() for g in np.meshgrid(x, y, indexing="ij")])
        read = CellBasis(SKEWED, ElementQuadMITC9(), quadrature=(ties, np.ones(6)))
        edge = read.mapping.DF(ties)[:, way]
        for deflection, rotation, shear in read.basis:
            plain = deflection.grad - np.asarray(rotation)
            assert (edge * np.asarray(shear)).sum(axis=0) == pytest.approx((edge * plain).sum(axis=0), abs=1e-9)


def test_tied_shear_is_as_smooth_as_its_ties_allow() -> None:
    """Linear along itself, quadratic across: second and third differences of it vanish."""
    even = np.linspace(0.0, 1.0, 5)
    points = np.stack([g.ravel() for g in np.meshgrid(even, even, indexing="ij")])
    read = CellBasis(BOX, ElementQuadMITC9(), quadrature=(points, np.ones(25)))
    for _, _, shear in read.basis:
        for component, (along, across) in enumerate(((2, 3), (3, 2))):
            field = np.asarray(shear)[component, 0].reshape(5, 5)
            assert np.diff(field, along, axis=0) == pytest.approx(0.0, abs=1e-12)
            assert np.diff(field, across, axis=1) == pytest.approx(0.0, abs=1e-12)

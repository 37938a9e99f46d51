"""Solid bodies against three-dimensional elasticity, against plates where those are exact, and against the references.

The full references take minutes: ``tests/bench/test_solid_speed.py`` runs them.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
import scipy.sparse as sparse
from exact_solids import square_plate_deflection
from reference_bodies import BLOCK, BOLSTER, HOLDING_LAND, OPENING, PATCH, case_of
from scipy.interpolate import griddata

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.body import GRAVITY, condense_table
from deflect.mechanics.drag import Drag
from deflect.mechanics.loads import rectangle_points
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.plate import factorise
from deflect.mechanics.side_by_side import side_by_side
from deflect.mechanics.solid import PAD, Orthotropy, Solid, elastic_law, solid_matter
from deflect.mechanics.solid_body import SolidMesh, refuse_shapes, solid_base, solid_forces, solid_table, stand_solid
from deflect.mechanics.solution import Solution, solve
from deflect.mechanics.standing import Assumptions, State, stand
from deflect.model.die import Step
from deflect.model.force import Line, Patch
from deflect.model.material import Material
from deflect.model.press import Bolster, PinField, SubPlate, TSlots
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.values import Rectangle

STEEL = Material("steel", 206_000.0, 0.3, 7.85e-6, 120.0)
COARSE = SolidMesh(size=350.0, edge=40.0, fine=60.0, table_layers=(0.0, 1.0), base_layers=(0.0, 1.0))
SOFT = replace(STEEL, youngs_modulus=1.0)
LAYERS = 4
# Left of an exact answer by the factor's round-off.
ROUND_OFF = 1e-9


def block(x: Floats, y: Floats, layers: Floats, material: Material = STEEL) -> Solid:
    mesh = PlanMesh.with_openings(x, y, ())
    return Solid(mesh, layers, (solid_matter(material),), np.zeros(int(mesh.filled.sum()), dtype=np.int64))


UNEVEN = block(np.array([0.0, 30.0, 100.0]), np.array([0.0, 45.0, 60.0]), np.array([0.0, 10.0, 40.0]))


def faces_pressed(solid: Solid, pressure: float) -> Floats:
    """Motion under an even pressure, MPa, on both faces."""
    plan = Rectangle(50.0, 30.0, 100.0, 60.0)
    points, weight = rectangle_points(plan, 5.0)
    load = (solid.underside(points).surface - solid.top(points).surface).T @ (weight * pressure)
    return solid.respond(sparse.csr_array(load[None, :]))[:, 0]


def test_nothing_but_the_six_rigid_motions_is_free() -> None:
    solid = block(np.array([0.0, 1.0, 3.0]), np.array([0.0, 2.0]), np.array([0.0, 1.5]), SOFT)
    values = np.linalg.eigvalsh(solid.stiffness.toarray())
    # The seventh is a bending mode; the six before it are nothing but round-off.
    assert np.abs(values[:6]).max() < 1e-13
    assert values[6] > 1e-4


def test_rigid_motions_of_the_faces_carry_no_force() -> None:
    x, y, z = UNEVEN.places
    whole = np.zeros((UNEVEN.unknowns, 3))
    whole[2::3] = np.stack([np.ones(x.size), x, y], axis=1)
    whole[0::3, 1], whole[1::3, 2] = -z, -z
    assert np.abs(UNEVEN.stiffness @ whole).max() < 1e-12 * np.abs(UNEVEN.stiffness).max() * 100
    faces = np.flatnonzero((z == 0.0) | (z == 40.0))
    read = whole[(3 * faces[:, None] + np.arange(3)).ravel()]
    assert np.array_equal(read, UNEVEN.rigid)


def test_patch_test_block_under_even_pressure() -> None:
    """Derived: an even pressure p shortens a free block by p t/E and widens it by nu p/E, on any mesh of boxes."""
    pressure = 50.0
    motion = faces_pressed(UNEVEN, pressure)
    points = np.array([(0.0, 0.0), (100.0, 60.0), (37.0, 11.0), (80.0, 50.0)])
    top, below = UNEVEN.top(points), UNEVEN.underside(points)
    shortening = (below.surface - top.surface) @ motion
    exact = pressure * 40.0 / STEEL.youngs_modulus
    assert shortening == pytest.approx(exact, rel=ROUND_OFF)
    widening = STEEL.poisson_ratio * pressure / STEEL.youngs_modulus
    for strain, value in zip(top.strain, (widening, widening, 0.0), strict=True):
        assert strain @ motion == pytest.approx(value, abs=ROUND_OFF * widening)
    assert np.ptp(top.along[0] @ motion - widening * points[:, 0]) < ROUND_OFF * widening * 100.0
    assert np.abs(top.rotation_x @ motion).max() < ROUND_OFF


def test_shear_of_a_face_is_read_as_engineers_count_it() -> None:
    """Derived: u = 3 y and v = 2 x are a shear strain of 5, with no stretch."""
    x, y, z = UNEVEN.places
    faces = (z == 0.0) | (z == 40.0)
    motion = np.column_stack([3 * y, 2 * x, 0 * z])[faces].ravel()
    for read in (UNEVEN.top(np.array([(40.0, 20.0)])), UNEVEN.underside(np.array([(70.0, 50.0)]))):
        assert [float((row @ motion)[0]) for row in read.strain] == pytest.approx([0.0, 0.0, 5.0], abs=1e-12)


def test_force_at_a_point_presses_on_a_pad_that_keeps_to_the_material() -> None:
    mesh = PlanMesh.with_openings(*2 * [np.linspace(0.0, 400.0, 5)], (Rectangle(250.0, 250.0, 100.0, 100.0),))
    matter, kind = (solid_matter(STEEL),), np.zeros(int(mesh.filled.sum()), dtype=np.int64)
    solid = Solid(mesh, np.array([0.0, 50.0]), matter, kind)
    inside, at_corner, at_hole = (
        solid.top(np.array([(100.0, 100.0), (0.0, 0.0), (190.0, 250.0)])).deflection @ solid.rigid
    )
    assert inside == pytest.approx([1.0, 100.0, 100.0])
    # A third of the pad lies on the plan's edge, and the two thirds that would pass it are drawn in to it.
    assert at_corner == pytest.approx([1.0, PAD / 9, PAD / 9])
    assert at_hole == pytest.approx([1.0, (156.667 + 190.0 + 190.0) / 3, 250.0], abs=1e-2)


def test_face_stress_of_a_widened_block() -> None:
    """The faces' own law knows no pressure: nu p of stress both ways, hence of von Mises stress as well."""
    motion = faces_pressed(UNEVEN, 50.0)
    nu = STEEL.poisson_ratio
    assert UNEVEN.face_stress(motion, np.array([(50.0, 30.0)])) == pytest.approx(nu * 50.0 / (1 - nu), rel=ROUND_OFF)


@pytest.mark.parametrize(("thickness", "printed"), [(50.0, 0.0041090), (100.0, 0.0042488), (200.0, 0.0048035)])
def test_thick_plate_by_vlasov_and_by_srinivas_and_rao(thickness: float, printed: float) -> None:
    """Simply supported square, pressure on its top; a quarter of it, the middle at the origin."""
    side, pressure = 1000.0, 1.0
    rigidity = STEEL.youngs_modulus * thickness**3 / (12 * (1 - STEEL.poisson_ratio**2))
    exact = square_plate_deflection(STEEL, side, thickness, pressure, terms=8)
    assert exact * rigidity / (pressure * side**4) == pytest.approx(printed, abs=5e-7)
    lines = np.linspace(0.0, side / 2, 7)
    solid = block(lines, lines, thickness * np.linspace(-0.5, 0.5, LAYERS + 1))
    points, weight = rectangle_points(Rectangle(side / 4, side / 4, side / 2, side / 2), side / 12)
    faces = np.flatnonzero(np.isin(solid.places[2], (-thickness / 2, thickness / 2)))
    load = np.zeros(solid.unknowns)
    load[(3 * faces[:, None] + np.arange(3)).ravel()] = -(solid.top(points).surface.T @ (weight * pressure))
    free = np.setdiff1d(np.arange(solid.unknowns), navier_supports(solid, side / 2))
    moved = np.zeros(solid.unknowns)
    moved[free] = factorise(solid.stiffness, free).solve(load[free])
    middle = int(np.argmin(np.linalg.norm(solid.places, axis=0)))
    # 0.05 %: six elements to the half side, four through the thickness; two through it miss the thickest by 0.15 %.
    assert -moved[3 * middle + 2] == pytest.approx(exact, rel=5e-4)


def navier_supports(solid: Solid, half: float) -> Integers:
    """Unknowns held at the outer sides (rise, and movement along the side) and on the planes of symmetry."""
    x, y, _ = solid.places
    held = [
        3 * np.flatnonzero(x == half) + 1,
        3 * np.flatnonzero(x == half) + 2,
        3 * np.flatnonzero(y == half),
        3 * np.flatnonzero(y == half) + 2,
        3 * np.flatnonzero(x == 0.0),
        3 * np.flatnonzero(y == 0.0) + 1,
    ]
    return np.unique(np.concatenate(held))


def test_thin_slab_bends_as_the_plate() -> None:
    """A slab of 1/40 of its length, pressed in its middle and held up at its ends: both theories agree on it."""
    thin = Bolster(2000.0, 1000.0, 50.0, 0.0, STEEL)
    opening = Rectangle(0.0, 0.0, 1600.0, 600.0)
    ends = [Rectangle(x, 0.0, 200.0, 1000.0) for x in (-900.0, 900.0)]
    parts = [Rectangle(0.0, 0.0, 400.0, 400.0), *ends]
    place = np.array([(0.0, 0.0), (-1000.0, -500.0), (1000.0, 500.0), (0.0, 500.0), (500.0, 0.0)])
    sag = []
    for body in (condense_table(thin, opening), solid_table(thin, opening, SolidMesh(150.0, 100.0, 100.0, (0.0, 1.0)))):
        load = np.zeros(body.motions)
        for area, force in zip(parts, (-2e4, 1e4, 1e4), strict=True):
            points, weight = rectangle_points(area)
            load += body.top(points).surface.T @ (weight * force / weight.sum())
        motion = body.respond(sparse.csr_array(load[None, :]))[:, 0]
        rise = body.top(place).surface @ motion
        plane = np.column_stack([np.ones(5), place])
        sag.append(rise - plane @ np.linalg.lstsq(plane, rise, rcond=None)[0])
        lean = body.top(place[-1:]).rotation_x @ motion - body.top(-place[-1:]).rotation_x @ motion
        sag[-1] = np.append(sag[-1], 500.0 * lean)
    # 0.5 %: what shear and thickening still do at 1/40, and the meshes of both.
    assert sag[1] == pytest.approx(sag[0], abs=5e-3 * np.abs(sag[0]).max())


def test_pin_holes_keep_the_modulus_along_them_by_area_and_the_contraction() -> None:
    """Derived: a stress along the holes leaves their walls free, so that E goes by area and nu stays."""
    law = elastic_law(STEEL, Orthotropy(modulus=0.5, shear=0.3, area=0.7, poisson=0.2))
    compliance = np.linalg.inv(law)
    assert 1 / compliance[2, 2] == pytest.approx(0.7 * STEEL.youngs_modulus)
    assert -compliance[0, 2] / compliance[2, 2] == pytest.approx(STEEL.poisson_ratio)
    assert 1 / compliance[0, 0] == pytest.approx(0.5 * STEEL.youngs_modulus)
    assert 1 / compliance[[3, 4, 5], [3, 4, 5]] == pytest.approx(np.array([0.3, 0.7, 0.7]) * STEEL.shear_modulus)
    assert np.abs(compliance - compliance.T).max() < ROUND_OFF * compliance.max()


@lru_cache(maxsize=1)
def _pressed_block() -> State:
    mesh = SolidMesh(size=200.0, edge=25.0, fine=50.0, base_layers=(0.0, 1.0))
    return stand_solid(case_of(PATCH, 10e6), mesh).solve(1.0, HOLDING_LAND)


@lru_cache(maxsize=1)
def _block_under_a_patch() -> Solution:
    full = _pressed_block()
    return solve(full.standing, HOLDING_LAND, full, full)


def test_block_under_a_patch_on_a_coarse_mesh() -> None:
    """Source: ours, R2: three-dimensional solids, converged, cross-checked with a second solver, within 0.5 %."""
    solution = _block_under_a_patch()
    middle = np.hypot(*solution.patches.centre.T)
    face = solution.face.movement[middle < middle.min() + 1e-6].mean()
    # 3 %: elements of 200 mm, and patches of land of 25 mm at the opening's edge; the usual mesh is within 1 %.
    assert face == pytest.approx(-0.4263, rel=0.03)
    # 5 %: as above, over the lever from the opening to the corners.
    assert solution.greatest_gap == pytest.approx(0.0681, rel=0.05)
    assert np.abs(solution.greatest_gap_at) == pytest.approx((1400.0, 700.0))


def test_surfaces_of_solids_move_over_each_other_as_those_of_plates() -> None:
    """Breathing at the places where the reference R3 is read: of one case, by rotations and by displacements."""
    places = np.array([(300.0, 0.0), (600.0, 0.0), (800.0, 0.0), (0.0, 505.0)])
    told = []
    for state in (stand(case_of(PATCH, 10e6)).solve(1.0, HOLDING_LAND), _pressed_block()):
        drag = Drag.of(state.standing)
        moved = drag.breathing(state)
        # A shift and a turn of the whole die are no breathing: solids are held against them at a few corners.
        x, y = drag.places.T
        rigid = np.zeros((moved.size, 3))
        rigid[0::2, 0], rigid[1::2, 1], rigid[0::2, 2], rigid[1::2, 2] = 1.0, 1.0, -y, x
        moved = moved - (rigid @ np.linalg.lstsq(rigid, moved.ravel(), rcond=None)[0]).reshape(-1, 2)
        told.append(griddata(drag.places, moved, places))
    plate, solid = told
    # 8 %: the slip of plates is 0 to 6 % less than in converged solids, and this mesh is coarse.
    assert plate[:3, 0] == pytest.approx(solid[:3, 0], rel=0.08)
    assert plate[3, 1] == pytest.approx(solid[3, 1], rel=0.08)
    # 0.001 mm: across the axes of symmetry nothing moves, but for the corners that the solids are held at.
    assert np.abs([*plate[:3, 1], *solid[:3, 1], plate[3, 0], solid[3, 0]]).max() < 1e-3


def test_coarse_solids_hold_every_balance() -> None:
    evidence = _block_under_a_patch().evidence
    assert max(evidence.force_balance, evidence.moment_balance, evidence.complementarity) < ROUND_OFF


def test_answers_are_reciprocal() -> None:
    base = solid_base(BLOCK, COARSE)
    compliance = base.contact_rows @ base.contact_answer
    assert np.abs(compliance - compliance.T).max() < ROUND_OFF * np.abs(compliance).max()


def test_weight_of_a_drilled_bolster_is_its_mass() -> None:
    drilled = replace(BOLSTER, mass=13_000.0, pin_field=PinField(150.0, 50.0, Rectangle(0.0, 0.0, 1500.0, 600.0)))
    table = solid_table(drilled, OPENING, COARSE)
    assert table.weight_load @ table.rigid == pytest.approx([-13_000.0 * GRAVITY, 0.0, 0.0], abs=1e-3)


def test_line_of_force_spreads_and_stays_where_it_is() -> None:
    line = Line(1.0, ((-1350.0, 0.0), (1350.0, 0.0), (1350.0, 650.0)))
    area = Patch(0.5, Rectangle(100.0, 50.0, 200.0, 100.0))
    forces = solid_forces((replace(line, share=0.5), area), 2e6, BLOCK)
    assert forces.force.sum() == pytest.approx(2e6)
    alone = solid_forces((line,), 1e6, BLOCK)
    length = np.array([2700.0, 650.0])
    assert alone.centre == pytest.approx(length @ np.array([(0.0, 0.0), (1350.0, 325.0)]) / length.sum())
    assert np.abs(alone.points).max(axis=0) == pytest.approx((1400.0, 700.0), abs=25.0)
    assert (np.abs(alone.points) <= (1400.0, 700.0)).all()


def test_bodies_that_are_no_plain_blocks_are_refused_all_at_once() -> None:
    ribs = RibPattern(40.0, 0.0, 40.0, Ribs(400.0, 40.0), None)
    stacked = replace(BOLSTER, sub_plate=SubPlate(Rectangle(0.0, 0.0, 1500.0, 800.0), 60.0, STEEL))
    slotted = replace(stacked, t_slots=TSlots(36.0, 200.0, "y", 0.0, depth=60.0))
    with pytest.raises(MechanicsFailed, match=r"sub_plate, press\.bolster\.t_slots\.depth would"):
        solid_table(slotted, OPENING, COARSE)
    case = case_of(PATCH, 10e6)
    press = replace(case.press, bolster=replace(BOLSTER, ribs=ribs))
    stepped = replace(BLOCK, ribs=ribs, steps=(Step(Rectangle(0.0, 0.0, 200.0, 200.0), 350.0),))
    with pytest.raises(MechanicsFailed, match=r"bolster\.ribs, die\.base\.ribs, die\.base\.steps would"):
        stand_solid(replace(case, press=press, die=replace(case.die, base=stepped)), COARSE)


def test_slots_of_no_stated_depth_leave_a_plain_block() -> None:
    refuse_shapes(replace(BOLSTER, t_slots=TSlots(36.0, 200.0, "y", 0.0)), BLOCK)


def test_side_by_side_takes_one_case_twice() -> None:
    said: list[str] = []
    told = side_by_side(case_of(PATCH, 10e6), Assumptions(50.0), said.append, COARSE)
    # 10 %: a mesh of 350 mm; that both are of one case is all that is asked here.
    assert told.solid.table_centre == pytest.approx(told.plate.table_centre, rel=0.1)
    assert told.solid.unknowns > told.plate.unknowns
    assert told.solid.memory > 0
    assert any("factorising the bolster" in words for words in said)

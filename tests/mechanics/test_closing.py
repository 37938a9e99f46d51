"""Lower half against upper half: symmetries, balances, and what follows from the definition of camber."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from upper_bodies import BASE, BODY, FORCE, LAND, pair, stacks, weightless

from deflect.casefile import read_case
from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.closing import close, face_grid, reading_grid, upper_half
from deflect.mechanics.closure import Closure, Stiff, close_pair, edges_of
from deflect.mechanics.hanging import as_table, condense_slide
from deflect.mechanics.solution import face_area
from deflect.model.case import Case
from deflect.model.die import Operation, Sheet
from deflect.model.force import Line
from deflect.model.material import Material
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.values import Interval, Rectangle

# The acceptance of the closure map: mirror images agree to this share.
MIRRORED = 1e-9
STIFF = Stiff(LAND, 3e6)


def closed(case: Case, made: Floats | None = None) -> Closure:
    standing, hanging = stacks(case)
    return close_pair(case, standing, hanging, STIFF, made)


@pytest.fixture(scope="module")
def symmetric() -> Closure:
    return closed(pair())


def in_plan(closure: Closure, values: Floats) -> Floats:
    """Values over the face as a grid (16, 8), left to right and front to back."""
    return values.reshape(16, 8)


@pytest.mark.parametrize("axis", [0, 1])
def test_a_symmetric_pair_closes_mirror_symmetric(symmetric: Closure, axis: int) -> None:
    """Nothing tells left from right, nor front from back."""
    for values in (symmetric.pressure, symmetric.lower_error, symmetric.upper_error, symmetric.gap):
        grid = in_plan(symmetric, values)
        assert np.abs(grid - np.flip(grid, axis)).max() <= MIRRORED * max(np.abs(grid).max(), 1e-6)
    assert np.ptp(symmetric.points_force) <= MIRRORED * symmetric.points_force.max()
    assert np.abs(symmetric.tilt).max() < 1e-12


def test_a_half_closed_on_its_own_mirror_image_is_the_mirror_image() -> None:
    """The slide with its die below and the same above: both faces bend alike, and nothing tells them apart."""
    case = weightless(pair())
    _, hanging = stacks(case)
    faces = face_grid(case.die, FORCE)
    half = upper_half(hanging, hanging.assumptions(3e6), case, faces)
    found = close(half, half, faces, hanging, FORCE, np.zeros(faces.count), 1e-5)
    rigid = found.solved.rigid
    lower = half.opening(found.lower_force, found.face_force, rigid[:6])
    upper = half.opening(found.upper_force, found.face_force, rigid[6:12])
    for one, other in ((found.lower_force, found.upper_force), (lower - lower.mean(), upper - upper.mean())):
        assert np.abs(one - other).max() <= MIRRORED * np.abs(one).max()


def test_the_forces_balance(symmetric: Closure) -> None:
    """The faces carry the working force, the hanging points what of it the weight of slide and upper half leaves."""
    assert (symmetric.pressure * symmetric.faces.patches.area).sum() == pytest.approx(FORCE, rel=1e-9)
    hung = (BODY.mass + 6e3) * GRAVITY
    assert symmetric.points_force.sum() == pytest.approx(FORCE - hung, rel=1e-9)
    assert symmetric.balance < 1e-9
    assert symmetric.complementarity < 1e-9


def test_faces_made_with_their_camber_close_evenly(symmetric: Closure) -> None:
    """By definition of the camber; it says that map and camber speak of the same bodies."""
    found = closed(pair(), symmetric.camber)
    assert np.abs(found.pressure / found.even - 1).max() < MIRRORED
    assert np.abs(found.camber).max() < 1e-12


def test_the_middle_of_a_pair_is_left_light(symmetric: Closure) -> None:
    """Table and slide give way between their supports: the corners bear hard, the middle less (common practice)."""
    grid = in_plan(symmetric, symmetric.pressure)
    assert grid[0, 0] > 1.5 * grid[8, 4]
    assert symmetric.lower_error.reshape(16, 8)[8, 4] > symmetric.lower_error.reshape(16, 8)[0, 0]


def test_an_eccentric_force_tilts_a_rigid_slide_by_its_moment_over_the_guides_stiffness() -> None:
    """One hanging point: tilt = F e / K, K = number k h^2 / 4; derived from statics alone."""
    rigid = Material("rigid", 210_000.0 * 1e4, 0.3, 1e-9, 1.0)
    body = replace(BODY, points=((0.0, 0.0),), material=rigid, mass=0.0)
    case = weightless(pair(body, x=100.0, bottoms=False, upper=replace(BASE, material=rigid)))
    found = closed(case)
    assert BODY.guides is not None
    assert abs(found.tilt[0]) == pytest.approx(FORCE * 100.0 / BODY.guides.tilt_stiffness, rel=2e-3)
    assert abs(found.tilt[1]) < 1e-9
    assert found.points_force.sum() == pytest.approx(FORCE, rel=1e-9)


def test_edges_shift_mirror_symmetric() -> None:
    """What shifts to the right on the right shifts to the left on the left."""
    line = Line(1.0, ((-800.0, -400.0), (800.0, -400.0), (800.0, 400.0), (-800.0, 400.0), (-800.0, -400.0)))
    case = pair()
    found = closed(replace(case, die=replace(case.die, operation=Operation.TRIM, patterns=(line,))))
    assert found.edges is not None
    points, shift = found.edges.points, found.edges.shift
    mirror = [int(np.argmin(np.hypot(*(points - (-x, y)).T))) for x, y in points]
    assert np.abs(shift[:, 0] + shift[mirror, 0]).max() < MIRRORED * np.abs(shift).max()
    assert np.abs(shift[:, 1] - shift[mirror, 1]).max() < MIRRORED * np.abs(shift).max()


def test_edges_of_halves_that_lean_alike_do_not_shift_against_each_other() -> None:
    """Each edge moves by its rotation times height: alike in the mirror they stay in line; one alone does not."""
    line = Line(1.0, ((-800.0, -400.0), (800.0, -400.0), (800.0, 400.0), (-800.0, 400.0), (-800.0, -400.0)))
    case = weightless(pair())
    case = replace(case, die=replace(case.die, operation=Operation.TRIM, patterns=(line,)))
    _, hanging = stacks(case)
    faces = reading_grid(face_area(case))
    half = upper_half(hanging, hanging.assumptions(3e6), case, faces)
    solved, _ = half.pressed(faces.even)
    motion = half.base_motion(solved.force, faces.even, solved.rigid)
    alike, alone = (edges_of(case, (half, half), [lower, motion]) for lower in (motion, 0.0 * motion))
    assert alike is not None
    assert alone is not None
    assert alone.greatest > 5e-3
    assert alike.greatest < 1e-9


def test_a_die_off_the_middle_loads_the_nearer_points_more() -> None:
    found = closed(pair(x=120.0))
    left, right = found.points_force[[0, 2]].sum(), found.points_force[[1, 3]].sum()
    assert right > left * 1.05
    assert np.abs(found.tilt[0]) > 1e-7


def test_a_stiffer_sheet_leaves_more_open_and_a_softer_one_evens_out() -> None:
    hard, soft = (closed(pair(sheet=Sheet(1.0, 300.0, 0.1, stiffness))) for stiffness in (1e6, 50.0))
    assert hard.greatest_gap >= soft.greatest_gap
    assert np.ptp(soft.pressure / soft.even) < 0.5 * np.ptp(hard.pressure / hard.even)


def test_marks_are_where_the_gap_is_below_the_film() -> None:
    """A face relieved by 0.1 mm in the middle does not mark there."""
    case = pair(force=4e5)
    faces = face_grid(case.die, 4e5)
    hollow = Rectangle(0.0, 0.0, 800.0, 400.0)
    made = -0.1 * faces.patches.overlap(hollow)
    found = closed(case, made)
    inside = faces.patches.overlap(hollow) > 0
    assert not found.marked[inside].any()
    assert found.marked_share < 0.8
    assert found.greatest_gap > 0.02


def test_a_ribbed_slide_turns_its_face_towards_the_die() -> None:
    """In the mirror the face plate, its bottom skin, is the top of the table; its weight pulls away."""
    ribs = RibPattern(50.0, 90.0, 40.0, Ribs(400.0, 30.0), Ribs(400.0, 30.0))
    slide = pair(replace(BODY, ribs=ribs)).press.slide
    assert slide is not None
    table = as_table(slide)
    assert table.ribs is not None
    assert (table.ribs.top, table.ribs.bottom) == (90.0, 50.0)
    assert table.mass == -BODY.mass


def test_t_slots_of_stated_depth_weaken_the_slides_face() -> None:
    """They stand in its face plate, which is the top in the mirror: softer across them than along, and lighter in
    nothing, for the slide's mass is stated or that of its section."""
    slide = read_case("sorrel-restrike", "birch-12mn").press.slide
    assert slide is not None
    assert slide.t_slots is not None
    plain = condense_slide(slide).plate.sections[0]
    slotted = condense_slide(replace(slide, t_slots=replace(slide.t_slots, depth=60.0))).plate.sections[0]
    across, along = np.diag(slotted.bending)[:2] / np.diag(plain.bending)[:2]
    assert 0.4 < across < 0.9
    assert 0.9 < along < 1.0


def test_a_warm_lower_half_warms_no_upper_one() -> None:
    """A base that is warmer on top domes: of the lower face alone."""
    case = pair()
    warm = replace(case, die=replace(case.die, warmth=Interval.exactly(5.0)))
    cold, found = closed(case), closed(warm)
    assert np.abs(found.upper_error - cold.upper_error).max() < MIRRORED
    assert np.abs(found.lower_error - cold.lower_error).max() > 1e-3

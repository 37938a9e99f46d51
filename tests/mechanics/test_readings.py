"""What is read off solved states, on states made up for it: windows of pressure, what a ring must follow, corners."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from deflect.mechanics import solution
from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import on_material
from deflect.mechanics.contract import BaseBody, TableBody
from deflect.mechanics.holding import bending_line_force, sag_below, share_for_bending
from deflect.mechanics.loading import mean_pressure
from deflect.mechanics.loads import PointForces, patch_grid
from deflect.mechanics.lying import lying
from deflect.mechanics.solution import Solution, fitted_face
from deflect.mechanics.standing import Standing, State
from deflect.model.die import BlankHolder, DieBase
from deflect.model.material import Material
from deflect.model.press import Bolster
from deflect.model.values import Rectangle

IRON = Material("iron", 110_000.0, 0.25, 7.2e-6, 120.0)
GRID = patch_grid(np.linspace(-600, 600, 13), np.linspace(-400, 400, 9))


def stub(**fields: object) -> Any:
    return SimpleNamespace(**fields)


# ---- pressure on the base's top


def pressed(places: list[tuple[float, float]], forces: list[float]) -> Floats:
    """On a base of 1200 by 800 by 400 mm, along x, along y (12, 8): windows are 200 mm square."""
    base = cast(BaseBody, stub(base=DieBase(1200.0, 800.0, 400.0, IRON), patches=GRID))
    return mean_pressure(base, PointForces(np.array(places), np.array(forces))).reshape(12, 8)


def test_a_force_presses_on_a_window_of_half_the_bases_thickness() -> None:
    """40 kN over 200 by 200 mm are 1 MPa, on the patches whose middle is within 100 mm each way."""
    pressure = pressed([(0.0, 0.0)], [40e3])
    assert pressure[5:7, 3:5] == pytest.approx(np.ones((2, 2)))
    assert pressure.sum() == pytest.approx(4.0)
    # Off the middle by 40 mm each way it is still within 100 mm of the same four middles, 90 and 10 mm away.
    assert pressed([(40.0, -40.0)], [40e3]) == pytest.approx(pressure)


def test_a_window_ends_with_the_base() -> None:
    """At its corner 150 by 150 mm are left of the window around the outermost patch, 200 by 150 of the next one."""
    pressure = pressed([(-600.0, -400.0)], [45e3])
    assert pressure[0, 0] == pytest.approx(45e3 / 150**2)
    assert pressure.sum() == pressure[0, 0]
    other = pressed([(500.0, 390.0)], [45e3])
    assert other[11, 7] == pytest.approx(45e3 / 150**2)
    assert other[10, 7] == pytest.approx(45e3 / (200 * 150))
    assert other.sum() == pytest.approx(other[10:, 7].sum())


def test_pressures_add_up() -> None:
    one, other = pressed([(-80.0, 20.0)], [1e4]), pressed([(130.0, -260.0)], [3e4])
    assert pressed([(-80.0, 20.0), (130.0, -260.0)], [1e4, 3e4]) == pytest.approx(one + other)


# ---- faces and rings


def test_a_face_is_told_from_its_best_plane_over_the_face_alone() -> None:
    """What is tilted and sunk has no error; a dent of 1 mm on one of four corners is a quarter up and down on each."""
    points = np.array([(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0), (3.0, 0.0)]) * 100
    tilted = 5.0 + 2e-3 * points[:, 0] - 1e-3 * points[:, 1]
    inside = np.array([True] * 4 + [False])
    flat = fitted_face(points, tilted, inside, np.tile([2e-3, -1e-3], (5, 1)))
    assert flat.error == pytest.approx(np.zeros(5), abs=1e-12)
    assert flat.lean == pytest.approx(np.zeros((5, 2)), abs=1e-15)
    dented = fitted_face(points, tilted - [0, 0, 0, 1.0, 0], inside, np.zeros((5, 2)))
    assert dented.error[:4] == pytest.approx([-0.25, 0.25, 0.25, -0.25])
    assert dented.error_range == pytest.approx(0.5)
    # Beyond the face the same plane goes on: 0.25 mm down, and 0.25 mm per 100 mm along x.
    assert dented.error[4] == pytest.approx(0.25 + 0.75)
    assert dented.lean[0] == pytest.approx([-2e-3 + 2.5e-3, 1e-3 + 2.5e-3])


HOLDER = BlankHolder(1000.0, 600.0, 120.0, 80.0, IRON)


def test_a_ring_follows_what_lies_within_its_middle_line() -> None:
    """Patches whose middle lies on the line count, those beyond it do not."""
    x, y = GRID.centre.T
    error = np.where((np.abs(x) <= 500) & (np.abs(y) <= 300), x * 1e-4, 9.0)
    ring = BlankHolder(1100.0, 500.0, 120.0, 80.0, IRON)
    for holder, far in ((HOLDER, 450.0), (ring, 450.0)):
        told = cast(Solution, stub(patches=GRID, face=stub(error=np.where(np.abs(x) > 500, 0.0, error))))
        assert sag_below(holder, told) == pytest.approx(2 * far * 1e-4)
    on_the_line = BlankHolder(700.0, 500.0, 120.0, 80.0, IRON)
    told = cast(Solution, stub(patches=GRID, face=stub(error=error)))
    assert sag_below(on_the_line, told) == pytest.approx(2 * 350.0 * 1e-4)
    nothing = BlankHolder(20.0, 20.0, 120.0, 80.0, IRON)
    assert sag_below(nothing, told) == 0.0


def test_force_that_bends_a_ring_by_the_beams_formula() -> None:
    """w = 5 q L^4/(384 E I) of 1 m, and all of the middle line of 3.2 m at that force per length."""
    inertia = 120 * 80**3 / 12
    line = bending_line_force(HOLDER, 0.2)
    assert 5 * line * 1000.0**4 / (384 * IRON.youngs_modulus * inertia) == pytest.approx(0.2)
    assert share_for_bending(HOLDER, 0.2, 1e6) == pytest.approx(line * 3200.0 / 1e6)


def test_contact_spreads_from_the_first_to_the_last_patch_that_carries() -> None:
    x, y = GRID.centre.T
    force = np.where((x > -300) & (x < 500) & (np.abs(y) < 100), 1.0, 0.0)
    plan = Rectangle(0.0, 0.0, 1200.0, 800.0)
    # Middles from -250 to 450 and from -50 to 50 mm.
    assert solution._spread_of_contact(GRID.centre, force, plan) == pytest.approx((700 / 1200, 100 / 800))
    assert solution._spread_of_contact(GRID.centre, 0 * force, plan) == (0.0, 0.0)


def test_a_gap_at_a_corner_counts_where_all_patches_that_meet_there_are_open() -> None:
    """Two by two patches, the last one shut: at its own corners a gap is not told, at the far one it is."""
    lines = np.array([0.0, 100.0, 200.0])
    outline = np.stack(np.meshgrid(lines, lines, indexing="ij"), axis=-1)
    centre = patch_grid(lines, lines).centre
    gap = np.array([0.2, 0.1, np.nan, 0.0])
    corners = np.array([[0.3, 0.1, 0.1], [0.1, 0.7, 0.8], [0.25, 0.6, 0.9]])
    assert solution._greatest(gap, centre, outline, corners) == (0.3, (0.0, 0.0))
    corners[0, 0] = 0.0
    assert solution._greatest(gap, centre, outline, corners) == (0.25, (200.0, 0.0))
    corners[2, 0] = np.nan
    assert solution._greatest(gap, centre, outline, corners) == (0.2, (50.0, 50.0))


# ---- how a bolster lies


PLAN = Rectangle(0.0, 0.0, 1200.0, 800.0)


def lying_of(at_rest: Floats, under: Floats, held: bool = True, walls: Floats | None = None) -> Any:
    """A bolster on its whole plan with two hold-downs; openings of the land (12, 8), force of 1 kN on each patch."""
    land = patch_grid(np.linspace(-600, 600, 13), np.linspace(-400, 400, 9))
    holds = (stub(preload=5e4), stub(preload=6e4))
    standing = stub(
        contacts=3,
        lands=96,
        walls=walls,
        table=stub(land=land, bolster=stub(plan=PLAN)),
        case=stub(press=stub(bed=stub(hold_downs=holds))),
    )
    force = np.concatenate([np.full(3, 7.0), np.linspace(0, 1e3, 96), [5.1e4, 6.2e4]])
    full = stub(force=force, land_force=force[3:99], land_gap=under.ravel(), assumptions=stub(hold_downs=held))
    rest = stub(land_gap=at_rest.ravel())
    return lying(cast(Standing, standing), cast(State, rest), cast(State, full))


def test_corners_are_read_at_the_patches_next_to_them() -> None:
    """In front from left to right, then behind: of the grid its first and last column and row."""
    at_rest, under = np.zeros((12, 8)), np.full((12, 8), 9.0)
    under[0, 0], under[11, 0], under[0, 7], under[11, 7] = 0.1, 0.2, 0.3, -1e-12
    told = lying_of(at_rest, under)
    assert told.at_rest == (0.0, 0.0, 0.0, 0.0)
    assert told.under_force == (0.1, 0.2, 0.3, 0.0)


def test_the_hold_down_that_pulls_most_and_the_land_that_is_pressed_most_are_told() -> None:
    none = np.zeros((12, 8))
    told = lying_of(none, none)
    assert (told.hold_down, told.preload) == (6.2e4, 6e4)
    # 1 kN at most, on patches of 100 mm square.
    assert told.pressure == pytest.approx(0.1)
    assert told.wall_sinking is None
    slack = lying_of(none, none, held=False)
    assert (slack.hold_down, slack.preload) == (None, None)


def test_walls_sink_by_all_that_stands_on_them() -> None:
    """Each land port sinks by so much per newton of every port of land and hold-down."""
    none = np.zeros((12, 8))
    sink = np.zeros((98, 98))
    sink[4, 10], sink[4, 97], sink[5, 0] = 1e-6, 2e-6, 1.0
    told = lying_of(none, none, walls=sink)
    assert told.wall_sinking == pytest.approx(1e-6 * 1e3 * 10 / 95 + 2e-6 * 6.2e4)


def test_a_point_is_on_the_bolster_up_to_its_edges_and_off_its_openings() -> None:
    bolster = Bolster(1200.0, 800.0, 200.0, 0.0, IRON, openings=(Rectangle(100.0, 0.0, 200.0, 100.0),))
    table = cast(TableBody, stub(bolster=bolster))
    points = [(600.0, -400.0), (600.1, 0.0), (0.0, 400.1), (100.0, 0.0), (0.0, 0.0), (50.0, 50.0), (199.0, -49.0)]
    assert on_material(table, np.array(points)).tolist() == [True, False, False, False, True, True, False]

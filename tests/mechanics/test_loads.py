"""Forces as points, and areas as patches: quadrature is exact where Gauss's rule says so, counts and places are right.

Two points a side integrate cubes exactly (C. F. Gauss 1814); moments of rectangles and lines by elementary integrals.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from deflect.mechanics.arrays import Floats
from deflect.mechanics.loads import patch_grid, pattern_forces, rectangle_points, ring_parts
from deflect.model.force import Line, Patch, Ring
from deflect.model.values import Rectangle

AREA = Rectangle(30.0, -20.0, 240.0, 90.0)
ROUND_OFF = 1e-12


def mean_power(low: float, high: float, power: int) -> float:
    return (high ** (power + 1) - low ** (power + 1)) / ((power + 1) * (high - low))


@pytest.mark.parametrize("spread", [1000.0, 50.0, 33.0])
def test_points_of_a_rectangle_integrate_cubes_both_ways(spread: float) -> None:
    points, weight = rectangle_points(AREA, spread)
    for i, j in itertools.product(range(4), repeat=2):
        exact = mean_power(AREA.left, AREA.right, i) * mean_power(AREA.front, AREA.back, j) * AREA.length * AREA.width
        size = float((np.abs(points[:, 0]) ** i * np.abs(points[:, 1]) ** j * weight).sum())
        assert points[:, 0] ** i * points[:, 1] ** j @ weight == pytest.approx(exact, abs=ROUND_OFF * size)


def test_points_of_one_piece_are_the_four_of_gauss() -> None:
    points, weight = rectangle_points(AREA, 1000.0)
    nodes, shares = np.polynomial.legendre.leggauss(2)
    x, y = AREA.x + nodes / 2 * AREA.length, AREA.y + nodes / 2 * AREA.width
    assert points == pytest.approx(np.array(list(itertools.product(x, y))), rel=ROUND_OFF)
    assert weight == pytest.approx(np.outer(shares, shares).ravel() / 4 * AREA.length * AREA.width, rel=ROUND_OFF)


def test_a_rectangle_is_laid_out_on_pieces_no_longer_than_asked_and_no_more_of_them() -> None:
    # 240 mm are five pieces of 48, and six of 40; 90 mm are two of 45, and three of 30.
    assert rectangle_points(AREA, 50.0)[1].size == (2 * 5) * (2 * 2)
    assert rectangle_points(AREA, 40.0)[1].size == (2 * 6) * (2 * 3)
    assert rectangle_points(AREA, 1000.0)[1].size == 4


RING = Ring(1.0, Rectangle(10.0, 20.0, 400.0, 300.0), Rectangle(40.0, 0.0, 200.0, 180.0))


def second_moments(area: Rectangle) -> Floats:
    """Area, first and second moments about the origin."""
    x = [mean_power(area.left, area.right, i) for i in range(3)]
    y = [mean_power(area.front, area.back, i) for i in range(3)]
    return np.array([1.0, x[1], y[1], x[2], y[2], x[1] * y[1]]) * area.length * area.width


def test_parts_of_a_ring_are_the_outer_less_the_inner_rectangle() -> None:
    parts = ring_parts(RING.outer, RING.inner)
    assert len(parts) == 4
    whole = sum(second_moments(part) for part in parts)
    assert whole == pytest.approx(second_moments(RING.outer) - second_moments(RING.inner), rel=ROUND_OFF)


def test_a_ring_open_to_one_side_has_three_parts() -> None:
    inner = Rectangle(RING.outer.left + 100.0, 0.0, 200.0, 180.0)
    parts = ring_parts(RING.outer, inner)
    assert len(parts) == 3
    whole = sum(second_moments(part) for part in parts)
    assert whole == pytest.approx(second_moments(RING.outer) - second_moments(inner), rel=ROUND_OFF)


def test_patterns_share_the_force_and_act_at_their_centres() -> None:
    """A patch with half, a ring with a third, a bent line with a sixth of the force."""
    corners = ((0.0, 0.0), (300.0, 0.0), (300.0, 0.0), (300.0, 400.0))
    patterns = (Patch(1 / 2, AREA), Ring(1 / 3, RING.outer, RING.inner), Line(1 / 6, corners))
    forces = pattern_forces(patterns, 6e5)
    ring = second_moments(RING.outer) - second_moments(RING.inner)
    # The line's centre, by lengths of 300 and 400 mm.
    line = (300 * np.array([150.0, 0.0]) + 400 * np.array([300.0, 200.0])) / 700
    centre = np.array([AREA.x, AREA.y]) / 2 + ring[1:3] / ring[0] / 3 + line / 6
    assert forces.force.sum() == pytest.approx(6e5, rel=ROUND_OFF)
    assert forces.centre == pytest.approx(centre, rel=ROUND_OFF)


def test_a_line_of_force_is_integrated_to_cubes_of_its_length() -> None:
    forces = pattern_forces((Line(1.0, ((10.0, 20.0), (130.0, 180.0))),), 1.0)
    along = (forces.points - (10.0, 20.0)) @ (0.6, 0.8)
    assert (forces.points - (10.0, 20.0)) @ (-0.8, 0.6) == pytest.approx(0.0, abs=1e-9)
    for power in range(4):
        assert along**power @ forces.force == pytest.approx(mean_power(0.0, 200.0, power), rel=ROUND_OFF)
    # 200 mm in pieces of 25, two points each.
    assert forces.force.size == 16


GRID = patch_grid(np.array([-100.0, 20.0, 80.0]), np.array([0.0, 50.0, 60.0, 100.0]))


def test_patches_lie_between_the_lines_front_to_back_first() -> None:
    assert GRID.centre[:4] == pytest.approx(np.array([(-40.0, 25.0), (-40.0, 55.0), (-40.0, 80.0), (50.0, 25.0)]))
    assert GRID.length == pytest.approx([120.0] * 3 + [60.0] * 3)
    assert GRID.width == pytest.approx([50.0, 10.0, 40.0] * 2)


@pytest.mark.parametrize("side", [1, 2, 3])
def test_means_over_patches_are_exact_to_the_order_of_gauss(side: int) -> None:
    points, average = GRID.quadrature(side)
    assert points.shape == (6 * side**2, 2)
    for i, j in itertools.product(range(2 * side), repeat=2):
        x, y = GRID.centre.T
        exact = [
            mean_power(a - lx / 2, a + lx / 2, i) * mean_power(b - ly / 2, b + ly / 2, j)
            for a, b, lx, ly in zip(x, y, GRID.length, GRID.width, strict=True)
        ]
        size = 100.0 ** (i + j)
        assert average @ (points[:, 0] ** i * points[:, 1] ** j) == pytest.approx(exact, abs=ROUND_OFF * size)


def test_overlap_is_the_share_of_each_patch() -> None:
    # Along x 60 of the first column's 120 mm and 20 of the second's 60; along y 5 of 50, 10 of 10, 20 of 40 mm.
    shares = np.outer([60 / 120, 20 / 60], [5 / 50, 10 / 10, 20 / 40])
    assert GRID.overlap(Rectangle(0.0, 62.5, 80.0, 35.0)) == pytest.approx(shares.ravel(), rel=ROUND_OFF)
    # Beside them all, and in front of the last row.
    assert GRID.overlap(Rectangle(-300.0, 50.0, 100.0, 500.0)) == pytest.approx(np.zeros(6))
    assert GRID.overlap(Rectangle(0.0, 25.0, 500.0, 50.0)) == pytest.approx([1.0, 0.0, 0.0] * 2)

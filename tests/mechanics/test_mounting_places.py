"""Where flange slots, pins and ports come to stand: by hand, on grids and lines with round numbers."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from deflect.mechanics.mounting import (
    clamping,
    hole_lines,
    onto_slots,
    permitted_force,
    pin_misses,
    shift_to_holes,
    shift_to_slots,
)
from deflect.mechanics.standing import Assumptions, Standing, couple
from deflect.model.die import Placing
from deflect.model.material import Material
from deflect.model.press import Bolster, ForceAtHeight, PinField, TSlots
from deflect.model.values import Rectangle

STEEL = Material("steel", 206_000.0, 0.3, 7.85e-6, 120.0)
QUARTER = math.pi / 2
ROOM = Rectangle(0.0, 0.0, 2000.0, 1200.0)
ALONG_Y = TSlots(28.0, 300.0, "y", offset=50.0)
ALONG_X = TSlots(28.0, 300.0, "x", offset=50.0)
SLOTS = ((-260.0, -500.0), (40.0, -500.0), (340.0, 500.0))


def test_a_die_moves_by_what_its_middling_slot_misses() -> None:
    """T-slots at -250, 50, 350 mm: all three miss theirs by 10 mm to the left; placed at 7 mm by 3."""
    assert shift_to_slots(Placing(), SLOTS, ALONG_Y) == (10.0, 0.0)
    assert shift_to_slots(Placing(x=7.0, y=90.0), SLOTS, ALONG_Y) == (3.0, 0.0)
    # T-slots along x, at -550 and 350 next to -500 and 500 mm: -50, -50 and 150 mm.
    assert shift_to_slots(Placing(), SLOTS, ALONG_X) == (0.0, -50.0)


def test_slots_are_moved_onto_their_lines_where_these_are_near() -> None:
    near = onto_slots(Placing(), ((-260.0, -500.0), (20.0, -500.0), (340.0, 500.0)), ALONG_Y, 20.0)
    assert near == ((-250.0, -500.0), (20.0, -500.0), (350.0, 500.0))
    # Turned by a right angle, die x lies along the table's y: lines across it move the slots along die y.
    turned = onto_slots(Placing(rotation=QUARTER), ((500.0, 260.0),), ALONG_Y, 20.0)
    assert turned == ((500.0, 250.0),)
    assert onto_slots(Placing(), ((0.0, 345.0),), ALONG_X, 5.0) == ((0.0, 350.0),)


def test_a_slot_is_met_within_half_of_its_play_and_on_the_table_alone() -> None:
    """Slots 10 mm wider than their bolts: a play of 5 mm each way."""
    hole = Rectangle(350.0, 0.0, 100.0, 100.0)
    places = ((-250.0, 0.0), (55.0, 0.0), (44.0, 0.0), (350.0, 0.0), (950.0, 700.0))
    found = clamping(Placing(), places, ALONG_Y.bolt_diameter + 10.0, ALONG_Y, ROOM, (hole,))
    assert found.bolt == ALONG_Y.bolt_diameter
    assert found.play == 5.0
    assert found.missed_by == (0.0, 5.0, 6.0, np.inf, np.inf)
    assert found.met == 2


FIELD = PinField(150.0, 60.0, Rectangle(100.0, -50.0, 600.0, 460.0))
BOLSTER = Bolster(2000.0, 1200.0, 200.0, 0.0, STEEL, openings=(Rectangle(-700.0, 0.0, 100.0, 100.0),))


def test_whole_cells_stand_in_the_middle_of_their_region() -> None:
    """600 mm are four cells, 460 mm three."""
    assert hole_lines(FIELD, True) == pytest.approx(100.0 + np.array([-225.0, -75.0, 75.0, 225.0]))
    assert hole_lines(FIELD, False) == pytest.approx(-50.0 + np.array([-150.0, 0.0, 150.0]))


def test_holes_from_one_that_is_known_lie_in_the_region_as_a_whole() -> None:
    """From 30 mm every 150: the region goes from -200 to 400 mm, less half a hole at either end."""
    known = PinField(150.0, 60.0, FIELD.region, hole=(30.0, -10.0))
    assert hole_lines(known, True) == pytest.approx([-120.0, 30.0, 180.0, 330.0])
    assert hole_lines(known, False) == pytest.approx([-160.0, -10.0, 140.0])
    # A hole whose rim meets the region's edge is in it, at both ends.
    edge = PinField(150.0, 60.0, Rectangle(0.0, 0.0, 360.0, 360.0), hole=(-150.0, 150.0))
    assert hole_lines(edge, True) == pytest.approx([-150.0, 0.0, 150.0])
    assert hole_lines(edge, False) == pytest.approx([-150.0, 0.0, 150.0])


def test_pins_miss_the_nearest_hole_by_pythagoras() -> None:
    """The nearest holes of three pins: 3 and 4 mm off, none off, and one pin in a cut-out."""
    pins = ((178.0, -46.0), (25.0, 100.0), (-700.0, 20.0), (325.0, -290.0))
    assert pin_misses(Placing(), pins, BOLSTER, FIELD) == pytest.approx([5.0, 0.0, 0.0, 90.0])
    none = PinField(150.0, 60.0, Rectangle(0.0, 0.0, 100.0, 100.0))
    assert pin_misses(Placing(), ((0.0, 0.0),), BOLSTER, none).tolist() == [np.inf]


def test_a_die_moves_by_what_its_middling_pin_misses() -> None:
    pins = ((178.0, -46.0), (28.0, 104.0), (-122.0, -42.0))
    assert shift_to_holes(Placing(), pins, BOLSTER, FIELD) == (-3.0, -4.0)
    assert shift_to_holes(Placing(x=2.0, y=-1.0), pins, BOLSTER, FIELD) == (-5.0, -3.0)
    none = PinField(150.0, 60.0, Rectangle(0.0, 0.0, 100.0, 460.0))
    assert shift_to_holes(Placing(), pins, BOLSTER, none)[0] == 0.0


def test_force_over_height_goes_straight_from_point_to_point() -> None:
    curve = (ForceAtHeight(5.0, 10e6), ForceAtHeight(15.0, 6e6), ForceAtHeight(30.0, 3e6))
    heights = (0.0, 5.0, 10.0, 15.0, 20.0, 30.0)
    assert [permitted_force(curve, h) for h in heights] == pytest.approx([10e6, 10e6, 8e6, 6e6, 5e6, 3e6])
    assert permitted_force(curve, 30.1) is None


def test_hold_downs_that_do_not_hold_take_no_part_and_posts_do() -> None:
    """Two contacts, three of land, two hold-downs and a post, each with a layer of its own."""
    one, post = SimpleNamespace(preload=4e4, stiffness=2e5), SimpleNamespace(gap=0.3)
    standing = SimpleNamespace(
        case=SimpleNamespace(press=SimpleNamespace(bed=SimpleNamespace(hold_downs=(one, one), posts=(post,)))),
        layer=lambda assumed: np.arange(8.0) + 1,
        initial_gap=np.array([0.01, 0.02]),
        lands=3,
        contacts=2,
        compliance=np.arange(64.0).reshape(8, 8),
        modes=np.arange(8.0)[:, None],
    )
    held = couple(cast(Standing, standing), Assumptions(40.0, land_pulls=True, hold_downs=True))
    assert held.index.tolist() == list(range(8))
    assert held.gap == pytest.approx([0.01, 0.02, 0, 0, 0, -0.2, -0.2, 0.3])
    assert held.bilateral.tolist() == [False] * 2 + [True] * 3 + [False] * 3
    assert np.diag(held.compliance) == pytest.approx(np.arange(8) * 9 + np.arange(8) + 1)
    loose = couple(cast(Standing, standing), Assumptions(40.0, hold_downs=False))
    assert loose.index.tolist() == [0, 1, 2, 3, 4, 7]
    assert loose.taking_part.tolist() == [True] * 5 + [False] * 2 + [True]
    assert not loose.bilateral.any()
    assert loose.modes[:, 0].tolist() == loose.index.tolist()
    assert np.diag(loose.compliance) == pytest.approx([1.0, 11.0, 21.0, 31.0, 41.0, 71.0])
    # What couples two ports stays as it is.
    assert loose.compliance[5, 4] == 7 * 8 + 4

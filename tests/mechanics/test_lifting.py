"""Handling a die half, by source.

EN 818-4: legs, mode factors, 60 degrees (published).  DIN 580:2003 and 2018: eyebolts (published).
EN 13001-2: hoisting factor (from memory).  Pins, lugs, turning: statics, derived.  Snap-through: common practice.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deflect.mechanics.eyebolts import EYEBOLTS, next_larger, smallest_eyebolt, suits_eyebolts
from deflect.mechanics.lifting import (
    USUAL_HOISTING_FACTOR,
    crane_share,
    hoisting_factor,
    leg_force,
    leg_rating,
    mode_factor,
    weight,
)
from deflect.mechanics.lifting_points import lug_stresses, pin_stresses
from deflect.mechanics.sling import sling_geometry
from deflect.mechanics.snap_through import snap_through, tolerated_cutting_force
from deflect.mechanics.turning import hoist_forces, rolling_angle

# ---- EN 818-4


@given(st.floats(5.0, 1e5), st.floats(0.0, 60.0), st.sampled_from([2, 3]))
def test_a_leg_rated_by_its_mode_factor_bears_its_force(mass: float, angle: float, legs: int) -> None:
    assert weight(leg_rating(mass, angle, legs)) >= leg_force(mass, angle, legs) * (1 - 1e-12)


@given(st.floats(5.0, 1e5), st.floats(0.0, 60.0), st.floats(0.0, 60.0))
def test_leg_force_grows_with_the_angle(mass: float, one: float, other: float) -> None:
    flat, steep = max(one, other), min(one, other)
    assert leg_force(mass, flat) >= leg_force(mass, steep) >= weight(mass) / 2
    if flat > steep + 0.01:
        assert leg_force(mass, flat) > leg_force(mass, steep)


@pytest.mark.parametrize("angle", [-1.0, 60.1, 90.0, math.nan])
def test_no_leg_leans_more_than_60_degrees_en_818_4(angle: float) -> None:
    with pytest.raises(ValueError, match="60 degrees"):
        leg_force(20_000.0, angle)
    with pytest.raises(ValueError, match="60 degrees"):
        mode_factor(2, angle)


def test_slings_that_do_not_exist_are_refused() -> None:
    with pytest.raises(ValueError, match="1 to 4 legs"):
        mode_factor(5, 30.0)
    with pytest.raises(ValueError, match="straight"):
        mode_factor(1, 30.0)
    with pytest.raises(ValueError, match="at least one"):
        leg_force(1000.0, 30.0, legs=0)


# ---- EN 13001-2 and cranes


def test_the_usual_hoisting_factor_is_that_of_a_gentle_crane_en_13001_2() -> None:
    assert hoisting_factor(0.0) == USUAL_HOISTING_FACTOR
    with pytest.raises(ValueError, match="not negative"):
        hoisting_factor(-0.1)


def test_crane_share() -> None:
    assert crane_share(20_000.0, 25_000.0) == pytest.approx(0.8)
    assert crane_share(20_000.0, 25_000.0, tackle=6_000.0) == pytest.approx(1.04)
    # A winch for half a kilogram is a crane; one for nothing is none.
    assert crane_share(0.25, 0.5) == 0.5
    with pytest.raises(ValueError, match="capacity"):
        crane_share(20_000.0, 0.0)


# ---- DIN 580


def test_an_eyebolt_loses_as_soon_as_its_pull_leans_din_580() -> None:
    bolt = EYEBOLTS[4]
    assert (bolt.carries(0), bolt.carries(1)) == (bolt.axial, bolt.inclined)
    assert (bolt.carries(45), bolt.carries(46), bolt.carries(90)) == (bolt.inclined, bolt.sideways, bolt.sideways)
    with pytest.raises(ValueError, match="0 to 90"):
        bolt.carries(91)


def test_eyebolts_run_from_m8_to_m100x6_and_grow_din_580() -> None:
    """Printed figures lie near cos 45 and one half of the axial one: 0.70 to 0.74 and 0.49 to 0.51."""
    assert len(EYEBOLTS) == 15
    for smaller, larger in pairwise(EYEBOLTS):
        assert larger.axial > smaller.axial
        assert larger.inclined > smaller.inclined
        assert larger.sideways > smaller.sideways
    for bolt in EYEBOLTS:
        assert 0.68 < bolt.inclined / bolt.axial < 0.75, bolt.thread
        assert 0.49 <= bolt.sideways / bolt.axial < 0.51, bolt.thread


@given(st.floats(1.0, 6e4), st.floats(0.0, 60.0))
def test_no_smaller_eyebolt_would_do(mass: float, angle: float) -> None:
    bolt = smallest_eyebolt(mass, angle)
    needed = mass / mode_factor(2, angle)
    if bolt is None:
        assert all(b.carries(angle) < needed for b in EYEBOLTS)
    else:
        assert bolt.carries(angle) >= needed
        assert all(b.carries(angle) < needed for b in EYEBOLTS[: EYEBOLTS.index(bolt)])


def test_the_next_larger_thread_for_what_changes_hands_din_580() -> None:
    for smaller, larger in pairwise(EYEBOLTS):
        assert next_larger(smaller) is larger
    assert next_larger(EYEBOLTS[-1]) is None


def test_eyebolts_are_for_small_parts() -> None:
    assert suits_eyebolts(500.0)
    assert not suits_eyebolts(8_000.0)


# ---- Lifting pins and cast lugs: statics


def test_lug_stresses_by_hand() -> None:
    """90 kN at 100 mm on 120 x 150 mm: 90e3/18e3 = 5 MPa; 6 x 9e6 / (120 x 22500) = 20 MPa."""
    worked = lug_stresses(90e3, 120.0, 150.0, 100.0)
    assert worked.shear.value == pytest.approx(5.0)
    assert worked.bending.value == pytest.approx(20.0)
    with pytest.raises(ValueError, match="greater than nothing"):
        lug_stresses(90e3, 0.0, 150.0, 100.0)


# ---- Turning: statics


@given(
    st.floats(100.0, 5e4), st.floats(500.0, 4000.0), st.floats(-0.4, 0.4), st.floats(-800.0, 800.0), st.floats(0, 80)
)
def test_two_hoists_share_the_weight_and_balance(
    mass: float, span: float, offset: float, rise: float, tilt: float
) -> None:
    """Derived: forces add up to the weight; moments about the lower point vanish."""
    off = offset * span
    up, low = hoist_forces(mass, span, off, rise, tilt)
    assert up + low == pytest.approx(weight(mass), abs=1e-6 * max(abs(up), abs(low)))
    t = math.radians(tilt)
    arm_of_weight = (span / 2 + off) * math.cos(t) - rise * math.sin(t)
    assert up * span * math.cos(t) == pytest.approx(weight(mass) * arm_of_weight, rel=1e-6, abs=1e-3 * weight(mass))


def test_at_the_start_each_hoist_has_half() -> None:
    assert hoist_forces(10_000.0, 2000.0) == pytest.approx((weight(5000.0), weight(5000.0)))
    assert hoist_forces(10_000.0, 2000.0, offset=200.0)[0] == pytest.approx(weight(6000.0))


@given(st.floats(500.0, 4000.0), st.floats(10.0, 1500.0))
def test_past_the_rolling_angle_a_rope_is_slack(span: float, rise: float) -> None:
    angle = rolling_angle(span, rise)
    assert hoist_forces(1000.0, span, rise=rise, tilt=0.99 * angle)[0] > 0
    assert hoist_forces(1000.0, span, rise=rise, tilt=min(1.01 * angle, 89.99))[0] < 0 or angle > 89
    assert rolling_angle(2 * rise, rise) == pytest.approx(45.0)


def test_turning_is_refused_where_statics_end() -> None:
    with pytest.raises(ValueError, match="apart"):
        hoist_forces(1000.0, 0.0)
    with pytest.raises(ValueError, match="less than 90"):
        hoist_forces(1000.0, 1000.0, tilt=90.0)
    with pytest.raises(ValueError, match="above"):
        rolling_angle(1000.0, 0.0)


# ---- The drawing of a sling


@given(st.floats(100.0, 6000.0), st.floats(50.0, 2000.0), st.floats(1.0, 60.0))
def test_sling_geometry_is_what_its_angle_says(length: float, height: float, angle: float) -> None:
    drawn = sling_geometry(length, height, angle)
    assert drawn.outline == ((-length / 2, 0.0), (length / 2, 0.0), (length / 2, height), (-length / 2, height))
    assert [end for _, end in drawn.legs] == [drawn.outline[3], drawn.outline[2]]
    for hook, end in drawn.legs:
        assert hook == drawn.hook
        across, up = abs(end[0] - hook[0]), hook[1] - end[1]
        assert math.degrees(math.atan2(across, up)) == pytest.approx(angle)
        assert math.hypot(across, up) == pytest.approx(drawn.leg_length)
    assert drawn.hook == pytest.approx((0.0, height + drawn.headroom))


@pytest.mark.parametrize("angle", [0.0, 60.5, math.nan])
def test_no_sling_is_drawn_that_must_not_be_used(angle: float) -> None:
    with pytest.raises(ValueError, match="60 degrees"):
        sling_geometry(2400.0, 600.0, angle)
    with pytest.raises(ValueError, match="height"):
        sling_geometry(2400.0, 0.0, 45.0)


# ---- Snap-through


def test_snap_through_limits() -> None:
    """10 % of rated force tolerated, 15 % too much: common practice, no source."""
    assert tolerated_cutting_force(10e6, 0.2) == pytest.approx(5e6)
    assert not snap_through(5.1e6, 10e6, 0.2).tolerated
    assert not snap_through(7.4e6, 10e6, 0.2).damaging
    assert snap_through(7.6e6, 10e6, 0.2).damaging
    with pytest.raises(ValueError, match="rated force"):
        snap_through(1.0, 0.0, 0.1)


@pytest.mark.parametrize(
    "sizes", [(-1.0, 60.0, 90.0, 90.0), (1.0, 0.0, 90.0, 90.0), (1.0, 60.0, -1.0, 90.0), (1.0, 60.0, 90.0, 0.0)]
)
def test_a_pin_has_a_size_and_no_negative_force(sizes: tuple[float, float, float, float]) -> None:
    with pytest.raises(ValueError, match="not negative, sizes are greater"):
        pin_stresses(*sizes)


def test_a_pin_by_hand() -> None:
    """20 kN on a pin of 80 mm, 120 mm from the mouth of a seat of 100 mm; without an arm, and without a force."""
    found = pin_stresses(20e3, 80.0, 120.0, 100.0)
    assert found.shear.value == pytest.approx(20e3 / (math.pi * 40**2))
    assert found.bending.value == pytest.approx(20e3 * 120 / (math.pi * 80**3 / 32))
    assert found.bearing.value == pytest.approx(2.5)
    # Force and moment about the middle of the seat, on a rectangle of 80 by 100.
    assert found.edge.value == pytest.approx(20e3 / 8e3 + 20e3 * (120 + 50) / (80 * 100**2 / 6))
    assert pin_stresses(20e3, 80.0, 0.0, 100.0).edge.value == pytest.approx(10.0)
    assert pin_stresses(0.0, 80.0, 120.0, 100.0).bending.value == 0.0

"""Handling a die half, by source.

EN 818-4: legs, mode factors, 60 degrees (published).  DIN 580:2003 and 2018: eyebolts (published).
EN 13001-2: hoisting factor (from memory).  Pins, lugs, turning: statics, derived.  Snap-through: common practice.
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from deflect.mechanics.eyebolts import EYEBOLTS, next_larger, smallest_eyebolt, suits_eyebolts
from deflect.mechanics.lifting import (
    USUAL_HOISTING_FACTOR,
    HoistingClass,
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


@pytest.mark.parametrize(
    ("angle", "printed"), [(0, 1.0), (15, 1.0353), (30, 1.1547), (45, 1.4142), (60, 2.0)], ids=lambda v: str(v)
)
def test_one_over_cosine_en_818_4(angle: float, printed: float) -> None:
    """Printed to four decimals, so a tolerance of half of the last one."""
    assert leg_force(1000.0, angle, legs=1) / weight(1000.0) == pytest.approx(printed, abs=5e-5)


@pytest.mark.parametrize(("legs", "recomputed"), [(2, 113.24), (3, 75.49), (4, 56.62)])
def test_leg_force_of_a_die_of_20_t_at_30_degrees_en_818_4(legs: int, recomputed: float) -> None:
    """Recomputed with g = 9.80665 m/s2, to 0.01 kN."""
    assert leg_force(20_000.0, 30.0, legs) / 1e3 == pytest.approx(recomputed, abs=0.005)


@pytest.mark.parametrize(
    ("legs", "angle", "printed"),
    [
        (1, 0, 1.0),
        (2, 0, 1.4), (2, 45, 1.4), (2, 45.1, 1.0), (2, 60, 1.0),
        (3, 45, 2.1), (3, 60, 1.5), (4, 45, 2.1), (4, 60, 1.5),
    ],
)  # fmt: skip
def test_mode_factors_en_818_4(legs: int, angle: float, printed: float) -> None:
    assert mode_factor(legs, angle) == printed


@pytest.mark.parametrize(("legs", "counted"), [(2, 2), (3, 3)])
@pytest.mark.parametrize("angle", [45.0, 60.0])
def test_mode_factors_are_the_cosine_at_their_end_rounded_down_en_818_4(legs: int, counted: int, angle: float) -> None:
    """Exact: legs counted times cosine of the greatest angle of the band."""
    exact = counted * math.cos(math.radians(angle))
    assert mode_factor(legs, angle) == pytest.approx(exact, rel=0.011)
    assert mode_factor(legs, angle) <= exact + 1e-12


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


@pytest.mark.parametrize(
    ("stiffness", "at_rest", "at_1_m_s"),
    [
        (HoistingClass.HC1, 1.05, 1.22),
        (HoistingClass.HC2, 1.10, 1.44),
        (HoistingClass.HC3, 1.15, 1.66),
        (HoistingClass.HC4, 1.20, 1.88),
    ],
)
def test_hoisting_factor_en_13001_2(stiffness: HoistingClass, at_rest: float, at_1_m_s: float) -> None:
    """From memory."""
    assert hoisting_factor(0.0, stiffness) == at_rest
    assert hoisting_factor(1.0, stiffness) == pytest.approx(at_1_m_s)
    assert hoisting_factor(0.0) == USUAL_HOISTING_FACTOR
    with pytest.raises(ValueError, match="not negative"):
        hoisting_factor(-0.1, stiffness)


def test_crane_share() -> None:
    assert crane_share(20_000.0, 25_000.0) == pytest.approx(0.8)
    assert crane_share(20_000.0, 25_000.0, tackle=6_000.0) == pytest.approx(1.04)
    with pytest.raises(ValueError, match="capacity"):
        crane_share(20_000.0, 0.0)


# ---- DIN 580

PRINTED = {
    "M8": (140, 100, 70),
    "M20": (1200, 860, 600),
    "M24": (1800, 1290, 900),
    "M36": (4600, 3300, 2300),
    "M42": (6300, 4500, 3150),
    "M64": (16000, 11000, 8000),
    "M100x6": (40000, 29000, 20000),
}
"""Mass in kg along the axis, up to 45 degrees, at 90 degrees."""


@pytest.mark.parametrize("thread", PRINTED)
def test_eyebolts_din_580(thread: str) -> None:
    bolt = next(b for b in EYEBOLTS if b.thread == thread)
    assert (bolt.carries(0), bolt.carries(45), bolt.carries(90)) == PRINTED[thread]
    assert (bolt.carries(1), bolt.carries(46)) == PRINTED[thread][1:]
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


@pytest.mark.parametrize(
    ("mass", "angle", "legs", "thread"),
    [
        (1200.0, 0.0, 1, "M20"),
        (1201.0, 0.0, 1, "M24"),
        (1.4 * 860.0, 45.0, 2, "M20"),
        (1.42 * 860.0, 45.0, 2, "M24"),
        (860.0, 60.0, 2, "M24"),
        (30_000.0, 45.0, 2, "M100x6"),
    ],
)
def test_smallest_eyebolt_by_hand(mass: float, angle: float, legs: int, thread: str) -> None:
    """DIN 580 with EN 818-4: two bolts of 860 kg carry 1.4 times that, not twice."""
    bolt = smallest_eyebolt(mass, angle, legs)
    assert bolt is not None
    assert bolt.thread == thread


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


def test_pin_stresses_by_hand() -> None:
    """100 kN on a pin of 80 mm, arm 120 mm, bore 120 mm deep; ours, by hand to three digits."""
    worked = pin_stresses(100e3, 80.0, 120.0, 120.0)
    assert worked.shear.value == pytest.approx(19.9, abs=0.05)
    assert worked.bending.value == pytest.approx(238.7, abs=0.05)
    assert worked.bearing.value == pytest.approx(10.42, abs=0.005)
    assert worked.edge.value == pytest.approx(104.2, abs=0.05)
    for stress in (worked.shear, worked.bending, worked.bearing, worked.edge):
        assert stress.formula.startswith("F")


def test_pressure_in_the_bore_balances_force_and_moment() -> None:
    """Derived: the straight line of pressure adds up to the force, and to its moment about the bore's end."""
    force, d, arm, seat = 80e3, 60.0, 75.0, 110.0
    worked = pin_stresses(force, d, arm, seat)
    depth = np.linspace(0.0, seat, 20_001)
    pressure = worked.edge.value + depth / seat * 2 * (worked.bearing.value - worked.edge.value)
    assert np.trapezoid(pressure, depth) * d == pytest.approx(force)
    assert np.trapezoid(pressure * depth, depth) * d == pytest.approx(-force * arm, rel=1e-6)


def test_bending_of_a_pin_from_its_fibres() -> None:
    """Derived: stress growing straight from the axis, summed over the round section, gives the moment back."""
    worked = pin_stresses(50e3, 100.0, 150.0, 150.0)
    z = np.linspace(-50.0, 50.0, 200_001)
    chord = 2 * np.sqrt(np.maximum(50.0**2 - z**2, 0.0))
    assert np.trapezoid(worked.bending.value * z / 50.0 * z * chord, z) == pytest.approx(50e3 * 150.0, rel=1e-6)


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


def test_snap_through_of_a_published_example() -> None:
    """Printed: a cut of 250 t on a press of 400 t throws back 35 t: 14 % of the cut, 8.75 % of the press."""
    reverse = snap_through(250.0, 400.0, 0.14)
    assert reverse.force == pytest.approx(35.0)
    assert reverse.share_of_rated == pytest.approx(0.0875)
    assert reverse.tolerated
    assert not reverse.damaging


def test_snap_through_limits() -> None:
    """10 % of rated force tolerated, 15 % too much: common practice, no source."""
    assert tolerated_cutting_force(10e6, 0.2) == pytest.approx(5e6)
    assert not snap_through(5.1e6, 10e6, 0.2).tolerated
    assert not snap_through(7.4e6, 10e6, 0.2).damaging
    assert snap_through(7.6e6, 10e6, 0.2).damaging
    with pytest.raises(ValueError, match="rated force"):
        snap_through(1.0, 0.0, 0.1)

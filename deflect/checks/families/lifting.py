"""Lifting, turning and snap-through: printed tables, and statics of vectors against the formulas in use."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import partial

import numpy as np

from deflect.checks.check import Check, Row
from deflect.mechanics.eyebolts import EYEBOLTS, smallest_eyebolt
from deflect.mechanics.lifting import HoistingClass, hoisting_factor, leg_force, leg_rating, mode_factor, weight
from deflect.mechanics.lifting_points import lug_stresses, pin_stresses
from deflect.mechanics.sling import sling_geometry
from deflect.mechanics.snap_through import snap_through
from deflect.mechanics.turning import hoist_forces, rolling_angle
from deflect.sources import Source, Tag

ORDER, HEADING = 130, "Lifting and turning"
_LIFTING = "deflect.mechanics.lifting"
_POINTS = "deflect.mechanics.lifting_points"
_SLINGS = Source("EN 818-4", Tag.PUBLISHED)
_EYEBOLTS = Source("DIN 580:2003 and 2018", Tag.PUBLISHED)
# Standard acceleration of gravity, m/s2 (3rd CGPM, 1901).
_GRAVITY = 9.80665


def _by_equilibrium(load: float, angle: float, legs: int) -> float:
    """Force of one of ``legs`` legs, evenly round the hook and all alike, from the balance of vectors."""
    lean = math.radians(angle)
    turns = 2 * np.pi * np.arange(legs) / legs
    pull = np.stack([np.sin(lean) * np.cos(turns), np.sin(lean) * np.sin(turns), np.full(legs, np.cos(lean))])
    return float(np.linalg.lstsq(pull, np.array([0.0, 0.0, load]), rcond=None)[0][0])


def _leg(angle: float, printed: str) -> Sequence[Row]:
    exact = _by_equilibrium(1.0, angle, 2) * 2
    return (
        Row("force of a leg, share of the load", exact, leg_force(1000.0, angle, 1) / weight(1000.0), 1e-9, printed),
    )


def _die(legs: int) -> Sequence[Row]:
    exact = _by_equilibrium(20_000.0 * _GRAVITY, 30.0, legs)
    return (Row("force of a leg, kN", exact / 1e3, leg_force(20_000.0, 30.0, legs) / 1e3, 1e-9),)


def _mode(legs: int, angle: float, printed: str) -> Sequence[Row]:
    return (Row("mode factor", float(printed), mode_factor(legs, angle), 0.0, printed),)


def _band(legs: int, angle: float) -> Sequence[Row]:
    """The factor at the end of its band is what the vectors give, rounded down."""
    exact = 1 / _by_equilibrium(1.0, angle, legs)
    return (Row("mode factor", exact, mode_factor(legs, angle), 0.011),)


_DIN_580 = {
    "M8": (140, 100, 70), "M10": (230, 170, 115), "M12": (340, 240, 170), "M16": (700, 500, 350),
    "M20": (1200, 860, 600), "M24": (1800, 1290, 900), "M30": (3200, 2300, 1600), "M36": (4600, 3300, 2300),
    "M42": (6300, 4500, 3150), "M48": (8600, 6100, 4300), "M56": (11500, 8200, 5750), "M64": (16000, 11000, 8000),
    "M72x6": (20000, 14000, 10000), "M80x6": (28000, 20000, 14000), "M100x6": (40000, 29000, 20000),
}  # fmt: skip
"""Mass in kg along the axis, up to 45 degrees, at 90 degrees, as printed."""


def _eyebolts(column: int, lean: float) -> Sequence[Row]:
    carried = {bolt.thread: bolt.carries(lean) for bolt in EYEBOLTS}
    return [Row(f"{thread}, kg", masses[column], carried.get(thread, math.nan), 0.0, str(masses[column]))
            for thread, masses in _DIN_580.items()]  # fmt: skip


def _smallest(mass: float, angle: float, legs: int, thread: str) -> Sequence[Row]:
    """By hand, from the printed table: two bolts carry 1.4 times one up to 45 degrees, once one up to 60."""
    chosen = smallest_eyebolt(mass, angle, legs)
    sizes = list(_DIN_580)
    found = sizes.index(chosen.thread) if chosen else -1
    return (Row(f"place of {thread} in the table", sizes.index(thread), found, 0.0, absolute=True),)


def _pin(force: float, diameter: float, arm: float, seat: float) -> Sequence[Row]:
    """What the stresses amount to, summed over section and bore, is the force and its moment."""
    worked = pin_stresses(force, diameter, arm, seat)
    half = diameter / 2
    z = np.linspace(-half, half, 200_001)
    chord = 2 * np.sqrt(np.maximum(half**2 - z**2, 0.0))
    depth = np.linspace(0.0, seat, 20_001)
    pressure = worked.edge.value + depth / seat * 2 * (worked.bearing.value - worked.edge.value)
    return (
        Row("moment of the bending stress over the round section", force * arm,
            float(np.trapezoid(worked.bending.value * z / half * z * chord, z)), 1e-6),
        Row("mean shear over the round section", force, float(worked.shear.value * np.trapezoid(chord, z)), 1e-6),
        Row("pressure in the bore", force, float(np.trapezoid(pressure, depth)) * diameter, 1e-9),
        Row("moment of the pressure about the mouth", -force * arm,
            float(np.trapezoid(pressure * depth, depth)) * diameter, 1e-6),
    )  # fmt: skip


def _lug() -> Sequence[Row]:
    force, width, height, arm = 90e3, 120.0, 150.0, 100.0
    worked = lug_stresses(force, width, height, arm)
    z = np.linspace(-height / 2, height / 2, 20_001)
    moment = float(np.trapezoid(worked.bending.value * z / (height / 2) * z, z)) * width
    return (
        Row("moment of the bending stress", force * arm, moment, 1e-6),
        Row("mean shear over the section", force, worked.shear.value * width * height, 1e-12),
    )


def _hoists(offset: float, rise: float, tilt: float) -> Sequence[Row]:
    """Two ropes and a weight in balance: forces upwards, and moments about the lower point."""
    mass, span = 12_000.0, 2400.0
    turn = math.radians(tilt)
    turned = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    rising, centre = turned @ [span, 0.0], turned @ [span / 2 + offset, rise]
    load = mass * _GRAVITY
    up, low = np.linalg.solve(np.array([[1.0, 1.0], [rising[0], 0.0]]), np.array([load, load * centre[0]]))
    computed = hoist_forces(mass, span, offset, rise, tilt)
    return (
        Row("rising hoist, kN", float(up) / 1e3, computed[0] / 1e3, 1e-9),
        Row("other hoist, kN", float(low) / 1e3, computed[1] / 1e3, 1e-9),
    )


def _rolling(span: float, rise: float) -> Sequence[Row]:
    """The tilt at which the centre of gravity stands over the lower point, found by turning."""
    tilts = np.radians(np.linspace(0, 90, 90_001))
    over = span / 2 * np.cos(tilts) - rise * np.sin(tilts)
    exact = math.degrees(float(tilts[np.argmin(np.abs(over))]))
    return (Row("tilt, degrees", exact, rolling_angle(span, rise), 1e-3, absolute=True),)


def _crane(stiffness: HoistingClass, at_rest: str, at_speed: str) -> Sequence[Row]:
    return (
        Row("at rest", float(at_rest), hoisting_factor(0.0, stiffness), 1e-12, at_rest),
        Row("at 1 m/s", float(at_speed), hoisting_factor(1.0, stiffness), 1e-12, at_speed),
    )


def _drawn(angle: float) -> Sequence[Row]:
    """The hook lies on the line from the lifting point that leans by the angle, above the die's middle."""
    length, height = 2400.0, 600.0
    drawn = sling_geometry(length, height, angle)
    (hook, end), _ = drawn.legs
    lean = math.degrees(math.acos((hook[1] - end[1]) / math.dist(hook, end)))
    return (
        Row("lean of the drawn leg, degrees", angle, lean, 1e-9),
        Row("its length, mm", length / 2 / math.cos(math.radians(90 - angle)), drawn.leg_length, 1e-9),
    )


def _thrown_back() -> Sequence[Row]:
    reverse = snap_through(250.0, 400.0, 0.14)
    return (
        Row("reverse force, t", 35.0, reverse.force, 1e-9, "35"),
        Row("share of the rated force", 0.0875, reverse.share_of_rated, 1e-9, "0.0875"),
    )


def _rated(mass: float, angle: float, legs: int) -> Sequence[Row]:
    """A leg rated by the mode factors may carry what the vectors put on it: the reserve is not negative."""
    force = _by_equilibrium(mass * _GRAVITY, angle, legs)
    reserve = weight(leg_rating(mass, angle, legs)) / force - 1
    return (Row("rating falls short of the force by", 0.0, min(reserve, 0.0), 1e-9, absolute=True),)


CHECKS = (
    Check("L01", "The force of a sling leg grows as one over the cosine of its lean.",
          Source("EN 818-4; exact figures: balance of vectors at the hook", Tag.PUBLISHED), f"{_LIFTING}.leg_force",
          "Arithmetic; printed to four decimals.",
          {f"{a} degrees": partial(_leg, a, p)
           for a, p in ((0, "1"), (15, "1.0353"), (30, "1.1547"), (45, "1.4142"), (60, "2"))}),
    Check("L02", "Mode factors of slings of one to four legs.", _SLINGS, f"{_LIFTING}.mode_factor",
          "A printed table: none.",
          {f"{n} legs, {a:g} degrees": partial(_mode, n, a, p) for n, a, p in (
              (1, 0, "1.0"), (2, 45, "1.4"), (2, 45.1, "1.0"), (2, 60, "1.0"), (3, 45, "2.1"), (3, 60, "1.5"),
              (4, 45, "2.1"), (4, 60, "1.5"))}),
    Check("L02b", "A mode factor is what statics give at the end of its band, rounded down.",
          Source("balance of vectors at the hook", Tag.DERIVED), f"{_LIFTING}.mode_factor",
          "Rounded to a tenth: 1.1 %.",
          {f"{n} legs, {a} degrees": partial(_band, n, a) for n in (2, 3) for a in (45, 60)}),
    Check("L02c", "A leg that is rated by its mode factor bears what statics put on it.",
          Source("balance of vectors at the hook", Tag.DERIVED), f"{_LIFTING}.leg_rating", "It must not fall short.",
          {f"{n} legs, {a} degrees": partial(_rated, 10_000.0, a, n) for n in (2, 3) for a in (10, 30, 45, 50, 60)}),
    Check("L03", "Legs of a die of 20 t at 30 degrees, with two, three and four legs counted.",
          Source("balance of vectors at the hook; g = 9.80665 m/s2", Tag.DERIVED), f"{_LIFTING}.leg_force",
          "Arithmetic.", {f"{n} legs": partial(_die, n) for n in (2, 3, 4)}),
    Check("L04", "Eyebolts along their axis.", _EYEBOLTS, "deflect.mechanics.eyebolts.Eyebolt",
          "A printed table: none.", {"": partial(_eyebolts, 0, 0.0)}),
    Check("L05", "Eyebolts up to 45 degrees.", _EYEBOLTS, "deflect.mechanics.eyebolts.Eyebolt",
          "A printed table: none.", {"": partial(_eyebolts, 1, 45.0)}),
    Check("L06", "Eyebolts at right angles.", _EYEBOLTS, "deflect.mechanics.eyebolts.Eyebolt",
          "A printed table: none.", {"": partial(_eyebolts, 2, 90.0)}),
    Check("L07", "The smallest eyebolt for a part: figures of bolts are not added up over the legs.",
          Source("DIN 580:2018, clause 8, with EN 818-4; by hand", Tag.PUBLISHED),
          "deflect.mechanics.eyebolts.smallest_eyebolt", "A choice: none.",
          {f"{m:.0f} kg, {n} legs, {a:g} degrees": partial(_smallest, m, a, n, t) for m, a, n, t in (
              (1200.0, 0.0, 1, "M20"), (1201.0, 0.0, 1, "M24"), (1204.0, 45.0, 2, "M20"), (1221.0, 45.0, 2, "M24"),
              (860.0, 60.0, 2, "M24"), (30_000.0, 45.0, 2, "M100x6"))}),
    Check("L10", "Stresses of a lifting pin and of its bore add up to the force and its moment.",
          Source("statics of stresses, summed numerically", Tag.DERIVED), f"{_POINTS}.pin_stresses",
          "The numerical sum: 1e-6.",
          {"100 kN on 80 mm": partial(_pin, 100e3, 80.0, 120.0, 120.0),
           "80 kN on 60 mm": partial(_pin, 80e3, 60.0, 75.0, 110.0)}),
    Check("L11", "Stresses at the root of a cast lug add up to the force and its moment.",
          Source("statics of stresses, summed numerically", Tag.DERIVED), f"{_POINTS}.lug_stresses",
          "The numerical sum: 1e-6.", {"90 kN on 120 x 150 mm": _lug}),
    Check("L12", "Two hoists that turn a half share its weight as the balance of forces and moments says.",
          Source("statics of a turned body, by coordinates", Tag.DERIVED), "deflect.mechanics.turning.hoist_forces",
          "Arithmetic.",
          {f"offset {o:g}, rise {r:g} mm, tilt {t:g} degrees": partial(_hoists, o, r, t) for o, r, t in (
              (0.0, 0.0, 0.0), (300.0, 200.0, 0.0), (0.0, 400.0, 35.0), (-250.0, 300.0, 70.0))}),
    Check("L13", "A half rolls on by itself once its centre of gravity has passed over the lower point.",
          Source("statics of a turned body, by turning it", Tag.DERIVED), "deflect.mechanics.turning.rolling_angle",
          "Turned in steps of 0.001 degrees.",
          {f"span {s:g}, rise {r:g} mm": partial(_rolling, s, r) for s, r in ((2000.0, 400.0), (1200.0, 600.0))}),
    Check("L14", "Hoisting factors of the four classes of cranes.", Source("EN 13001-2", Tag.MEMORY),
          f"{_LIFTING}.hoisting_factor", "Arithmetic.",
          {c.name: partial(_crane, c, a, b) for c, a, b in (
              (HoistingClass.HC1, "1.05", "1.22"), (HoistingClass.HC2, "1.10", "1.44"),
              (HoistingClass.HC3, "1.15", "1.66"), (HoistingClass.HC4, "1.20", "1.88"))}),
    Check("L15", "A sling is drawn with the angle that its forces are computed for.",
          Source("geometry of a right-angled triangle", Tag.DERIVED), "deflect.mechanics.sling.sling_geometry",
          "Arithmetic.", {f"{a} degrees": partial(_drawn, a) for a in (30, 45, 60)}),
    Check("L16", "A cut of 250 t on a press of 400 t that throws back 35 t.",
          Source("a published example of snap-through: 14 % of the cut, 8.75 % of the press", Tag.PUBLISHED),
          "deflect.mechanics.snap_through.snap_through", "Arithmetic.", {"": _thrown_back}),
)  # fmt: skip

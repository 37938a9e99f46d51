"""Lifting pins and cast lugs as arithmetic: N, mm, MPa; nothing here approves a design."""

from __future__ import annotations

import math
from dataclasses import dataclass

# Pins that are shown, diameters in mm (common practice, no source).
PIN_DIAMETERS = (60.0, 80.0, 100.0, 120.0)
# From the seat's mouth to the middle of the sling, and depth of the seat, over the pin's diameter (ours).
PIN_ARM = 1.5
PIN_SEAT = 1.5


@dataclass(frozen=True)
class Worked:
    """A stress in MPa and the formula that it comes from."""

    value: float
    formula: str


@dataclass(frozen=True)
class PinStresses:
    """A cantilever pin in a bore: mean shear, bending at the mouth, mean and greatest pressure in the bore."""

    shear: Worked
    bending: Worked
    bearing: Worked
    edge: Worked


@dataclass(frozen=True)
class LugStresses:
    """A cast lug on a wall: mean shear and bending at its root."""

    shear: Worked
    bending: Worked


def pin_stresses(force: float, diameter: float, arm: float, seat: float) -> PinStresses:
    """Stresses of a pin of diameter d, loaded across at ``arm`` from the mouth of a bore of depth ``seat`` (b).

    The greatest pressure is that of a straight line over the depth, from force and moment about its middle.
    Source: strength of materials, derived.
    """
    _check(force, diameter, seat, arm)
    mean = force / (diameter * seat)
    return PinStresses(
        shear=Worked(4 * force / (math.pi * diameter**2), "F / (π d² / 4)"),
        bending=Worked(32 * force * arm / (math.pi * diameter**3), "F × arm / (π d³ / 32)"),
        bearing=Worked(mean, "F / (d b)"),
        edge=Worked(mean * (4 + 6 * arm / seat), "F / (d b) × (4 + 6 arm / b)"),
    )


def lug_stresses(force: float, width: float, height: float, arm: float) -> LugStresses:
    """Stresses at the root of a lug, ``width`` across and ``height`` along the force, loaded at ``arm`` from its root.

    Source: strength of materials, derived.
    """
    _check(force, width, height, arm)
    return LugStresses(
        shear=Worked(force / (width * height), "F / (w h)"),
        bending=Worked(6 * force * arm / (width * height**2), "F × arm / (w h² / 6)"),
    )


def _check(force: float, one: float, other: float, arm: float) -> None:
    if not (force >= 0 and one > 0 and other > 0 and arm >= 0):
        raise ValueError("forces and arms are not negative, sizes are greater than nothing")

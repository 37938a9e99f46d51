"""Lifting a die half: arithmetic only; slings and lifting points are chosen by those who are competent for it.

Angles of slings are in degrees from the vertical, as slings are tabled; masses in kg, forces in N.
"""

from __future__ import annotations

import math
from enum import Enum

from deflect.mechanics.body import GRAVITY
from deflect.sources import Source, Tag

EN_818_4 = Source("EN 818-4", Tag.PUBLISHED)
EN_13001_2 = Source("EN 13001-2", Tag.MEMORY)

# No leg may lean more than this, degrees from the vertical (EN 818-4, published).
GREATEST_LEAN = 60.0
# Up to here the greater mode factor of two and more legs holds, degrees from the vertical (EN 818-4, published).
USUAL_LEAN = 45.0
# Angles of a sling leg from the vertical that are shown, degrees.
LEG_ANGLES = (30, 45, 60)
# Legs that count on a rigid die, which no four legs load evenly (EN 818-4, published).
LEGS_COUNTED = 2
# What a sling of so many legs may carry over what one of its legs may: up to 45 degrees, up to 60 degrees
# (EN 818-4, published).
_MODE_FACTORS = {1: (1.0, 1.0), 2: (1.4, 1.0), 3: (2.1, 1.5), 4: (2.1, 1.5)}
# Usual hoisting factor of a workshop crane that lifts gently (from memory; the dynamic test coefficient of
# lifting machinery has the same size).
USUAL_HOISTING_FACTOR = 1.1


class HoistingClass(Enum):
    """Stiffness class of a crane: least factor, and what a hoisting speed adds, s/m (EN 13001-2, from memory)."""

    HC1 = (1.05, 0.17)
    HC2 = (1.10, 0.34)
    HC3 = (1.15, 0.51)
    HC4 = (1.20, 0.68)


def weight(mass: float) -> float:
    """Weight in N of a mass in kg."""
    return mass * GRAVITY


def _check_lean(angle: float) -> None:
    if not 0 <= angle <= GREATEST_LEAN:
        raise ValueError(f"a sling leg may lean at most {GREATEST_LEAN:.0f} degrees from the vertical")


def leg_force(mass: float, angle: float, legs: int = LEGS_COUNTED) -> float:
    """Force in one sling leg, N: W / (legs cos angle), angle in degrees from the vertical.

    Source: EN 818-4 (slings), statics.  Raises ValueError above 60 degrees, or without a leg.
    """
    _check_lean(angle)
    if legs < 1:
        raise ValueError("at least one sling leg must be counted")
    return weight(mass) / (legs * math.cos(math.radians(angle)))


def mode_factor(legs: int, angle: float) -> float:
    """What a sling of 1 to 4 evenly loaded legs may carry, over what one leg may carry.

    angle: degrees from the vertical; a single leg hangs straight.  Source: EN 818-4.
    """
    _check_lean(angle)
    if legs not in _MODE_FACTORS:
        raise ValueError(f"mode factors are known for 1 to 4 legs, not for {legs}")
    if legs == 1 and angle > 0:
        raise ValueError("a single leg hangs straight: its angle is 0")
    usual, flat = _MODE_FACTORS[legs]
    return usual if angle <= USUAL_LEAN else flat


def leg_rating(mass: float, angle: float, legs: int = LEGS_COUNTED) -> float:
    """Mass in kg that each leg must be rated for when it hangs alone: mass / mode factor (EN 818-4)."""
    return mass / mode_factor(legs, angle)


def hoisting_factor(speed: float, stiffness: HoistingClass = HoistingClass.HC2) -> float:
    """Dynamic factor of a load picked up at a hoisting speed in m/s: least factor + slope times speed.

    Source: EN 13001-2 (from memory).
    """
    if not speed >= 0:
        raise ValueError("a hoisting speed is not negative")
    least, slope = stiffness.value
    return least + slope * speed


def crane_share(mass: float, capacity: float, tackle: float = 0.0) -> float:
    """Share of a crane's capacity (kg) that a mass and the tackle below the hook take up; above 1: too heavy.

    A crane's rating covers the hoisting factor of its load (from memory), so that it is not applied again.
    """
    if not capacity > 0:
        raise ValueError("a crane's capacity is greater than nothing")
    return (mass + tackle) / capacity

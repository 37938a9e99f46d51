"""Lifting a die half: arithmetic only; slings and lifting points are chosen by those who are competent for it."""

from __future__ import annotations

import math

from deflect.mechanics.body import GRAVITY

# Angles of a sling leg from the vertical that are shown, degrees; more than 60 is forbidden by EN 818-4.
LEG_ANGLES = (30, 45, 60)
# Legs that count on a rigid die, which no four legs load evenly: EN 818-4 practice, two.
LEGS_COUNTED = 2


def weight(mass: float) -> float:
    """Weight in N of a mass in kg."""
    return mass * GRAVITY


def leg_force(mass: float, angle: float, legs: int = LEGS_COUNTED) -> float:
    """Force in one sling leg, N: W / (legs cos angle), angle in degrees from the vertical.

    Source: EN 818-4 (slings), statics.  Raises ValueError above 60 degrees.
    """
    if not 0 <= angle <= 60:
        raise ValueError("a sling leg may lean at most 60 degrees from the vertical")
    return weight(mass) / (legs * math.cos(math.radians(angle)))

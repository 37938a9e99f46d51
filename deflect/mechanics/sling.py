"""A die in its sling, seen from the side: the points of a drawing; mm, degrees from the vertical."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deflect.mechanics.lifting import GREATEST_LEAN

Point = tuple[float, float]


@dataclass(frozen=True)
class SlingGeometry:
    """Points (x, z) with the origin below the middle of the die, z up.

    outline: corners of the die, anticlockwise from lower left; legs: from the hook to a lifting point each;
    angle: of a leg from the vertical, degrees; leg_length, headroom (hook above the die's top): mm.
    """

    outline: tuple[Point, Point, Point, Point]
    hook: Point
    legs: tuple[tuple[Point, Point], tuple[Point, Point]]
    angle: float
    leg_length: float
    headroom: float


def sling_geometry(length: float, height: float, angle: float) -> SlingGeometry:
    """A die of this length and height on two legs from its upper ends, each leaning by ``angle``."""
    if not (length > 0 and height > 0):
        raise ValueError("a die has a length and a height")
    if not 0 < angle <= GREATEST_LEAN:
        raise ValueError(f"legs that meet at a hook lean by more than 0 and at most {GREATEST_LEAN:.0f} degrees")
    half = length / 2
    headroom = half / math.tan(math.radians(angle))
    hook = (0.0, height + headroom)
    left, right = (-half, height), (half, height)
    return SlingGeometry(
        outline=((-half, 0.0), (half, 0.0), right, left),
        hook=hook,
        legs=((hook, left), (hook, right)),
        angle=angle,
        leg_length=math.hypot(half, headroom),
        headroom=headroom,
    )

"""Turning a die half over between two hoists: statics, with straight ropes; angles in degrees."""

from __future__ import annotations

import math

from deflect.mechanics.lifting import weight


def hoist_forces(
    mass: float, span: float, offset: float = 0.0, rise: float = 0.0, tilt: float = 0.0
) -> tuple[float, float]:
    """Forces in N of the rising and of the other hoist, for a half that hangs on two points ``span`` mm apart.

    offset: mm, how far the centre of gravity lies from the middle towards the rising hoist; rise: mm, how far it
    lies above the line of the points; tilt: degrees out of level.  A negative force means that the rope is slack
    and the half rolls on by itself.
    """
    if not span > 0:
        raise ValueError("the lifting points lie apart")
    if not 0 <= tilt < 90:
        raise ValueError("between two hoists a half is tilted by 0 to less than 90 degrees")
    share = 0.5 + offset / span - rise / span * math.tan(math.radians(tilt))
    return weight(mass) * share, weight(mass) * (1 - share)


def rolling_angle(span: float, rise: float) -> float:
    """Tilt in degrees past which a half rolls on by itself: its centre of gravity, ``rise`` mm above the line of two
    points or edges ``span`` mm apart and midway between them, stands over the lower one: atan(span / (2 rise))."""
    if not (span > 0 and rise > 0):
        raise ValueError("points lie apart, and the centre of gravity lies above them")
    return math.degrees(math.atan2(span, 2 * rise))

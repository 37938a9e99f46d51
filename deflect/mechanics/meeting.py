"""What a creeping die meets first, and after how many strokes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.cutting import shift_tolerance
from deflect.mechanics.footprint import turned
from deflect.mechanics.holders import InPlaneHolder, holders_of
from deflect.mechanics.loads import pattern_forces
from deflect.model.case import Case

# Creep below a nanometre a stroke is round-off of the march, mm.
NOTHING = 1e-6


@dataclass(frozen=True)
class Meeting:
    """What is met, and after how many strokes (infinite: never)."""

    what: str
    strokes: float


def first_met(case: Case, shift: Floats) -> Meeting:
    """What a die that shifts by ``shift`` (x, y in mm, angle in rad) a stroke meets first.

    A cutting die uses up its share of the clearance where its cutting lines move most; guides touch once their
    clearance is used; guides that touch from the start go on to their permitted force.
    """
    # A thrust of unknown direction may as well push the other way.
    ways = (shift,) if case.die.thrust_direction is not None else (shift, -shift)
    return min((meeting for way in ways for meeting in _met(case, way)), key=lambda meeting: meeting.strokes)


def _met(case: Case, shift: Floats) -> list[Meeting]:
    tolerance, what = shift_tolerance(case.die)
    found = [Meeting(f"{what} is used up", _strokes(tolerance, farthest(case, shift)))]
    for guide in (h for h in holders_of(case) if h.kind == "guide"):
        found.append(_at_guide(guide, shift))
    return found


def farthest(case: Case, shift: Floats) -> float:
    """How far a shift (x, y in mm, angle in rad) of the die moves that point of its force patterns, of its cutting
    lines where it has them, that it moves most, mm."""
    return float(np.hypot(*moved(_working_points(case), shift).T).max())


def _at_guide(guide: InPlaneHolder, shift: Floats) -> Meeting:
    step, away = moved(np.array([guide.place]), shift)[0], -np.asarray(guide.offset)
    if guide.direction is not None:
        way = np.asarray(guide.direction)
        step, away = way * (way @ step), way * (way @ away)
    speed = float(np.hypot(*step))
    reach = float(np.hypot(*away))
    if reach >= guide.play and (float(away @ step) > 0 or reach == 0.0):
        force = f"{guide.name} bears from the start and takes more than it may"
        left = max(guide.capacity / guide.stiffness - (reach - guide.play), 0.0)
        return Meeting(force, _strokes(left, speed))
    if reach >= guide.play:
        # It bears from the start, and the die creeps off it: it is met again at its other side.
        away = away * (guide.play / reach) if reach > 0 else away
    # |away + n step| = play
    a, b, c = speed**2, float(away @ step), float(away @ away) - guide.play**2
    strokes = (-b + np.sqrt(b * b - a * c)) / a if speed > NOTHING else np.inf
    return Meeting(f"{guide.name} touches", float(strokes))


def _working_points(case: Case) -> Floats:
    """Points of the force patterns (k, 2), bolster axes about the die's centre, mm."""
    return turned(case.die.placing, pattern_forces(case.die.patterns, 1.0).points)


def moved(places: Floats, shift: Floats) -> Floats:
    """How a shift (x, y in mm, angle in rad) of the die moves some places (k, 2) of it, mm."""
    x, y = places.T
    return np.column_stack([shift[0] - shift[2] * y, shift[1] + shift[2] * x])


def _strokes(room: float, speed: float) -> float:
    return room / speed if speed > NOTHING else float("inf")

"""What to bed in on the stand-in, what to leave, what to look at again: from the map of the difference."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from deflect.mechanics.difference import Shape
from deflect.mechanics.likeness import Likeness
from deflect.model.values import Rectangle

# The face is divided into so many zones along its length and its width.
_ALONG, _ACROSS = 3, 3
_COLUMNS, _ROWS = ("left", "middle", "right"), ("front", "middle", "rear")


class Action(StrEnum):
    """What to do with a zone."""

    PROVE = "prove on the stand-in"
    RECHECK = "prove on the stand-in, check again on the production press"
    LEAVE = "leave for the production press"


@dataclass(frozen=True)
class Zone:
    """A part of the face: where, the difference farthest from nothing there (mm, stand-in less production; positive:
    it stands higher on the stand-in), and the same at the far end of the ranges."""

    column: str
    row: str
    area: Rectangle
    difference: float
    at_worst: float
    action: Action


@dataclass(frozen=True)
class BeddingPlan:
    """Zones from the front left to the rear right; tolerance: of the face's difference, greatest less least, mm."""

    zones: tuple[Zone, ...]
    tolerance: float

    def share(self, action: Action) -> float:
        """Share of the zones that ask for an action."""
        return sum(zone.action is action for zone in self.zones) / max(len(self.zones), 1)


def bedding_plan(shape: Shape, alike: Likeness) -> BeddingPlan:
    """Half the tolerance either way is proved; what may pass it within the ranges is checked again."""
    known = np.isfinite(alike.face.values)
    points, values = shape.points[known], alike.face.values[known]
    (x0, y0), (x1, y1) = points.min(axis=0), points.max(axis=0)
    usual = alike.face.spread
    grown = alike.face_spread.high / usual if usual > 0 else 1.0
    zones = []
    for row, (front, back) in enumerate(_parts(y0, y1, _ACROSS)):
        for column, (left, right) in enumerate(_parts(x0, x1, _ALONG)):
            inside = (points[:, 0] >= left) & (points[:, 0] <= right) & (points[:, 1] >= front) & (points[:, 1] <= back)
            if not inside.any():
                continue
            far = float(values[inside][np.argmax(np.abs(values[inside]))])
            worst = far * grown
            area = Rectangle((left + right) / 2, (front + back) / 2, right - left, back - front)
            zones.append(Zone(_COLUMNS[column], _ROWS[row], area, far, worst, _action(far, worst, alike.tolerance)))
    return BeddingPlan(tuple(zones), alike.tolerance)


def _parts(low: float, high: float, count: int) -> list[tuple[float, float]]:
    lines = np.linspace(low, high, count + 1)
    return [(float(a), float(b)) for a, b in itertools.pairwise(lines)]


def _action(usual: float, worst: float, tolerance: float) -> Action:
    if abs(usual) > tolerance / 2:
        return Action.LEAVE
    return Action.PROVE if abs(worst) <= tolerance / 2 else Action.RECHECK

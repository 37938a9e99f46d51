"""Whether keys and cones hold a die just as much as is needed: each way once, and no way twice."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from deflect.mechanics.holders import InPlaneHolder

# A base in its plane shifts two ways and turns: three ways to be held.
WAYS = 3
# The kinds of holders that locate; clamps hold by friction, guides only once their clearance is used up.
LOCATING = ("key", "cone")
# Keys count as on one line up to this distance between them across it, mm (places are written to the millimetre).
LINE_SLACK = 1.0
# Moments count as forces at this arm at least, mm: of the size of a die (ours).
LEAST_SIZE = 1000.0


@dataclass(frozen=True)
class Layout:
    """How keys and cones hold: number of ways held, of ways held twice; and whether two of them that hold the same
    way stand beside each other, so that the breathing between them is blocked, or turns the die."""

    held: int
    twice: int
    blocks_breathing: bool

    @property
    def free(self) -> int:
        """Ways in which the die is free."""
        return WAYS - self.held

    @property
    def suits(self) -> bool:
        """Whether every way is held once."""
        return self.free == 0 and self.twice == 0


def layout(holders: Sequence[InPlaneHolder]) -> Layout:
    """How the keys and cones among the holders hold the die."""
    parts = [holder for holder in holders if holder.kind in LOCATING]
    rows = [(place, way) for part in parts for place in (part.place,) for way in _ways(part)]
    if not rows:
        return Layout(0, 0, False)
    size = max(LEAST_SIZE, *(abs(c) for place, _ in rows for c in place))
    matrix = np.array([(dx, dy, (x * dy - y * dx) / size) for (x, y), (dx, dy) in rows])
    held = int(np.linalg.matrix_rank(matrix, tol=LINE_SLACK / size))
    return Layout(held, len(rows) - held, _blocks_breathing(rows))


Row = tuple[tuple[float, float], tuple[float, float]]


def _ways(holder: InPlaneHolder) -> tuple[tuple[float, float], ...]:
    return ((1.0, 0.0), (0.0, 1.0)) if holder.direction is None else (holder.direction,)


def _blocks_breathing(rows: Sequence[Row]) -> bool:
    """Whether two rows hold the same way at places that lie apart along that way."""
    return any(
        abs(dx * ey - dy * ex) < LINE_SLACK * 1e-2 and abs((x - u) * dx + (y - v) * dy) > LINE_SLACK
        for k, ((x, y), (dx, dy)) in enumerate(rows)
        for (u, v), (ex, ey) in rows[:k]
    )

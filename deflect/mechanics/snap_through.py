"""Snap-through: the press springs back when the sheet parts, and pulls its slide and frame the other way."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.sources import Source, Tag

# Reverse force that most presses bear for long, over their rated force, and from where on damage is expected.
TOLERATED_SHARE = 0.10
DAMAGING_SHARE = 0.15
# The event is over within this time, ms.
EVENT = 20.0
TOLERANCE_SOURCE = Source(
    "reverse force of 10 % of rated force tolerated, 15 % too much, within 20 ms: common practice, no source",
    Tag.PRACTICE,
)
# Reverse force over cutting force: usual (a published example had 14 %), and high, for strong sheet (ours).
REVERSE_SHARES = (0.15, 0.30)
SHARE_SOURCE = Source("reverse force of 15 to 30 % of the cutting force: ours", Tag.OURS)


@dataclass(frozen=True)
class SnapThrough:
    """Reverse force in N, and over the press's rated force."""

    force: float
    share_of_rated: float

    @property
    def tolerated(self) -> bool:
        return self.share_of_rated <= TOLERATED_SHARE

    @property
    def damaging(self) -> bool:
        return self.share_of_rated >= DAMAGING_SHARE


def snap_through(cutting_force: float, rated_force: float, share: float) -> SnapThrough:
    """The reverse force of a cut: share times cutting force, set against the rated force (all forces in N)."""
    if not (cutting_force >= 0 and rated_force > 0 and 0 <= share <= 1):
        raise ValueError("a press has a rated force, and the reverse force is a share of the cutting force")
    force = share * cutting_force
    return SnapThrough(force, force / rated_force)


def tolerated_cutting_force(rated_force: float, share: float) -> float:
    """The cutting force, N, whose reverse force is just what a press tolerates."""
    return TOLERATED_SHARE * rated_force / share

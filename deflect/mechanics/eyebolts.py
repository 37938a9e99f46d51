"""Eyebolts for small parts of a die: what each size may carry, and the smallest that suits.

Source: DIN 580:2003 and 2018 (published figures); angles in degrees, masses in kg.
"""

from __future__ import annotations

from dataclasses import dataclass

from deflect.mechanics.lifting import LEGS_COUNTED, USUAL_LEAN, leg_rating
from deflect.sources import Source, Tag

DIN_580 = Source("DIN 580", Tag.PUBLISHED)

# Heaviest part that this tool shows an eyebolt for, kg (ours): above it lifting pins and cast lugs are used.
HEAVIEST_PART = 2000.0


@dataclass(frozen=True)
class Eyebolt:
    """One size: mass that one bolt may carry along its axis, up to 45 degrees from it, and at right angles to it."""

    thread: str
    axial: float
    inclined: float
    sideways: float

    def carries(self, lean: float) -> float:
        """Mass in kg that the bolt may carry where the pull leans so many degrees from its axis."""
        if not 0 <= lean <= 90:
            raise ValueError("an eyebolt is pulled at 0 to 90 degrees from its axis")
        if lean == 0:
            return self.axial
        return self.inclined if lean <= USUAL_LEAN else self.sideways


EYEBOLTS = (
    Eyebolt("M8", 140, 100, 70),
    Eyebolt("M10", 230, 170, 115),
    Eyebolt("M12", 340, 240, 170),
    Eyebolt("M16", 700, 500, 350),
    Eyebolt("M20", 1200, 860, 600),
    Eyebolt("M24", 1800, 1290, 900),
    Eyebolt("M30", 3200, 2300, 1600),
    Eyebolt("M36", 4600, 3300, 2300),
    Eyebolt("M42", 6300, 4500, 3150),
    Eyebolt("M48", 8600, 6100, 4300),
    Eyebolt("M56", 11500, 8200, 5750),
    Eyebolt("M64", 16000, 11000, 8000),
    Eyebolt("M72x6", 20000, 14000, 10000),
    Eyebolt("M80x6", 28000, 20000, 14000),
    Eyebolt("M100x6", 40000, 29000, 20000),
)


def smallest_eyebolt(mass: float, angle: float = USUAL_LEAN, legs: int = LEGS_COUNTED) -> Eyebolt | None:
    """The smallest size, screwed in upright, for a part that hangs on so many legs; None where none carries it.

    The bolts' figures are not added up over the legs: the mode factor of the sling holds (DIN 580:2018, EN 818-4).
    """
    needed = leg_rating(mass, angle, legs)
    return next((bolt for bolt in EYEBOLTS if bolt.carries(angle) >= needed), None)


def next_larger(bolt: Eyebolt) -> Eyebolt | None:
    """The next larger thread, which DIN 580 asks for on what changes hands, such as large dies; None above the last."""
    place = EYEBOLTS.index(bolt) + 1
    return EYEBOLTS[place] if place < len(EYEBOLTS) else None


def suits_eyebolts(mass: float) -> bool:
    """Whether a part is small enough to be lifted by eyebolts at all (ours)."""
    return mass <= HEAVIEST_PART

"""Cutting edges: what force they ask for, how far they lean, and what shift they bear."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial.distance import cdist

from deflect.mechanics.arrays import Floats
from deflect.mechanics.layout import base_layout
from deflect.mechanics.solution import Solution
from deflect.model.die import Die
from deflect.model.force import Line
from deflect.model.values import Interval

# Share of the cutting clearance that creep may use before edges touch: the rest belongs to guides,
# wear and setting (common practice, no source).
CREEP_SHARE = 0.5
# A patch whose centre is so near belongs to the cutting line, mm: half the diagonal of the usual patch.
_BESIDE = 75.0
# The upper half leans the same way and takes back a part; what is left of the lower half's lean
# (low, usual, high) is an estimate of ours until the slide is modelled.
LEFT_BY_UPPER_HALF = (0.25, 0.5, 1.0)


@dataclass(frozen=True)
class ShearForce:
    """Force that a cut asks for, N, with sharp edges and with dull ones."""

    sharp: Interval
    dull: Interval


def shear_force(die: Die) -> ShearForce | None:
    """Length of the cut x sheet thickness x shear strength; None: the length or the sheet is not known.

    Shear strength is taken as a share of the tensile strength, 0.8 usual, and dull edges ask for 15 to 30 % more
    (handbooks of cutting, published).  Of stepped edges only the share counts that is cut at one moment.
    """
    cutting, sheet = die.cutting, die.sheet
    if not die.operation.cuts or sheet is None or cutting.length is None:
        return None
    full = cutting.length * cutting.at_once * sheet.thickness * sheet.tensile_strength
    share, dull = cutting.shear_share, cutting.dull_edge
    sharp = Interval(full * share.low, full * share.nominal, full * share.high)
    return ShearForce(
        sharp,
        Interval(sharp.low * (1 + dull.low), sharp.nominal * (1 + dull.nominal), sharp.high * (1 + dull.high)),
    )


@dataclass(frozen=True)
class Clearance:
    """A cutting clearance a side with its tolerance, mm, and what bending and creep eat of it.

    bending: of the edges, by rotation x height, less what the upper half follows; creep: until the next setting.
    """

    least: float
    most: float
    bending: Interval
    creep: Interval

    @property
    def left(self) -> Interval:
        """What is left of the least clearance, mm; negative: the edges touch."""
        bending, creep = self.bending, self.creep
        return Interval(
            self.least - bending.high - creep.high,
            self.least - bending.nominal - creep.nominal,
            self.least - bending.low - creep.low,
        )


def left_by_upper_half(shift: float) -> Interval:
    """What is left of a lean of the lower edges, mm, once the upper half has followed."""
    low, usual, high = (share * shift for share in LEFT_BY_UPPER_HALF)
    return Interval(low, usual, high)


def clearance(die: Die, bending: Interval, creep: Interval) -> Clearance | None:
    """The clearance and what eats it, mm; None: nothing is cut, or nothing is said of the sheet."""
    if not die.operation.cuts or die.sheet is None:
        return None
    middle, off = die.sheet.clearance, die.cutting.clearance_tolerance
    return Clearance(max(middle - off, 0.0), middle + off, bending, creep)


def edge_shift(solution: Solution) -> float:
    """Greatest sideways lean of the lower cutting edges under force, mm: rotation x height.

    The rotation is that of the base after the best rigid fit, at the cutting lines (at all force patterns
    where no line is given); the height is from the base's neutral plane to the die's top.
    """
    case = solution.case
    lean = np.hypot(*solution.face.lean.T)
    lines = [p for p in case.die.patterns if isinstance(p, Line)]
    near = solution.face.in_face
    if lines:
        corners = np.concatenate([_along(line) for line in lines])
        near = cdist(solution.patches.centre, corners).min(axis=1) < _BESIDE
    height = case.die.lower.height - base_layout(case.die.base).sections[0].to_underside
    return float(lean[near].max() * height)


def _along(line: Line) -> Floats:
    """Points every few centimetres along a line (m, 2)."""
    pieces = []
    for start, end in zip(line.points[:-1], line.points[1:], strict=True):
        a, b = np.asarray(start), np.asarray(end)
        steps = max(2, int(np.hypot(*(b - a)) / 50.0) + 1)
        pieces.append(a + np.linspace(0, 1, steps)[:, None] * (b - a))
    return np.concatenate(pieces)


def shift_tolerance(die: Die) -> tuple[float, str]:
    """How far the lower die may shift, mm, and what that is."""
    if die.operation.cuts and die.sheet is not None:
        return CREEP_SHARE * die.sheet.clearance, "half of the cutting clearance"
    if die.operation.cuts:
        return die.limits.matching, "the sideways match of the cutting edges"
    return GUIDE_CLEARANCE, "the usual clearance of the guides"


# A die without cutting edges meets its guides first: clearance of heel blocks and posts per side, mm
# (common practice, no source).
GUIDE_CLEARANCE = 0.05

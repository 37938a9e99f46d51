"""Cutting edges: how far they lean, and what shift they bear."""

from __future__ import annotations

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.layout import base_layout
from deflect.mechanics.solution import Solution
from deflect.model.die import Die
from deflect.model.force import Line

# Share of the cutting clearance that creep may use before edges touch: the rest belongs to guides,
# wear and setting (common practice, no source).
CREEP_SHARE = 0.5
# A patch whose centre is so near belongs to the cutting line, mm: half the diagonal of the usual patch.
_BESIDE = 75.0


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
        away = solution.patches.centre[:, None, :] - corners[None, :, :]
        near = np.hypot(away[..., 0], away[..., 1]).min(axis=1) < _BESIDE
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

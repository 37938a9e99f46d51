"""What a plan view shows, as outlines in bolster axes (mm)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.footprint import to_table
from deflect.mechanics.loads import pattern_forces
from deflect.model.case import Case
from deflect.model.force import Line, Patch, Pattern, Ring
from deflect.model.press import Bolster
from deflect.model.values import Rectangle


@dataclass(frozen=True, eq=False)
class Outline:
    """A force pattern in plan: outlines (each (m, 2)), whether they enclose the force, its share and name."""

    lines: tuple[Floats, ...]
    encloses: bool
    share: float
    name: str


def corners(area: Rectangle) -> Floats:
    """A rectangle's outline, closed (5, 2)."""
    return np.array([
        (area.left, area.front), (area.right, area.front), (area.right, area.back),
        (area.left, area.back), (area.left, area.front),
    ])  # fmt: skip


def placed(case: Case, points: Floats) -> Floats:
    """Points from die axes to bolster axes."""
    return to_table(case.die.placing, points)


def base_outline(case: Case) -> Floats:
    """The die base's outline as it stands on the table."""
    return placed(case, corners(case.die.base.plan))


def force_outlines(case: Case) -> tuple[Outline, ...]:
    """The force patterns as they stand on the table."""
    return tuple(_outline(case, pattern) for pattern in case.die.patterns)


def _outline(case: Case, pattern: Pattern) -> Outline:
    lines: tuple[Floats, ...]
    match pattern:
        case Patch():
            lines, encloses = (corners(pattern.area),), True
        case Ring():
            # The inner outline runs the other way round, so that a fill leaves it empty.
            lines, encloses = (corners(pattern.outer), corners(pattern.inner)[::-1]), True
        case Line():
            lines, encloses = (np.array(pattern.points, dtype=float),), False
    return Outline(tuple(placed(case, line) for line in lines), encloses, pattern.share, pattern.name)


def centre_of_force(case: Case) -> Floats:
    """Where the resultant of the working force acts (2,)."""
    centre: Floats = placed(case, pattern_forces(case.die.patterns, 1.0).centre[None, :])[0]
    return centre


def slot_lines(bolster: Bolster) -> tuple[Floats, ...]:
    """Centre lines of the T-slots, each (2, 2)."""
    slots = bolster.t_slots
    if slots is None or slots.pitch <= 0:
        return ()
    plan = bolster.plan
    across = plan.length / 2 if slots.direction == "y" else plan.width / 2
    first = slots.offset - slots.pitch * np.floor((slots.offset + across) / slots.pitch)
    places = np.arange(first, across, slots.pitch)
    if slots.direction == "y":
        return tuple(np.array([(p, plan.front), (p, plan.back)]) for p in places)
    return tuple(np.array([(plan.left, p), (plan.right, p)]) for p in places)

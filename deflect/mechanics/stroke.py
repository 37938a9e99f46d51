"""A press stroke: force up and down, and what it does to the die on the table."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.friction import Creep, Footing, Stance, march, tangential_stiffness
from deflect.mechanics.standing import Assumptions, Standing, State

# Contact is solved at this many shares of the force between none and all, geometrically spaced in
# force and weight together, since the die slides most while little force holds it.
_SOLVED = 7
# Steps of the march between two solved shares; the stances between are interpolated.
_BETWEEN = 3
# First share of the force, as a share of the die's own weight against it.
_FIRST = 0.25


@dataclass(frozen=True)
class Drives:
    """What drives the die sideways and what holds it.

    friction: coefficient; slope: table out of level, rad; side_thrust: share of the base's force;
    direction: rad from +x (bolster axes); tangential_give, joint: see friction.py.
    """

    friction: float
    slope: float
    side_thrust: float
    direction: float
    tangential_give: float
    joint: float


@dataclass(frozen=True, eq=False)
class Course:
    """The contact at the solved shares of the force: shares (k,), normal (k, n) N, breathing (k, n, 2) mm,
    places (n, 2) in bolster axes about the die's centre, mm."""

    standing: Standing
    share: Floats
    normal: Floats
    breathing: Floats
    places: Floats


def shares_of_force(standing: Standing) -> Floats:
    """Shares of the working force at which the contact is solved (k,), from rest to full."""
    weight, force = standing.case.die.lower.mass * GRAVITY, max(standing.case.base_force, 1e-9)
    first = min(0.2, max(1e-3, _FIRST * weight / force))
    return np.concatenate([[0.0], np.geomspace(first, 1.0, _SOLVED)])


def solve_course(standing: Standing, assumptions: Assumptions) -> tuple[list[State], Course]:
    """Solve the contact from rest to full force; frictionless contact retraces on the way back."""
    states: list[State] = []
    for share in shares_of_force(standing):
        states.append(standing.solve(float(share), assumptions, states[-1].closed if states else None))
    return states, course_of(states)


def course_of(states: Sequence[State]) -> Course:
    """Normal forces and breathing at the solved states."""
    standing = states[0].standing
    pick = np.flatnonzero(standing.bears)
    inside = standing.base.patches.centre[pick]
    placing = standing.case.die.placing
    c, s = np.cos(placing.rotation), np.sin(placing.rotation)
    turn = np.array([[c, s], [-s, c]])
    read = standing.base.breathing(inside)
    breathing = []
    for state in states:
        table_motion, base_motion = state.table_motion, state.base_motion
        of_table = np.column_stack([row @ table_motion for row in standing.table_breathing])
        of_base = np.column_stack([row @ base_motion for row in read]) @ turn
        breathing.append(of_table + of_base)
    return Course(
        standing,
        np.array([s.share for s in states]),
        np.array([s.contact_force for s in states]),
        np.array(breathing),
        inside @ turn,
    )


def creep(course: Course, drives: Drives) -> Creep:
    """March the stroke until the shift per stroke is steady."""
    case = course.standing.case
    weight = case.die.lower.mass * GRAVITY + sum(c.force for c in case.die.placing.clamps)
    gravity = case.die.lower.mass * GRAVITY
    bolster, base = case.press.bolster, case.die.base
    halves = np.full(
        len(course.places),
        bolster.thickness / (2 * bolster.material.shear_modulus) + base.thickness / (2 * base.material.shear_modulus),
    )
    stiffness = tangential_stiffness(halves, drives.tangential_give, drives.joint) * course.standing.contact_area
    footing = Footing(course.places, drives.friction, stiffness)
    heading = np.array([np.cos(drives.direction), np.sin(drives.direction), 0.0])
    held = course.share * case.base_force + weight
    down = [
        Stance(
            _between(held, course.normal, level),
            _between(held, course.breathing, level),
            heading * (drives.slope * (level - weight + gravity) + drives.side_thrust * (level - weight)),
        )
        for level in _levels(held)
    ]
    return march(footing, [*down, *down[-2::-1]])


def _levels(held: Floats) -> Floats:
    """Holding force at every step of the march."""
    parts = [np.geomspace(a, b, _BETWEEN + 1)[:-1] for a, b in itertools.pairwise(held)]
    return np.append(np.concatenate(parts), held[-1])


def _between(levels: Floats, values: Floats, level: float) -> Floats:
    """Linear interpolation of ``values`` (k, ...) along ``levels`` (k,)."""
    k = int(np.clip(np.searchsorted(levels, level, side="right") - 1, 0, len(levels) - 2))
    t = (level - levels[k]) / (levels[k + 1] - levels[k])
    return np.asarray((1 - t) * values[k] + t * values[k + 1])

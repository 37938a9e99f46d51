"""How far the die creeps per stroke, what holds it and with which force, and what comes first.

Friction presses the contact otherwise than without it, and the contact decides the
friction: the stroke is marched and its contacts are solved in turn until the creep agrees.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.drag import Drag
from deflect.mechanics.holders import InPlaneHolder, holders_of
from deflect.mechanics.march import Creep
from deflect.mechanics.standing import Assumptions, Standing
from deflect.mechanics.stroke import BETWEEN, Course, creep, friction_at, grips_of, solve_course, straps_of
from deflect.mechanics.thrust import Drives

# Rounds of friction and contact, and by which share the creep may change in the last of them.
_ROUNDS, _AGREED = 6, 0.01
# Creep below this is round-off, mm per stroke.
_NOTHING = 1e-7
# Creeps that differ by less than this share are alike.
_ALIKE = 1e-6
# Strokes that are solved at most for a die that something grips.
_GRIPPED_STROKES = 60


@dataclass(frozen=True)
class HolderForce:
    """What a holder takes in the steady state: force, the greatest within a stroke, N; at the bottom of the stroke, N;
    breathing: how far bending alone would move the die at its place within a stroke, mm."""

    holder: InPlaneHolder
    force: float
    bottom: float
    breathing: float


@dataclass(frozen=True, eq=False)
class CreepResult:
    """Creep at one set of inputs.

    free: shift per stroke with friction and clamps alone, mm; direction: of that shift, rad from +x (bolster axes);
    thrust_direction: of the thrust that does it;
    march: the march of the free die along the worst direction of thrust; kept: with keys, cones and guides (None: there
    are none); course: the contacts of the last round; held: whether keys or cones hold the die; rounds: of friction
    and contact; disagreement: change of the creep in the last round, as a share;
    holding: what each key, cone and guide takes.
    """

    free: float
    direction: float
    thrust_direction: float
    march: Creep
    held: bool
    course: Course
    rounds: int
    disagreement: float
    kept: Creep | None = None
    holding: tuple[HolderForce, ...] = ()


def find_creep(
    standing: Standing,
    drag: Drag,
    assumptions: Assumptions,
    drives: Drives,
    directions: Sequence[float],
    like: CreepResult | None = None,
) -> CreepResult:
    """The creep along the worst of some directions of thrust (rad).

    like: a result of the same standing die at other inputs: its friction, scaled by the coefficient, is taken for
    the contact, and one round is enough.
    """
    holders = holders_of(standing.case)
    straps = straps_of(holders)
    if like is not None:
        scale = drives.friction / _friction_of(like)
        friction = [scale * moment.friction for moment in like.course.moments]
        course = solve_course(standing, assumptions, drag, friction, like.course)
        drives = replace(drives, direction=like.thrust_direction)
        marched = creep(course, drives, straps)
        return _result(course, drives, marched, like.held, 1, like.disagreement, holders, keep=False)
    course = solve_course(standing, assumptions, drag)
    marches = [creep(course, replace(drives, direction=way), straps) for way in directions]
    sizes = [_size(marched) for marched in marches]
    # Directions that creep alike but for round-off count as alike: the first of them is told.
    worst = next(k for k, size in enumerate(sizes) if size >= (1 - _ALIKE) * max(sizes))
    drives, marched = replace(drives, direction=directions[worst]), marches[worst]
    rounds, change = 1, np.inf
    while not marched.slides and rounds < _ROUNDS and change > _AGREED:
        course = solve_course(standing, assumptions, drag, friction_at(course, marched), course)
        again = creep(course, drives, straps)
        if again.slides:
            marched = again
            break
        change = float(np.hypot(*(again.shift - marched.shift)[:2])) / max(_size(again), _NOTHING)
        marched, rounds = again, rounds + 1
    held = standing.case.die.placing.held
    return _result(course, drives, marched, held, rounds, change, holders, keep=True)

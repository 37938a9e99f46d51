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
from deflect.mechanics.stroke import (
    BETWEEN,
    Course,
    Trace,
    creep,
    creep_held,
    friction_at,
    grips_of,
    nearness,
    solve_course,
)
from deflect.mechanics.thrust import Drives
from deflect.model.case import Case
from deflect.model.values import Interval

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
    """What a holder takes in the steady state: force, the greatest within a stroke, N, with its range; at the bottom
    of the stroke, N; breathing: how far bending alone would move the die at its place within a stroke, mm."""

    holder: InPlaneHolder
    force: Interval
    bottom: float
    breathing: float


@dataclass(frozen=True, eq=False)
class Held:
    """The strokes of a die that something holds sideways: the march, and what each key, cone and guide takes."""

    march: Creep
    forces: tuple[HolderForce, ...]


@dataclass(frozen=True, eq=False)
class CreepResult:
    """Creep at one set of inputs, with friction alone (clamps press the die down).

    drives: with the worst direction of thrust; march: along it; course: the stroke; rounds: of friction and contact;
    disagreement: change of the creep in the last round, as a share; held: whether keys or cones hold the die all the
    same.
    """

    drives: Drives
    march: Creep
    course: Trace
    rounds: int
    disagreement: float
    held: bool

    @property
    def free(self) -> float:
        """Shift per stroke, mm."""
        return _size(self.march)

    @property
    def direction(self) -> float:
        """Of that shift, rad from +x (bolster axes)."""
        return float(np.arctan2(self.march.shift[1], self.march.shift[0]))

    @property
    def thrust_direction(self) -> float:
        """Of the thrust that does it, rad."""
        return self.drives.direction


@dataclass(frozen=True, eq=False)
class Marched:
    """A creep with the contacts of its last round."""

    drives: Drives
    march: Creep
    course: Course
    rounds: int
    disagreement: float

    def told(self, case: Case) -> CreepResult:
        """What is kept of it; ``case``: its own, but for keys, cones and guides."""
        held = case.die.placing.held
        return CreepResult(self.drives, self.march, self.course.trace, self.rounds, self.disagreement, held)


def find_creep(
    standing: Standing, drag: Drag, assumptions: Assumptions, drives: Drives, directions: Sequence[float]
) -> Marched:
    """The creep along the worst of some directions of thrust (rad), friction and contact in agreement."""
    course = solve_course(standing, assumptions, drag)
    marches = [creep(course, replace(drives, direction=way)) for way in directions]
    sizes = [_size(marched) for marched in marches]
    # Directions that creep alike but for round-off count as alike: the first of them is told.
    worst = next(k for k, size in enumerate(sizes) if size >= (1 - _ALIKE) * max(sizes))
    drives, marched = replace(drives, direction=directions[worst]), marches[worst]
    rounds, change = 1, np.inf
    while not marched.slides and rounds < _ROUNDS and change > _AGREED:
        course = solve_course(standing, assumptions, drag, friction_at(course, marched), course)
        before, marched = marched, creep(course, drives)
        change = float(np.hypot(*(marched.shift - before.shift)[:2])) / max(_size(marched), _NOTHING)
        rounds += 1
    return Marched(drives, marched, course, rounds, change)


def find_creep_like(like: Marched, standing: Standing, drag: Drag, assumptions: Assumptions, drives: Drives) -> Marched:
    """The creep of the same standing die at other inputs, along the same direction of thrust.

    The contact is solved once, under the friction of ``like`` scaled by the coefficient.
    """
    scale = drives.friction / like.drives.friction
    friction = [scale * moment.friction for moment in like.course.moments]
    course = solve_course(standing, assumptions, drag, friction, like.course)
    drives = replace(drives, direction=like.drives.direction)
    marched = creep(course, drives)
    return Marched(drives, marched, course, 1, like.disagreement)


def step_error(result: Marched) -> float:
    """Change of the creep with steps half as long, mm per stroke: about twice what is left to short steps."""
    finer = creep(result.course, result.drives, between=2 * BETWEEN)
    return abs(_size(finer) - _size(result.march))


def hold_all_round(result: Marched, case: Case, directions: Sequence[float]) -> Held | None:
    """What holds a die whose thrust may push along any of some directions (rad): the strokes along the worst of them,
    and the greatest force that each key, cone and guide takes along any of them."""
    along = hold(result, case)
    if along is None or not along.forces:
        return along
    worst = result.drives.direction
    others = [replace(result, drives=replace(result.drives, direction=way)) for way in directions if way != worst]
    greatest = list(along.forces)
    for other in (hold(one, case) for one in others):
        for k, force in enumerate(() if other is None else other.forces):
            greatest[k] = max(greatest[k], force, key=lambda one: one.force.nominal)
    return replace(along, forces=tuple(greatest))


def hold(result: Marched, case: Case) -> Held | None:
    """The same strokes with the straps of clamps as springs, keys, cones and guides; None where there are none.

    case: its own, but for keys, cones and guides.
    """
    holders = holders_of(case)
    gripping = grips_of(holders)
    if not holders or (result.march.slides and not gripping):
        return None
    kept = creep_held(result.course, result.drives, holders, strokes=_GRIPPED_STROKES)
    near = nearness(np.array([h.place for h in gripping]).reshape(-1, 2), result.course.drag.places)
    bottom = BETWEEN * result.course.bottom - 1
    forces = []
    for k, holder in enumerate(gripping):
        moved = np.array([near[k] @ moment.breathing for moment in result.course.moments])
        if holder.direction is not None:
            moved = np.outer(moved @ holder.direction, holder.direction)
        breathing = float(np.ptp(moved @ _main_way(moved)))
        at_bottom = 0.0 if kept.slides else float(np.hypot(*kept.last[bottom].grip[k]))
        force = np.inf if kept.slides else float(kept.grip_force[k])
        forces.append(HolderForce(holder, Interval.exactly(force), at_bottom, breathing))
    return Held(kept, tuple(forces))


def with_range(usual: Held, others: Sequence[Held | None]) -> Held:
    """The forces of the usual values with their range over other inputs."""
    forces = []
    for k, one in enumerate(usual.forces):
        found = [one.force.nominal, *(other.forces[k].force.nominal for other in others if other is not None)]
        forces.append(replace(one, force=Interval(min(found), one.force.nominal, max(found))))
    return replace(usual, forces=tuple(forces))


def _main_way(moved: Floats) -> Floats:
    """Unit vector (2,) along which some motions (k, 2) go most."""
    farthest = moved[int(np.argmax(np.hypot(*moved.T)))]
    return np.asarray(farthest / max(float(np.hypot(*farthest)), 1e-300))


def _size(marched: Creep) -> float:
    return float(np.hypot(marched.shift[0], marched.shift[1]))

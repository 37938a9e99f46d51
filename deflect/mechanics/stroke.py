"""A press stroke: force up and down, the contact solved on the way, and what it does to the die on the table."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.drag import Drag
from deflect.mechanics.friction import Footing, Grips, Stance, tangential_stiffness
from deflect.mechanics.holders import InPlaneHolder
from deflect.mechanics.march import Creep, march
from deflect.mechanics.standing import Assumptions, Standing, State
from deflect.mechanics.thrust import Drives, Leanings, side_thrust
from deflect.model.case import Case

# Contact is solved at this many shares of the force between none and all, geometrically spaced in
# force and weight together, since the die slides most while little force holds it.
_SOLVED = 7
# Steps of the march between two solved moments; the stances between are interpolated.
BETWEEN = 3
# First share of the force, as a share of the die's own weight against it.
_FIRST = 0.25
# Patches that are nearest to a point but for so much, mm, count as equally near.
_AS_NEAR = 1e-6


@dataclass(frozen=True, eq=False)
class Moment:
    """The contact at one moment of the stroke.

    working, returning: force on the die, N; held: what presses it down, weight and clamps included, N;
    friction (n, 2): that acted on the die when the contact was solved, N; breathing (n, 2) mm by all that acted.
    """

    state: State
    working: float
    returning: float
    held: float
    friction: Floats
    breathing: Floats


@dataclass(frozen=True, eq=False)
class Course:
    """The moments of a stroke at which the contact is solved: from rest to the full force (``bottom``) and back.

    bends (2 n, m): what friction bends, see friction.py, with the contacts of the full force: of those at other
    moments the creep feels less than a hundredth (ours).
    """

    drag: Drag
    moments: tuple[Moment, ...]
    bottom: int
    bends: Floats

    @property
    def full(self) -> State:
        return self.moments[self.bottom].state

    @property
    def trace(self) -> Trace:
        return Trace(self.drag.places, np.array([moment.held for moment in self.moments]), self.bottom)


@dataclass(frozen=True, eq=False)
class Trace:
    """What is kept of a course, without its bodies: places of the patches (n, 2), bolster axes about the die's centre,
    mm; what holds the die down at each moment (k,), N; the moment of the full force."""

    places: Floats
    held: Floats
    bottom: int


@dataclass(frozen=True)
class _Share:
    """A moment of the stroke: share of the working forces, and of those that act on the return."""

    working: float
    returning: float = 0.0


def path_of(standing: Standing) -> tuple[list[_Share], int]:
    """Moments from rest to the full force and back to rest, and where among them the full force is."""
    weight, force = standing.case.die.lower.mass * GRAVITY, max(standing.case.base_force, 1e-9)
    first = min(0.2, max(1e-3, _FIRST * weight / force))
    rising = [0.0, *np.geomspace(first, 1.0, _SOLVED).tolist()]
    down = [_Share(share) for share in rising]
    if not standing.case.die.changes_on_return:
        return [*down, *down[-2::-1]], len(down) - 1
    left = share_left(standing.case)
    release = [_Share(share, 1.0 - share) for share in (0.5, 0.0)]
    first = min(0.2, first / max(left, first))
    falling = [0.0, *np.geomspace(first, 1.0, _SOLVED).tolist()]
    return [*down, *release, *(_Share(0.0, share) for share in falling[-2::-1])], len(down) - 1


def share_left(case: Case) -> float:
    """Share of the working force that still acts as the slide begins to rise."""
    return sum(p.share * p.on_return for p in case.die.patterns)


def resting_force(case: Case) -> float:
    """What presses the die on the table between strokes, N: the lower half's weight and its clamps."""
    return case.die.lower.mass * GRAVITY + sum(clamp.force for clamp in case.die.placing.clamps)


def solve_course(
    standing: Standing,
    assumptions: Assumptions,
    drag: Drag | None = None,
    friction: Sequence[Floats] | None = None,
    before: Course | None = None,
) -> Course:
    """Solve the contact from rest to full force and back.

    friction: at each moment (n, 2) on the die, N; without it the contact retraces its way where the forces do.
    before: a course of the same stroke, whose contacts are a first guess.
    """
    drag = drag or Drag.of(standing)
    path, bottom = path_of(standing)
    none = np.zeros((standing.contacts, 2))
    moments: list[Moment] = []
    coupled = None if friction is None else drag.couples(friction)
    mirrored = friction is None and not standing.case.die.changes_on_return
    for k, share in enumerate(path):
        if mirrored and k > bottom:
            moments.append(moments[2 * bottom - k])
            continue
        loads = standing.loads(share.working, share.returning)
        if coupled is not None:
            loads = loads + coupled[k]
        guess = before.moments[k] if before is not None else moments[-1] if moments else None
        state = standing.solve_under(loads, assumptions, None if guess is None else guess.state.closed)
        working, returning = (s * standing.case.base_force for s in (share.working, share.returning))
        returning *= share_left(standing.case)
        held = working + returning + resting_force(standing.case)
        acted = none if friction is None else friction[k]
        moments.append(Moment(state, working, returning, held, acted, drag.breathing(state)))
    return Course(drag, tuple(moments), bottom, drag.bends(moments[bottom].state))


def footing_of(course: Course, drives: Drives, holders: Sequence[InPlaneHolder] = ()) -> Footing:
    """Patches and straps of clamps by their friction, and what else grips the die."""
    standing, places = course.drag.standing, course.drag.places
    bolster, base = standing.case.press.bolster, standing.case.die.base
    halves = np.full(
        standing.contacts,
        bolster.thickness / (2 * bolster.material.shear_modulus) + base.thickness / (2 * base.material.shear_modulus),
    )
    stiffness = tangential_stiffness(halves, drives.tangential_give, drives.joint) * standing.contact_area
    straps, gripping = straps_of(holders), grips_of(holders)
    at = np.array([h.place for h in straps]).reshape(-1, 2)
    near = nearness(at, places)
    bends = course.bends.reshape(*places.shape, -1)
    bends = np.concatenate([bends, np.einsum("hn,nkm->hkm", near, bends)])
    grips = None
    if gripping:
        where = np.array([h.place for h in gripping])
        alike = np.hstack([nearness(where, places), np.zeros((len(gripping), len(straps)))])
        grips = Grips(
            near=alike,
            places=where,
            along=np.array([_projector(h) for h in gripping]),
            offset=np.array([h.offset for h in gripping]),
            play=np.array([h.play for h in gripping]),
            stiffness=np.array([h.stiffness for h in gripping]),
            closed_only=np.array([h.bears_on != "bolster" for h in gripping]),
        )
    return Footing(
        np.vstack([places, at]),
        drives.friction,
        np.concatenate([stiffness, [h.stiffness for h in straps]]),
        bends.reshape(2 * len(bends), -1),
        grips,
    )


def straps_of(holders: Sequence[InPlaneHolder]) -> list[InPlaneHolder]:
    """Holders that slip at a limit: clamps, whose strap rubs on the flange."""
    return [h for h in holders if np.isfinite(h.limit)]


def grips_of(holders: Sequence[InPlaneHolder]) -> list[InPlaneHolder]:
    """Holders that never slip: keys, cones, guides."""
    return [h for h in holders if not np.isfinite(h.limit)]


def nearness(points: Floats, places: Floats) -> Floats:
    """Weights (h, n) of the patches nearest to each point: those that are as near as the nearest share."""
    away = np.hypot(*(points[:, None] - places[None]).transpose(2, 0, 1))
    nearest = (away <= away.min(axis=1, keepdims=True) + _AS_NEAR).astype(float)
    return np.asarray(nearest / nearest.sum(axis=1, keepdims=True))


def _projector(holder: InPlaneHolder) -> Floats:
    """Onto the way in which a holder holds (2, 2)."""
    return np.eye(2) if holder.direction is None else np.outer(holder.direction, holder.direction)


def stances_of(
    course: Course, drives: Drives, holders: Sequence[InPlaneHolder] = (), between: int = BETWEEN
) -> list[Stance]:
    """Every step of a stroke, from rest to the full force and back to rest."""
    case = course.drag.standing.case
    weight = case.die.lower.mass * GRAVITY
    leanings = Leanings.of(case)
    straps = straps_of(holders)
    rubbed = np.array([h.limit / case.press.friction.nominal for h in straps])
    near = nearness(np.array([h.place for h in straps]).reshape(-1, 2), course.drag.places)
    free = [m.breathing - (course.bends @ (course.bends.T @ m.friction.ravel())).reshape(-1, 2) for m in course.moments]
    stances = []
    for k, (here, there) in enumerate(itertools.pairwise(course.moments)):
        steps = _steps(here.held, there.held, between)
        for t in [*steps, 1.0] if k == len(course.moments) - 2 else steps:
            normal, breathing, working, returning = (
                (1 - t) * a + t * b
                for a, b in (
                    (here.state.contact_force, there.state.contact_force),
                    (free[k], free[k + 1]),
                    (here.working, there.working),
                    (here.returning, there.returning),
                )
            )
            thrust = side_thrust(drives, leanings, working + returning + weight, working, returning)
            breathing = np.vstack([breathing, near @ breathing])
            normal = np.concatenate([normal, rubbed])
            stances.append(Stance(normal, breathing, thrust, closed=working + returning > 0))
    return stances


def _steps(held: float, then: float, between: int) -> Floats:
    """Where between two moments the march steps, geometric in what holds the die down."""
    if then == held:
        return np.linspace(0, 1, between + 1)[:-1]
    return np.asarray((np.geomspace(held, then, between + 1)[:-1] - held) / (then - held))


def friction_at(course: Course, marched: Creep, between: int = BETWEEN) -> list[Floats]:
    """Friction on the die at each moment of the course (n, 2), N, in the last stroke of a march."""
    n = len(course.drag.places)
    steps = [marched.last[-1], *marched.last]
    return [steps[k * between].friction[:n] for k in range(len(course.moments))]


def creep(course: Course, drives: Drives, between: int = BETWEEN) -> Creep:
    """March the stroke with friction alone until the shift per stroke is steady."""
    return march(footing_of(course, drives), stances_of(course, drives, between=between))


def creep_held(course: Course, drives: Drives, holders: Sequence[InPlaneHolder], strokes: int) -> Creep:
    """March the stroke with what holds the die sideways until the shift fades, or is steady."""
    footing, stances = footing_of(course, drives, holders), stances_of(course, drives, holders)
    return march(footing, stances, strokes, leaps=True)

"""What a shim or a post does to a solved state while its closed contacts stay closed.

The closed contacts then carry linearly: A f + G a = -d for a change d of the initial gaps, G' f = -r for a
change r of what they balance.  An effect costs one small factorisation, none of a plate.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import scipy.linalg as linalg

from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.standing import Assumptions, Standing, State
from deflect.mechanics.support import FAR_FACE_GIVE
from deflect.model.die import Shim
from deflect.model.values import Rectangle

# A post that is left out stands this far below the bolster, mm: no table sags so much.
_OUT_OF_REACH = 100.0


def with_shims(standing: Standing, shims: Sequence[Shim]) -> Standing:
    """The same die on the same table with further shims below it."""
    case = standing.case
    placing = replace(case.die.placing, shims=(*case.die.placing.shims, *shims))
    gap = standing.initial_gap
    for shim in shims:
        gap = gap - shim.thickness * _filled(standing, shim.area)
    return replace(standing, case=replace(case, die=replace(case.die, placing=placing)), initial_gap=gap)


def shim_effect(state: State, fields: Sequence[Rectangle]) -> Floats:
    """Change of the gaps (n_c, fields) by a shim of 1 mm in each field (die axes), mm/mm."""
    standing = state.standing
    direct = np.zeros((state.taking_part.size, len(fields)))
    direct[: standing.contacts] = -np.column_stack([_filled(standing, area) for area in fields])
    moved = _moved(state, direct, np.zeros((6, len(fields))))[: standing.contacts]
    moved[state.closed[: standing.contacts]] = 0.0
    return moved


def shim_effect_on_face(state: State, fields: Sequence[Rectangle]) -> Floats:
    """Change of the face's movement (patches, fields) by a shim of 1 mm in each field (die axes), mm/mm."""
    standing, base = state.standing, state.standing.base
    direct = np.zeros((state.taking_part.size, len(fields)))
    direct[: standing.contacts] = -np.column_stack([_filled(standing, area) for area in fields])
    force, rigid = _answered(state, direct, np.zeros((6, len(fields))))
    read = base.top(base.patches.centre).surface
    moved = read @ (standing.base_answer @ force[: standing.contacts] + base.rigid @ rigid[3:])
    pressure = np.zeros((standing.bears.size, len(fields)))
    pressure[standing.bears] = force[: standing.contacts] / base.patches.area[standing.bears, None]
    return np.asarray(moved - (FAR_FACE_GIVE * base.squeeze)[:, None] * pressure)


def work_of_posts(standing: Standing, assumptions: Assumptions, taken: Flags, like: Flags | None = None) -> Floats:
    """Energy (posts,) that each post not yet taken would relieve the bodies of under force, N mm.

    standing: with every place that may have a post; taken (posts,); like: closed ports without posts to start from.
    Adding one is a change of rank one: half its free movement squared over the give of bodies and post together.
    """
    case = standing.case
    posts = case.press.bed.posts
    set_back = tuple(p if t else replace(p, gap=_OUT_OF_REACH) for p, t in zip(posts, taken, strict=True))
    bed = replace(case.press.bed, posts=set_back)
    here = replace(standing, case=replace(case, press=replace(case.press, bed=bed)))
    state = here.solve(1.0, assumptions, None if like is None else np.concatenate([like, taken]))
    ports = np.arange(standing.compliance.shape[0])[-len(posts) :]
    give = _moved(state, standing.compliance[:, ports], standing.modes[ports].T)[ports, np.arange(len(posts))]
    give = give + standing.layer(assumptions)[ports]
    room = np.zeros(state.taking_part.size)
    room[state.taking_part] = state.solved.gap
    free = np.maximum(_OUT_OF_REACH - room[ports] - np.array([p.gap for p in posts]), 0.0)
    return np.where(taken, 0.0, 0.5 * free**2 / give)


def _filled(standing: Standing, area: Rectangle) -> Floats:
    """Share (n_c,) of each bearing patch that lies over an area of the base."""
    return np.asarray(standing.base.patches.overlap(area)[standing.bears])


def _moved(state: State, direct: Floats, resultant: Floats) -> Floats:
    """Change of the gaps (n, k) by changes of the initial gaps (n, k), in mm, and of what is balanced (6, k)."""
    standing = state.standing
    force, rigid = _answered(state, direct, resultant)
    closed = np.flatnonzero(state.closed)
    return np.asarray(direct + standing.modes @ rigid + standing.compliance[:, closed] @ force[closed])


def _answered(state: State, direct: Floats, resultant: Floats) -> tuple[Floats, Floats]:
    """Change of the forces (n, k) and rigid motions (6, k) by the same changes."""
    standing, closed = state.standing, np.flatnonzero(state.closed)
    held = standing.modes[closed]
    compliance = standing.compliance[np.ix_(closed, closed)]
    compliance[np.diag_indices(closed.size)] += standing.layer(state.assumptions)[closed]
    factor = linalg.cho_factor(compliance, lower=True, overwrite_a=True, check_finite=False)
    answer = linalg.cho_solve(factor, np.hstack([held, direct[closed]]), check_finite=False)
    by_modes, by_change = answer[:, :6], answer[:, 6:]
    rigid = np.linalg.solve(held.T @ by_modes, resultant - held.T @ by_change)
    force = np.zeros(direct.shape)
    force[closed] = -(by_change + by_modes @ rigid)
    return force, rigid

"""A shim plan that gives a face a wanted form: continuous first, then in whole shop steps.

The face is linear in the thicknesses while the contacts stay as they are: each round is a small linear programme for
the least spread of what is left, solved anew with the contacts that follow; the last is a programme in whole steps.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from deflect.mechanics.arrays import Floats
from deflect.mechanics.changes import shim_effect_on_face, with_shims
from deflect.mechanics.difference import Difference, Shape, face_difference, shape_of
from deflect.mechanics.standing import Assumptions, Standing, State
from deflect.model.die import DieBase, Shim
from deflect.model.values import Rectangle

# Above this thickness a shim is a plate, mm (common practice, no source).
THICKEST = 1.0
# Rounds of the continuous plan; how far a thickness may change in the first of them, mm, and by which factor that is
# taken back where a round does not help; the last worth a round, mm (ours).
_ROUNDS, _REACH, _BACK, _LEAST_REACH = 10, 0.2, 0.4, 0.005
# A millimetre of shim counts this much against a millimetre that is left: what helps nothing is left out (ours).
_SPARING = 2e-4
# Whole steps may lie so many steps off the continuous plan; the programme stops after so many seconds, or so near its
# bound, as a share.
_STEPS_OFF, _SECONDS, _NEAR = 2, 5.0, 0.02
# Rounds of single exchanges, every one re-solved, that polish the whole steps.
_POLISH = 2


@dataclass(frozen=True, eq=False)
class FaceShims:
    """A plan of shims, in whole steps: fields (die axes), thickness (fields,) mm, what it leaves of the difference;
    continuous: what the same fields leave with any thickness, mm."""

    fields: tuple[Rectangle, ...]
    thickness: Floats
    left: Difference
    continuous: float
    standing: Standing
    state: State

    @property
    def shims(self) -> tuple[Shim, ...]:
        return _shims(self.fields, self.thickness)


def fields_of(base: DieBase, size: float) -> tuple[Rectangle, ...]:
    """Fields of about ``size`` mm below a base, column by column from the left, from the front to the rear."""
    nx, ny = (max(1, round(extent / size)) for extent in (base.length, base.width))
    length, width, plan = base.length / nx, base.width / ny, base.plan
    return tuple(
        Rectangle(plan.left + (i + 0.5) * length, plan.front + (j + 0.5) * width, length, width)
        for i in range(nx)
        for j in range(ny)
    )


def shims_for_face(
    wanted: Shape, standing: Standing, assumptions: Assumptions, fields: Sequence[Rectangle], step: float
) -> FaceShims:
    """The plan of shims in multiples of ``step`` mm that leaves least between the face and the wanted one."""
    fields = tuple(fields)
    thickness, left, state = _continuous(wanted, standing, assumptions, fields)
    continuous = left.spread
    whole, left, state = _whole(wanted, standing, assumptions, fields, step, thickness, state)
    return FaceShims(fields, step * whole, left, continuous, with_shims(standing, _shims(fields, step * whole)), state)


def _shims(fields: Sequence[Rectangle], thickness: Floats) -> tuple[Shim, ...]:
    return tuple(Shim(a, round(float(t), 6)) for a, t in zip(fields, thickness, strict=True) if t > 1e-9)


def _solved(
    wanted: Shape, standing: Standing, assumptions: Assumptions, fields: Sequence[Rectangle], thickness: Floats,
    near: State | None,
) -> tuple[Difference, State]:  # fmt: skip
    changed = with_shims(standing, _shims(fields, thickness))
    state = changed.solve(1.0, assumptions, None if near is None else near.closed)
    return face_difference(wanted, shape_of(changed, state)), state


def _continuous(
    wanted: Shape, standing: Standing, assumptions: Assumptions, fields: Sequence[Rectangle]
) -> tuple[Floats, Difference, State]:
    thickness, reach = np.zeros(len(fields)), _REACH
    left, state = _solved(wanted, standing, assumptions, fields, thickness, None)
    for _ in range(_ROUNDS):
        low, high = np.maximum(thickness - reach, 0.0), np.minimum(thickness + reach, THICKEST)
        found = _least_spread(wanted, left, shim_effect_on_face(state, fields), thickness, low, high)
        if found is None:
            break
        after, solved = _solved(wanted, standing, assumptions, fields, found, state)
        if after.spread < left.spread:
            thickness, left, state = found, after, solved
        else:
            reach *= _BACK
            if reach < _LEAST_REACH:
                break
    return thickness, left, state


def _whole(
    wanted: Shape, standing: Standing, assumptions: Assumptions, fields: Sequence[Rectangle], step: float,
    thickness: Floats, state: State,
) -> tuple[Floats, Difference, State]:  # fmt: skip
    """Numbers of steps (fields,): the best of the plain rounding, of the programme, and of nothing; then polished."""
    most = float(np.floor(THICKEST / step + 1e-9))
    rounded = np.minimum(np.round(thickness / step), most)
    tried = [np.zeros(len(fields)), rounded]
    effect, (left, _) = (
        shim_effect_on_face(state, fields),
        _solved(wanted, standing, assumptions, fields, thickness, state),
    )
    low, high = np.maximum(rounded - _STEPS_OFF, 0.0), np.minimum(rounded + _STEPS_OFF, most)
    found = _least_spread(wanted, left, effect * step, thickness / step, low, high, whole=True)
    if found is not None:
        tried.append(np.round(found))
    solved = [(n, *_solved(wanted, standing, assumptions, fields, step * n, state)) for n in tried]
    best, left, state = min(solved, key=lambda one: one[1].spread)
    for _ in range(_POLISH):
        before = left.spread
        for field in range(len(fields)):
            for change in (-1.0, 1.0):
                one = best.copy()
                one[field] += change
                if not 0 <= one[field] <= most:
                    continue
                after, now = _solved(wanted, standing, assumptions, fields, step * one, state)
                if after.spread < left.spread - _SPARING * max(change, 0.0) * step:
                    best, left, state = one, after, now
        if left.spread >= before:
            break
    return best, left, state


def _least_spread(
    wanted: Shape, left: Difference, effect: Floats, now: Floats, low: Floats, high: Floats, whole: bool = False
) -> Floats | None:
    """Sizes (k,) between ``low`` and ``high`` that leave the least spread; ``effect`` (patches, k) on the face per
    unit of size, ``now`` (k,) the sizes at which ``left`` is what is left.

    Unknowns: the sizes, a rigid movement (3) that the fit takes away, and the upper and lower end of what is left.
    """
    known = np.isfinite(left.values)
    points = wanted.points[known]
    extent = np.maximum(np.ptp(points, axis=0), 1.0)
    plane = np.column_stack([np.ones(len(points)), points / extent])
    there = left.values[known] - effect[known] @ now
    k, ones = now.size, np.ones((len(points), 1))
    field = np.hstack([effect[known], plane])
    rows = np.vstack([np.hstack([field, -ones, 0 * ones]), np.hstack([-field, 0 * ones, ones])])
    sparing = np.full(k, _SPARING * (1.0 if not whole else float(np.abs(effect).max(initial=0.0))))
    cost = np.concatenate([sparing, np.zeros(3), [1.0, -1.0]])
    free = np.full(5, np.inf)
    found = milp(
        cost,
        constraints=LinearConstraint(rows, -np.inf, np.concatenate([-there, there])),
        bounds=Bounds(np.concatenate([low, -free]), np.concatenate([high, free])),
        integrality=np.concatenate([np.full(k, 1 if whole else 0), np.zeros(5)]),
        options={"time_limit": _SECONDS, "mip_rel_gap": _NEAR},
    )
    return None if found.x is None else np.asarray(np.clip(found.x[:k], low, high))

"""The shim plan: what fills the gap best, then the least of it that cures, in whole steps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from scipy.optimize import lsq_linear

from deflect.findings import Analysis, Ask, Proposal
from deflect.mechanics.arrays import Floats
from deflect.mechanics.changes import shim_effect, with_shims
from deflect.mechanics.standing import Assumptions, Standing, stand
from deflect.model.case import Case
from deflect.model.die import DieBase, Shim
from deflect.model.values import Rectangle
from deflect.sizing.search import least_change

# Shims come in steps of this thickness and are cut to fields of about this size; above this thickness they are
# a plate, and a sub-plate is the better one, mm (common practice, no source).
STEP, FIELD, THICKEST = 0.05, 400.0, 1.0
# The closed contacts change with the shims: so often the plan is improved at most; it has settled below this
# share of its void; a change that makes the void greater is halved so often; shares of the plan are tried in
# steps of one part in this many (ours).
_ROUNDS, _SETTLED, _HALVINGS, _PARTS = 4, 0.01, 3, 20
# Weight of a millimetre of shim against a millimetre of gap: a shim that fills nothing is none (ours).
_SPARING = 1e-3


def shim_plans(analysis: Analysis, ask: Ask, step: float = STEP) -> Iterator[Proposal]:
    """The case with the least plan of shims that cures; step: in which shims come, mm."""
    case = analysis.case
    fields = shim_fields(case.die.base)
    best = _fill(stand(case), analysis.solution.assumptions, fields)

    def plan(share: float) -> tuple[Shim, ...]:
        thickness = step * np.round(share * best / step)
        return tuple(Shim(a, float(t)) for a, t in zip(fields, thickness, strict=True) if t > 0)

    for share in least_change(0.0, 1.0, 1.0 / _PARTS, lambda share: ask(_shimmed(case, plan(share)))):
        shims = plan(share)
        if shims:
            thin, thick = (f(s.thickness for s in shims) for f in (min, max))
            yield Proposal(
                _shimmed(case, shims),
                f"{len(shims)} field{'' if len(shims) == 1 else 's'} of about {FIELD:.0f} mm, "
                + (f"{thin:.2f} to {thick:.2f} mm thick" if thick > thin else f"{thin:.2f} mm thick"),
            )


def shim_fields(base: DieBase) -> tuple[Rectangle, ...]:
    """The grid of fields below a base, of about ``FIELD`` each way (die axes)."""
    nx, ny = (max(1, round(extent / FIELD)) for extent in (base.length, base.width))
    length, width, plan = base.length / nx, base.width / ny, base.plan
    return tuple(
        Rectangle(plan.left + (i + 0.5) * length, plan.front + (j + 0.5) * width, length, width)
        for i in range(nx)
        for j in range(ny)
    )


def _fill(standing: Standing, assumptions: Assumptions, fields: tuple[Rectangle, ...]) -> Floats:
    """Thickness of each field, mm, that makes the void below the base least: least squares of the gap by area,
    within bounds, linear while the contacts stay closed, and again with those that are closed then."""
    thickness = np.zeros(len(fields))
    weight = np.sqrt(standing.contact_area / standing.contact_area.sum())
    state = standing.solve(1.0, assumptions)
    void = float(np.sum((weight * state.gap) ** 2))
    for _ in range(_ROUNDS):
        effect = shim_effect(state, fields)
        rows = np.vstack([weight[:, None] * effect, _SPARING * np.eye(len(fields))])
        wanted = np.concatenate([-weight * state.gap, -_SPARING * thickness])
        change = lsq_linear(rows, wanted, (-thickness - 1e-9, THICKEST - thickness + 1e-9)).x
        before = void
        for halving in range(_HALVINGS + 1):
            tried = np.clip(thickness + change / 2**halving, 0.0, THICKEST)
            shims = [Shim(a, float(t)) for a, t in zip(fields, tried, strict=True) if t > 0]
            after = with_shims(standing, shims).solve(1.0, assumptions, state.closed)
            left = float(np.sum((weight * after.gap) ** 2))
            if left < void:
                thickness, state, void = tried, after, left
                break
        if void > (1 - _SETTLED) * before:
            break
    return thickness


def _shimmed(case: Case, shims: tuple[Shim, ...]) -> Case:
    placing = replace(case.die.placing, shims=(*case.die.placing.shims, *shims))
    return replace(case, die=replace(case.die, placing=placing))

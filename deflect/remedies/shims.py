"""Captive shims where the die hangs free."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.model.die import Shim
from deflect.model.values import Rectangle
from deflect.sources import PRACTICE

# Shims come in steps of this thickness, mm, and are cut to fields of about this size, mm.
STEP = 0.05
FIELD = 400.0
# Shares of the gap that are filled, the least first: filling it all lifts the die elsewhere.
SHARES = (0.5, 0.75, 1.0)


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    tried: set[tuple[Shim, ...]] = set()
    for share in SHARES:
        shims = _plan(analysis, share)
        if not shims or shims in tried:
            continue
        tried.add(shims)
        case = analysis.case
        placing = replace(case.die.placing, shims=case.die.placing.shims + shims)
        thickest = max(s.thickness for s in shims)
        yield Proposal(
            replace(case, die=replace(case.die, placing=placing)),
            f"{len(shims)} fields of about {FIELD:.0f} mm, "
            + (f"{STEP:.2f} to {thickest:.2f} mm thick" if thickest > STEP else f"{STEP:.2f} mm thick"),
        )


def _plan(analysis: Analysis, share: float) -> tuple[Shim, ...]:
    """Shims, in steps, that fill a share of the mean gap of each field."""
    base = analysis.case.die.base
    solution = analysis.solution
    nx, ny = (max(1, round(extent / FIELD)) for extent in (base.length, base.width))
    length, width = base.length / nx, base.width / ny
    plan = base.plan
    shims = []
    for i in range(nx):
        for j in range(ny):
            area = Rectangle(plan.left + (i + 0.5) * length, plan.front + (j + 0.5) * width, length, width)
            weight = solution.patches.overlap(area) * np.where(solution.bears, 1.0, 0.0)
            if weight.sum() == 0:
                continue
            gap = float(np.nansum(np.where(solution.bears, solution.gap, 0.0) * weight) / weight.sum())
            thickness = STEP * round(share * gap / STEP)
            if thickness > 0:
                shims.append(Shim(area, thickness))
    return tuple(shims)


REMEDY = Remedy(
    id="shims",
    title="Captive shims below the base",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING}),
    effort="2 to 6 hours at the press, with feeler gauge and dial",
    hours=4.0,
    stage=Stage.PRESS,
    who="press room, with the tool room",
    when="at the press",
    drawback="Right for this press and this force only; it loads the die at rest and must be marked on the die.",
    hazard="Loose shims are shot out of the press: every shim is captive, screwed or let in, and counted.",
    source=PRACTICE,
    proposals=_proposals,
    trade_says=(Saying("shims cure a hollow table", ("gap", "contact", "closed-height")),),
)

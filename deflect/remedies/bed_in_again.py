"""Bed a die in again, on the press on which it is to run."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.closure import closure_of
from deflect.model.die import Bedded
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    bedded = case.die.bedded
    closure = closure_of(case)
    change = max(analysis.face.error_range, 0.0 if closure is None else closure.camber_range)
    if bedded is None or change > case.die.limits.bedding:
        return
    here = Bedded(case.press, case.die.working_force)
    if here == bedded:
        return
    yield Proposal(
        replace(case, die=replace(case.die, bedded=here)),
        f"spotted under {case.die.working_force / 1e3:.0f} kN on {case.press.name}: {change:.3f} mm to take off where "
        "it stands high",
    )


REMEDY = Remedy(
    id="bed-in-again",
    title="Bed the die in again on this press",
    cures=frozenset({Trouble.FACE, Trouble.CLOSURE}),
    effort="1 to 3 days of spotting, both halves in the press",
    hours=16.0,
    stage=Stage.TRYOUT,
    who="tool room",
    when="when this press is free for spotting",
    drawback="From then on it is right on this press, and no longer on the one it was bedded in on.",
    hazard="Spotting means hands between the halves: die blocks in, energy locked out, at every opening of the press.",
    source=PRACTICE,
    proposals=_proposals,
)

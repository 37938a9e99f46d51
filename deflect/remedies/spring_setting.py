"""Gas springs below the blank holder set anew, in place of grinding draw beads."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.ring_case import setting_of, why_not
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    holder = case.die.blank_holder
    if holder is None or holder.carried is None or holder.carried.springs is None or why_not(case):
        return
    forces = setting_of(case)
    if forces is None:
        return
    springs = holder.carried.springs.with_forces(forces)
    ring = replace(holder, carried=replace(holder.carried, springs=springs))
    told = ", ".join(f"{force / 1e3:.0f}" for force in forces)
    yield Proposal(
        replace(case, die=replace(case.die, blank_holder=ring)),
        f"forces of {told} kN, in the order of the die file, {springs.total / 1e3:.0f} kN together as before",
    )


REMEDY = Remedy(
    id="spring-setting",
    title="Gas springs set one by one",
    cures=frozenset({Trouble.HOLDER}),
    effort="an hour: charge each spring to its own pressure, and write it down",
    hours=1.0,
    stage=Stage.PRESS,
    who="die setter",
    when="at any setting; draw beads stay as they are",
    drawback="Each spring needs its own pressure checked; a slow leak of one shows in the panel first.",
    hazard="Gas springs hold their force with the press off: let the pressure off before anything is taken apart, and "
    "follow the maker's limits.",
    source=PRACTICE,
    proposals=_proposals,
)

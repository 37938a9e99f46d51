"""Cushion pins ground to one height."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.sources import PRACTICE

# What is left between pins that were ground together, mm either way (common practice, no source).
GROUND = 0.02


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    holder = case.die.blank_holder
    if holder is None or holder.carried is None or holder.carried.springs is not None or not case.die.cushion_pins:
        return
    carried = holder.carried
    if not any(carried.heights) and carried.scatter <= GROUND:
        return
    level = replace(carried, heights=(), scatter=min(carried.scatter, GROUND))
    yield Proposal(
        replace(case, die=replace(case.die, blank_holder=replace(holder, carried=level))),
        f"all {len(case.die.cushion_pins)} to within {GROUND} mm of each other, on the cushion as it is",
    )


REMEDY = Remedy(
    id="level-pins",
    title="Cushion pins ground to one height",
    cures=frozenset({Trouble.HOLDER}),
    effort="half a day: measure all pins, grind the long ones, replace the worn ones",
    hours=4.0,
    stage=Stage.PRESS,
    who="tool room",
    when="between two runs; the set stays with the die",
    drawback="Pins of one set must stay together, and wear apart again.",
    hazard="Pins are changed below a raised cushion: lock it out and let its pressure off first.",
    source=PRACTICE,
    proposals=_proposals,
)

"""Spread the force over more of the face."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.model.force import Patch
from deflect.model.values import Rectangle
from deflect.sources import PRACTICE

# How much longer and wider the patches become, the least change first; margin left on the base, mm.
FACTORS = (1.2, 1.5)
EDGE = 100.0


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    base = case.die.base
    patches = [p for p in case.die.patterns if isinstance(p, Patch)]
    if not patches:
        return
    for factor in FACTORS:
        spread = []
        for pattern in case.die.patterns:
            if isinstance(pattern, Patch):
                area = pattern.area
                length = min(factor * area.length, base.length - 2 * abs(area.x) - EDGE)
                width = min(factor * area.width, base.width - 2 * abs(area.y) - EDGE)
                area = Rectangle(area.x, area.y, max(length, area.length), max(width, area.width))
                pattern = replace(pattern, area=area)
            spread.append(pattern)
        if tuple(spread) != case.die.patterns:
            yield Proposal(
                replace(case, die=replace(case.die, patterns=tuple(spread))),
                f"patches of force {100 * (factor - 1):.0f} % longer and wider, as far as the base reaches",
            )


REMEDY = Remedy(
    id="spread-force",
    title="Spread the force",
    cures=frozenset({Trouble.SAG, Trouble.FACE, Trouble.STRESS, Trouble.PRESSURE, Trouble.GAP}),
    effort="design change: distance blocks, pads, springs farther out",
    hours=30.0,
    stage=Stage.DESIGN,
    who="design, with the process engineer",
    when="before machining",
    drawback="Force taken to the outside is force that the panel does not get in the middle.",
    hazard="None of its own; gas springs are charged: nobody opens one under pressure.",
    source=PRACTICE,
    proposals=_proposals,
)

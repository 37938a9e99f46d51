"""Turn the die by half a turn."""

import math
from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    placing = case.die.placing
    if not placing.may_turn:
        return
    turned = replace(placing, rotation=placing.rotation + math.pi)
    yield Proposal(replace(case, die=replace(case.die, placing=turned)), "by half a turn about its middle")


REMEDY = Remedy(
    id="turn-die",
    title="Turn the die",
    cures=frozenset({Trouble.OFFSET, Trouble.MATCHING, Trouble.GAP}),
    effort="2 to 3 hours at the press",
    hours=3.0,
    stage=Stage.PRESS,
    who="press room",
    when="where the panel's way through the line leaves it free",
    drawback="The panel comes out turned: loading and unloading must suit.",
    hazard="Turning a heavy die in plan on one hook makes it swing: tag lines, nobody in its reach.",
    source=PRACTICE,
    proposals=_proposals,
)

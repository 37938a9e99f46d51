"""Clean and stone the table and the underside of the die."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    dirt = case.die.placing.dirt
    if not dirt:
        return
    die = replace(case.die, placing=replace(case.die.placing, dirt=()))
    places = "1 place" if len(dirt) == 1 else f"{len(dirt)} places"
    highest = max(d.thickness for d in dirt)
    yield Proposal(replace(case, die=die), f"{places}, up to {highest:.2f} mm high, cleaned and stoned away")


REMEDY = Remedy(
    id="clean-table",
    title="Clean and stone table and underside",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING, Trouble.CREEP, Trouble.FACE, Trouble.MATCHING}),
    effort="half an hour to an hour, before anything else",
    hours=0.5,
    stage=Stage.PRESS,
    who="press room",
    when="at every setting",
    drawback="It cures no more than the dirt did: a chip of 0.1 mm is a gap of 0.1 mm.",
    hazard="Hands between die and table: die blocks in, energy locked out; "
    "the die hangs on the crane only while nobody is below.",
    source=PRACTICE,
    proposals=_proposals,
)

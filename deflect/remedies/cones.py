"""Locating cones between die and table."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    if case.die.placing.held or case.press.bolster.takes == "keys":
        return
    die = replace(case.die, placing=replace(case.die.placing, coned=True))
    yield Proposal(
        replace(case, die=die), "one fixed and one floating cone, on the line through the middle of the base"
    )


REMEDY = Remedy(
    id="cones",
    title="Locating cones",
    cures=frozenset({Trouble.CREEP}),
    effort="1 to 2 days: bore table and base to match",
    hours=14.0,
    stage=Stage.TRYOUT,
    who="tool room, press room",
    when="once the base is machined; the table must take the cones",
    drawback="Cone and base face together are overdetermined: a seat too high by 0.02 mm is a gap of 0.02 mm.",
    hazard="A coned die lifts freely with the rising slide: clamps, four at least, hold it down; cones do not.",
    source=PRACTICE,
    proposals=_proposals,
    trade_says=(Saying("a die on cones stands right", ("gap", "contact", "face", "cutting-clearance")),),
)

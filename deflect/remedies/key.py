"""Key the die to the table."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.mechanics.cutting import shift_tolerance
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    if case.die.placing.keyed or case.press.bolster.takes == "cones":
        return
    die = replace(case.die, placing=replace(case.die.placing, keyed=True))
    tolerance, _ = shift_tolerance(die)
    yield Proposal(
        replace(case, die=die),
        "two keys on one line, one cross key near the middle, "
        f"each with less play than the {tolerance * 1e3:.0f} µm that may be used up",
    )


REMEDY = Remedy(
    id="key",
    title="Key the die to the table",
    cures=frozenset({Trouble.CREEP}),
    effort="4 to 8 hours: mill the key slots, fit the keys",
    hours=6.0,
    stage=Stage.TRYOUT,
    who="tool room",
    when="once the base is machined, or at the press where key slots are there; where the table takes keys",
    drawback="Stops the creep only: gap, breathing and face error stay, and the keys take force at every stroke.",
    hazard="Keys do not hold the die down: a keyed die can still be picked up by the rising slide and dropped, "
    "a danger to feet and hands. Clamp it as the press's maker asks, with four clamps at least, and keep clear.",
    source=PRACTICE,
    proposals=_proposals,
    trade_says=(Saying("a keyed die is safe", ("gap", "contact", "face", "cutting-clearance")),),
)

"""Run with less force."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.sources import PRACTICE

# Shares of the working force that are tried, the least change first.
SHARES = (0.9, 0.8, 0.7)


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    for share in SHARES:
        # A cut asks for less only where its edges are stepped.
        stepped = replace(case.die.cutting, at_once=share * case.die.cutting.at_once)
        die = replace(
            case.die,
            cutting=stepped if case.die.operation.cuts else case.die.cutting,
            working_force=share * case.die.working_force,
            cushion_force=share * case.die.cushion_force,
        )
        yield Proposal(
            replace(case, die=die),
            f"{die.working_force / 1e3:.0f} kN instead of {case.die.working_force / 1e3:.0f} kN",
        )


REMEDY = Remedy(
    id="lower-force",
    title="Run with less force",
    cures=frozenset({Trouble.OVERLOAD, Trouble.SAG, Trouble.STRESS, Trouble.PRESSURE, Trouble.GAP, Trouble.FACE}),
    effort="a trial at the press; in the die, stepped edges or softer springs",
    hours=8.0,
    stage=Stage.TRYOUT,
    who="process engineer, tool room",
    when="where the panel comes out right with less",
    drawback="The panel decides: less force may leave it unformed or burred. "
    "Stepped edges cut one after the other, they do not cut for nothing.",
    hazard="A slide that is set deeper to make up for it overloads press and die.",
    source=PRACTICE,
    proposals=_proposals,
)

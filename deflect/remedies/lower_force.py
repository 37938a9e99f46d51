"""Run with less force."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.mechanics.cutting import shear_force
from deflect.model.die import Die
from deflect.sources import PRACTICE
from deflect.units import show_share

# Shares of the working force that are tried, the least change first.
SHARES = (0.9, 0.8, 0.7)


def _shares(working: float, least: float | None) -> tuple[float, ...]:
    """The shares that leave the panel the force that it needs; where none does, that force itself."""
    if least is None:
        return SHARES
    enough = tuple(share for share in SHARES if share * working >= least)
    return enough or ((least / working,) if least < working else ())


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    for share in _shares(case.die.working_force, case.die.least_force):
        die = replace(
            case.die,
            working_force=share * case.die.working_force,
            cushion_force=share * case.die.cushion_force,
        )
        die = _stepped(die, share)
        steps = ""
        if die.cutting.at_once < case.die.cutting.at_once:
            steps = f", edges stepped so that {show_share(die.cutting.at_once)} of the cut is cut at once"
        yield Proposal(
            replace(case, die=die),
            f"{die.working_force / 1e3:.0f} kN instead of {case.die.working_force / 1e3:.0f} kN{steps}",
        )


def _stepped(die: Die, share: float) -> Die:
    """The die with its edges stepped as far as the lower force asks for; by the force's share where the shear
    force is not known."""
    if not die.operation.cuts:
        return die
    shear = shear_force(die)
    less = share if shear is None else min(1.0, die.working_force / shear.sharp.nominal)
    return replace(die, cutting=replace(die.cutting, at_once=less * die.cutting.at_once))


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
    trade_says=(Saying("less force is kinder to every die", ("gap", "contact")),),
)

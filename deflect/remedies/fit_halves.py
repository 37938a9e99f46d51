"""Fit the halves to each other instead of machining each to numbers."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.model.matching import Fitted
from deflect.sources import PRACTICE

_WAYS = (
    (
        Fitted.TO_EACH_OTHER,
        "the half that carries the punch as master, the critical line of the other matched to it in "
        "one short pass at one temperature, then spotted on the bench",
    ),
    (
        Fitted.IN_THE_PRESS,
        "fitted by hand to the half that carries the punch, in the press that will be used, under its working force",
    ),
)


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    matching = case.die.matching
    if not matching.stated:
        return
    ways = [way for way, _ in _WAYS]
    done = ways.index(matching.fitted) + 1 if matching.fitted in ways else 0
    for way, told in _WAYS[done:]:
        die = replace(case.die, matching=replace(matching, fitted=way))
        yield Proposal(replace(case, die=die), told)


REMEDY = Remedy(
    id="fit-halves",
    title="Fit the halves to each other",
    cures=frozenset({Trouble.MATCHING}),
    effort="1 to 3 days of a toolmaker, with the press for the last of it",
    hours=16.0,
    stage=Stage.TRYOUT,
    who="toolmaker, press room",
    when="after both halves are machined, before the edges are hardened or the face is polished",
    drawback="A half that is fitted to its fellow is no longer to the drawing: spare inserts are fitted again.",
    hazard="Spotting is work between the halves: die blocks in, energy locked out, one person in charge of the press.",
    source=PRACTICE,
    proposals=_proposals,
)

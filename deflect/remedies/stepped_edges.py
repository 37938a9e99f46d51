"""Step the cutting edges, so that they do not all cut at one moment."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.cutting import shear_force
from deflect.sources import PRACTICE
from deflect.units import show_share

# Shares of the cut that are cut at once, the least change first; fewer steps than a half leave slivers (common
# practice, no source).
SHARES = (0.9, 0.8, 0.7, 0.6, 0.5)


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    die, cutting = case.die, case.die.cutting
    if not die.operation.cuts or shear_force(die) is None:
        return
    for share in SHARES:
        if share < cutting.at_once:
            stepped = replace(die, cutting=replace(cutting, at_once=share))
            yield Proposal(
                replace(case, die=stepped),
                f"stepped by the sheet's thickness so that {show_share(share)} of the cut is cut at once, "
                f"instead of {show_share(cutting.at_once)}",
            )


REMEDY = Remedy(
    id="stepped-edges",
    title="Step the cutting edges",
    cures=frozenset({Trouble.STATED_FORCE}),
    effort="a day or two of a toolmaker: punches shortened in steps, or edges ground in steps",
    hours=12.0,
    stage=Stage.TRYOUT,
    who="tool room, with design",
    when="before the edges are hardened, or at the next regrind",
    drawback="Stepped edges cut one after the other: the work stays, the force acts longer and from higher above "
    "bottom dead centre, and its centre wanders during the cut. Uneven steps push the die sideways.",
    hazard="Every part that is cut early must still be held: a sliver that tips jams and is thrown out.",
    source=PRACTICE,
    proposals=_proposals,
)

"""Locating cones between die and table."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.mechanics.locating import usual_cones
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    placing = case.die.placing
    cones = () if placing.held or case.press.bolster.takes == "keys" else usual_cones(case)
    if not cones:
        return
    fixed, floating = cones
    die = replace(case.die, placing=replace(placing, coned=True, cones=cones))
    between = "" if case.press.bolster.t_slots is None else ", between T-slots"
    told = (
        f"one fixed cone at {fixed.x:.0f}, {fixed.y:.0f} mm and one floating cone at {floating.x:.0f}, "
        f"{floating.y:.0f} mm from the middle of the base{between}, free to move along the line through both"
    )
    yield Proposal(replace(case, die=die), told.replace(" -", " −"))


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

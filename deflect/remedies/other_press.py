"""Run the die on another press."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.mounting import reaches
from deflect.model.case import EDGE_SLACK
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    for press in case.other_presses:
        cushion = press.cushion.force if press.cushion else 0.0
        base, bolster = case.die.base, press.bolster
        over = reaches(case.die.placing, base.plan, bolster.plan)
        if press != case.press and max(over.values()) <= EDGE_SLACK and case.die.cushion_force <= cushion:
            yield Proposal(replace(case, press=press), f"on {press.name}, rated {press.rated_force / 1e6:g} MN")


REMEDY = Remedy(
    id="other-press",
    title="Run it on another press",
    cures=frozenset(
        {
            Trouble.HEIGHT,
            Trouble.FOOTPRINT,
            Trouble.CLAMPING,
            Trouble.PINS,
            Trouble.MASS,
            Trouble.OVERLOAD,
            Trouble.FORCE_OVER_HEIGHT,
            Trouble.SAG,
            Trouble.GAP,
            Trouble.ROCKING,
            Trouble.FACE,
            Trouble.CLOSURE,
            Trouble.OFFSET,
            Trouble.MATCHING,
            Trouble.STRESS,
        }
    ),
    effort="planning; a day of setting and spotting",
    hours=16.0,
    stage=Stage.TRYOUT,
    who="planning, press room",
    when="where the other press is free",
    drawback="A die bedded in on one press is right only on a press that bends alike: spot it again.",
    hazard="Heights, clamps, pins and masses are checked anew on the other press before the die is lifted.",
    source=PRACTICE,
    proposals=_proposals,
)

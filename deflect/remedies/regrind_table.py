"""Grind the worn bolster flat again."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.sources import PRACTICE


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    dish = case.press.bolster.dish
    if dish <= 0:
        return
    press = replace(case.press, bolster=replace(case.press.bolster, dish=0.0))
    yield Proposal(replace(case, press=press), f"the dish of {dish:.2f} mm ground out of the bolster's top")


REMEDY = Remedy(
    id="regrind-table",
    title="Grind the bolster flat",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING, Trouble.CREEP}),
    effort="2 to 4 days, bolster out of the press",
    hours=60.0,
    stage=Stage.TRYOUT,
    who="maintenance, with a machine shop",
    when="when the press can stand still",
    drawback="Every die bedded in on the worn table must be spotted again; the bolster loses thickness.",
    hazard="The bolster is a heavy lift: its own lifting points, its own plan.",
    source=PRACTICE,
    proposals=_proposals,
    trade_says=(Saying("a die on a flat table stands flat", ("gap", "contact")),),
)

"""A more compliant base."""

from collections.abc import Iterator

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.sizing import base_thicknesses
from deflect.sources import PRACTICE

# Steps of thickness that are tried, as shares of the present one, the least change first.
STEPS = (0.85, 0.7, 0.55, 0.4)


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    yield from base_thicknesses(analysis, STEPS)


REMEDY = Remedy(
    id="compliant-base",
    title="A more compliant base",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING, Trouble.CREEP, Trouble.HEIGHT}),
    effort="design change; days of drawing and machining, none at the press",
    hours=40.0,
    stage=Stage.DESIGN,
    who="design",
    when="before casting, or before the base is machined",
    drawback="The face follows the table: what the gap loses, the face error may gain, "
    "and it must be bedded in on this press.",
    hazard="A thin base bends on the crane too: lift it at the points that it was designed for.",
    source=PRACTICE,
    proposals=_proposals,
)

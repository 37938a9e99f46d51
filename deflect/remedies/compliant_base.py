"""A more compliant base."""

from collections.abc import Iterator

from deflect.findings import Analysis, Ask, Proposal, Remedy, Stage, Trouble
from deflect.sizing.base_thickness import base_thickness
from deflect.sources import PRACTICE

# How far the search goes, as a share of the present thickness (ours).
THINNEST = 0.4


def _sized(analysis: Analysis, ask: Ask) -> Iterator[Proposal]:
    yield from base_thickness(analysis, ask, THINNEST)


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
    sized=_sized,
)

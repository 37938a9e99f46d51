"""A thicker base."""

from collections.abc import Iterator

from deflect.findings import Analysis, Ask, Proposal, Remedy, Saying, Stage, Trouble
from deflect.sizing.base_thickness import base_thickness
from deflect.sources import PRACTICE

# How far the search goes, as a share of the present thickness (ours).
THICKEST = 1.75


def _sized(analysis: Analysis, ask: Ask) -> Iterator[Proposal]:
    yield from base_thickness(analysis, ask, THICKEST)


REMEDY = Remedy(
    id="thicker-base",
    title="A thicker base",
    cures=frozenset({Trouble.FACE, Trouble.CLOSURE, Trouble.STRESS, Trouble.MATCHING}),
    effort="design change; 1 to 2 weeks with the casting, none at the press",
    hours=80.0,
    stage=Stage.DESIGN,
    who="design",
    when="before casting",
    drawback="A new casting. A stiffer die bridges a sagging table all the more: watch gap and contact after it; "
    "it costs height and mass.",
    hazard="It weighs more on the crane and the slings: check both before lifting.",
    source=PRACTICE,
    sized=_sized,
    trade_says=(Saying("a thicker base always helps", ("gap", "contact")),),
)

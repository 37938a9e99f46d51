"""A thicker base."""

from collections.abc import Iterator

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.sizing import base_thicknesses
from deflect.sources import PRACTICE

# Steps of thickness that are tried, as shares of the present one, the least change first.
STEPS = (1.15, 1.3, 1.5, 1.75)


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    yield from base_thicknesses(analysis, STEPS)


REMEDY = Remedy(
    id="thicker-base",
    title="A thicker base",
    cures=frozenset({Trouble.FACE, Trouble.STRESS, Trouble.MATCHING}),
    effort="design change; 1 to 2 weeks with the casting, none at the press",
    hours=80.0,
    stage=Stage.DESIGN,
    who="design",
    when="before casting",
    drawback="A new casting. A stiffer die bridges a sagging table all the more: watch gap and contact after it; "
    "it costs height and mass.",
    hazard="It weighs more on the crane and the slings: check both before lifting.",
    source=PRACTICE,
    proposals=_proposals,
    trade_says=(Saying("a thicker base always helps", ("gap", "contact")),),
)

"""A more compliant base."""

from collections.abc import Iterator

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.lifting import weight
from deflect.sources import PRACTICE

# Steps of thickness that are tried, as shares of the present one, the least change first.
STEPS = (0.85, 0.7, 0.55, 0.4)
# Thicknesses are ordered in whole steps of this many mm; thinner than this no base is cast.
ROUND = 10.0
THINNEST = 60.0


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    now = case.die.lower
    for step in STEPS:
        thickness = ROUND * round(case.die.base.thickness * step / ROUND)
        changed = case.with_base_thickness(thickness)
        then = changed.die.lower
        if thickness == case.die.base.thickness or thickness < THINNEST or then.mass <= 0:
            continue
        yield Proposal(
            changed,
            f"{thickness:.0f} mm instead of {case.die.base.thickness:.0f} mm ({(then.mass - now.mass) / 1000:+.1f} t, "
            f"lower half {then.mass / 1000:.1f} t, {then.height - now.height:+.0f} mm of closed height)",
            hazard=f"the lower half weighs {weight(then.mass) / 1e3:.0f} kN on the crane "
            f"instead of {weight(now.mass) / 1e3:.0f} kN",
        )


REMEDY = Remedy(
    id="compliant-base",
    title="A more compliant base",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING, Trouble.CREEP}),
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

"""A thicker base."""

from collections.abc import Iterator

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.lifting import weight
from deflect.sources import PRACTICE

# Steps of thickness that are tried, as shares of the present one, the least change first.
STEPS = (1.15, 1.3, 1.5, 1.75)
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
)

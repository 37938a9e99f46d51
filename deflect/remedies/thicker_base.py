"""A thicker base."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Trouble
from deflect.mechanics.lifting import weight
from deflect.sources import PRACTICE

# Steps of thickness that are tried, as shares of the present one, the least change first.
STEPS = (1.15, 1.3, 1.5, 1.75)
# Thicknesses are ordered in whole steps of this many mm; thinner than this no base is cast.
ROUND = 10.0
THINNEST = 60.0


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    base, lower = case.die.base, case.die.lower
    for step in STEPS:
        thickness = ROUND * round(base.thickness * step / ROUND)
        if thickness == base.thickness or thickness < THINNEST:
            continue
        more = thickness - base.thickness
        mass = base.length * base.width * more * base.material.density
        if lower.mass + mass <= 0:
            continue
        die = replace(
            case.die,
            base=replace(base, thickness=thickness),
            lower=replace(lower, height=lower.height + more, mass=lower.mass + mass),
        )
        yield Proposal(
            replace(case, die=die),
            f"{thickness:.0f} mm instead of {base.thickness:.0f} mm "
            f"({mass / 1000:+.1f} t, lower half {(lower.mass + mass) / 1000:.1f} t, "
            f"{more:+.0f} mm of closed height)",
            hazard=f"the lower half weighs {weight(lower.mass + mass) / 1e3:.0f} kN on the crane "
            f"instead of {weight(lower.mass) / 1e3:.0f} kN",
        )


REMEDY = Remedy(
    id="thicker-base",
    title="A thicker base",
    cures=frozenset({Trouble.FACE, Trouble.STRESS, Trouble.MATCHING}),
    effort="design change; 1 to 2 weeks with the casting, none at the press",
    hours=80.0,
    who="design",
    when="before casting",
    drawback="A stiffer die bridges a sagging table all the more: the gap grows as the face gets better; it costs height and mass.",
    hazard="It weighs more on the crane and the slings: check both before lifting.",
    source=PRACTICE,
    proposals=_proposals,
)

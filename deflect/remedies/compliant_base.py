"""A more compliant base."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Trouble
from deflect.mechanics.lifting import weight
from deflect.sources import PRACTICE

# Steps of thickness that are tried, as shares of the present one, the least change first.
STEPS = (0.85, 0.7, 0.55, 0.4)
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
    id="compliant-base",
    title="A more compliant base",
    cures=frozenset({Trouble.GAP, Trouble.ROCKING, Trouble.CREEP}),
    effort="design change; days of drawing and machining, none at the press",
    hours=40.0,
    who="design",
    when="before casting, or before the base is machined",
    drawback="The face follows the table: what the gap loses, the face error may gain, and it must be bedded in on this press.",
    hazard="A thin base bends on the crane too: lift it at the points that it was designed for.",
    source=PRACTICE,
    proposals=_proposals,
)

"""Proposals that more than one remedy makes, by size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from deflect.findings import Analysis, Proposal
from deflect.mechanics.lifting import weight
from deflect.model.die import DieBase

# Thicknesses are ordered in whole steps of this many mm; thinner than this no base is cast (common practice).
ROUND = 10.0
THINNEST = 60.0


def base_thicknesses(analysis: Analysis, shares: Sequence[float]) -> Iterator[Proposal]:
    """The case with other thicknesses of the die base, as shares of the present one, in the order given."""
    base = analysis.case.die.base
    for share in shares:
        thickness = ROUND * round(base.thickness * share / ROUND)
        if thickness == base.thickness or thickness < max(THINNEST, _least_hollow(base)):
            continue
        changed = analysis.case.with_base_thickness(thickness).die.base
        proposal = other_base(analysis, changed, f"{thickness:.0f} mm instead of {base.thickness:.0f} mm")
        if proposal.case.die.lower.mass > 0:
            yield proposal


def _least_hollow(base: DieBase) -> float:
    """The lowest that a ribbed base may be: its skins, and as much again of ribs; a stepped one: its lowest step
    keeps the least thickness.  mm."""
    if base.ribs is not None:
        return 2 * (base.ribs.top + base.ribs.bottom)
    return THINNEST + max((base.thickness - step.thickness for step in base.steps), default=0.0)


def other_base(analysis: Analysis, base: DieBase, told: str) -> Proposal:
    """The case with another die base; ``told``: what is other, to which mass and height are added."""
    now = analysis.case.die.lower
    changed = analysis.case.with_base(base)
    then = changed.die.lower
    estimated = ", estimated: weigh it" if now.mass_is_estimated else ""
    return Proposal(
        changed,
        f"{told} ({(then.mass - now.mass) / 1000:+.1f} t, "
        f"lower half {then.mass / 1000:.1f} t, {then.height - now.height:+.0f} mm of closed height)",
        hazard=f"the lower half weighs {weight(then.mass) / 1e3:.0f} kN on the crane "
        f"instead of {weight(now.mass) / 1e3:.0f} kN{estimated}",
    )

"""Proposals that more than one remedy makes, by size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from deflect.findings import Analysis, Proposal
from deflect.mechanics.lifting import weight

# Thicknesses are ordered in whole steps of this many mm; thinner than this no base is cast (common practice).
ROUND = 10.0
THINNEST = 60.0


def base_thicknesses(analysis: Analysis, shares: Sequence[float]) -> Iterator[Proposal]:
    """The case with other thicknesses of the die base, as shares of the present one, in the order given."""
    case = analysis.case
    now = case.die.lower
    estimated = ", estimated: weigh it" if now.mass_is_estimated else ""
    for share in shares:
        thickness = ROUND * round(case.die.base.thickness * share / ROUND)
        changed = case.with_base_thickness(thickness)
        then = changed.die.lower
        if thickness == case.die.base.thickness or thickness < THINNEST or then.mass <= 0:
            continue
        yield Proposal(
            changed,
            f"{thickness:.0f} mm instead of {case.die.base.thickness:.0f} mm ({(then.mass - now.mass) / 1000:+.1f} t, "
            f"lower half {then.mass / 1000:.1f} t, {then.height - now.height:+.0f} mm of closed height)",
            hazard=f"the lower half weighs {weight(then.mass) / 1e3:.0f} kN on the crane "
            f"instead of {weight(now.mass) / 1e3:.0f} kN{estimated}",
        )

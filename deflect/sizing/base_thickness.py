"""The thickness of the die base."""

from __future__ import annotations

from collections.abc import Iterator

from deflect.findings import Analysis, Ask, Proposal
from deflect.mechanics.lifting import weight
from deflect.sizing.search import least_change

# Thicknesses are ordered in whole steps of this many mm; thinner than this no base is cast (common practice).
ROUND = 10.0
THINNEST = 60.0


def base_thickness(analysis: Analysis, ask: Ask, bound: float) -> Iterator[Proposal]:
    """The case with the least change of its base's thickness that cures; bound: a share of the present one."""
    case = analysis.case
    present = case.die.base.thickness
    end = max(bound * present, THINNEST)
    if (end - present) * (bound - 1.0) <= 0:
        return
    now = case.die.lower
    estimated = ", estimated: weigh it" if now.mass_is_estimated else ""
    for thickness in least_change(present, end, ROUND, lambda size: ask(case.with_base_thickness(size))):
        changed = case.with_base_thickness(thickness)
        then = changed.die.lower
        yield Proposal(
            changed,
            f"{thickness:.0f} mm instead of {present:.0f} mm ({_signed(then.mass / 1e3 - now.mass / 1e3, 1)} t, "
            f"lower half {then.mass / 1e3:.1f} t, {_signed(then.height - now.height)} mm of closed height)",
            hazard=f"the lower half weighs {weight(then.mass) / 1e3:.0f} kN on the crane "
            f"instead of {weight(now.mass) / 1e3:.0f} kN{estimated}",
        )


def _signed(value: float, decimals: int = 0) -> str:
    return f"{value:+.{decimals}f}".replace("-", "−")

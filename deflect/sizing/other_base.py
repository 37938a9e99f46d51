"""The case with another die base, told with what it weighs and how high it stands."""

from __future__ import annotations

from deflect.findings import Analysis, Proposal
from deflect.mechanics.lifting import weight
from deflect.model.die import DieBase

# Thinner than this no base is cast, mm (common practice, no source).
THINNEST = 60.0


def least_height(base: DieBase) -> float:
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
        f"{told} ({_signed(then.mass / 1e3 - now.mass / 1e3, 1)} t, "
        f"lower half {then.mass / 1e3:.1f} t, {_signed(then.height - now.height)} mm of closed height)",
        hazard=f"the lower half weighs {weight(then.mass) / 1e3:.0f} kN on the crane "
        f"instead of {weight(now.mass) / 1e3:.0f} kN{estimated}",
    )


def _signed(value: float, decimals: int = 0) -> str:
    return f"{value:+.{decimals}f}".replace("-", "−")

"""Mass and centre of mass of each half of a die; arithmetic."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.die import Die, DieBase
from deflect.model.values import Interval


@dataclass(frozen=True)
class HalfMass:
    """Mass of a half, kg, and its centre of mass, mm: x and y from the middle of the base (die axes), height over
    the half's lowest face.  sure: share of the mass that comes from a stated section; the rest is taken as spread
    evenly over plan and height."""

    mass: Interval
    x: float
    y: float
    height: float
    sure: float


def lower_mass(die: Die) -> HalfMass:
    """The lower half: its base from its section, what stands on it as an even block."""
    half, base = die.lower, die.base
    on_base = max(half.mass - base.mass, 0.0)
    x, y = plan_centre(base)
    total = base.mass + on_base
    above = (base.thickness + max(half.height, base.thickness)) / 2
    return HalfMass(
        half.mass_range,
        base.mass * x / total,
        base.mass * y / total,
        (base.mass * base.centre_height + on_base * above) / total,
        min(base.mass / half.mass, 1.0),
    )


def upper_mass(die: Die) -> HalfMass:
    """The upper half: nothing is known of its section, so that it is an even block."""
    return HalfMass(die.upper.mass_range, 0.0, 0.0, die.upper.height / 2, 0.0)


def plan_centre(base: DieBase) -> tuple[float, float]:
    """Centre of mass of a base in plan, mm: steps and pads may stand on one side."""
    if base.ribs is None:
        parts = [(step.area, step.thickness - base.thickness) for step in base.steps]
        volume = base.plan.area * base.thickness + sum(area.area * more for area, more in parts)
        moments = [(area.area * more * area.x, area.area * more * area.y) for area, more in parts]
    else:
        ribs = base.ribs
        core = base.thickness - ribs.top - ribs.bottom
        filled = [(pad, core * ribs.filled_by(base.plan, pad)) for pad in ribs.pads]
        volume = base.mass / base.material.density
        moments = [(more * pad.x, more * pad.y) for pad, more in filled]
    return sum(x for x, _ in moments) / volume, sum(y for _, y in moments) / volume

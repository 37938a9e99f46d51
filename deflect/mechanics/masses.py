"""Mass and centre of mass of each half of a die; arithmetic."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.die import Die, DieBase, Half
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
    """The lower half: its base and the blocks on it from their sections, the rest as an even block on the base."""
    return _half_mass(die.lower, die.base, upside_down=False)


def upper_mass(die: Die) -> HalfMass:
    """The upper half, which hangs from its base: the same, all of it an even block where nothing is stated."""
    return _half_mass(die.upper, die.upper.base, upside_down=True)


def _half_mass(half: Half, base: DieBase | None, upside_down: bool) -> HalfMass:
    """Mass and centre from what is stated; heights over the half's back until the end."""
    stated = [(block.mass, block.area.x, block.area.y, (block.low + block.high) / 2) for block in half.blocks]
    top = 0.0
    if base is not None:
        stated.append((base.mass, *plan_centre(base), base.centre_height))
        top = base.thickness
    known = sum(mass for mass, *_ in stated)
    rest = max(half.mass - known, 0.0)
    parts = [*stated, (rest, 0.0, 0.0, (top + max(half.height, top)) / 2)]
    total = known + rest
    x, y, height = (sum(part[0] * part[axis] for part in parts) / total for axis in (1, 2, 3))
    return HalfMass(half.mass_range, x, y, half.height - height if upside_down else height, min(known / half.mass, 1.0))


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

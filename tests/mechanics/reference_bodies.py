"""The bodies of the three-dimensional reference solutions, as the production code takes them."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from deflect.mechanics.body import GRAVITY
from deflect.mechanics.standing import Assumptions, Standing, stand
from deflect.model.case import Case
from deflect.model.die import Die, DieBase, Half, Limits, Operation, Placing
from deflect.model.force import Patch, Pattern, Ring
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster, Land, Press
from deflect.model.values import Interval, Rectangle

# Steel slab of 4000 x 2200 x 200 mm without weight over an opening of 3000 x 1400 mm.
BOLSTER = Bolster(4000.0, 2200.0, 200.0, 0.0, Material("slab", 206_000.0, 0.3, 7.85e-6, 120.0))
OPENING = Rectangle(0.0, 0.0, 3000.0, 1400.0)
# Iron block of 2800 x 1400 x 300 mm.
BLOCK = DieBase(2800.0, 1400.0, 300.0, Material("block", 110_000.0, 0.27, 7.2e-6, 90.0))
PATCH = Patch(1.0, Rectangle(0.0, 0.0, 1600.0, 800.0))
RING = Ring(1.0, Rectangle(0.0, 0.0, 2400.0, 1100.0), Rectangle(0.0, 0.0, 2200.0, 900.0))
# The land of the references is rigid: it only presses, or it holds the slab down everywhere as well.
RIGID_LAND = Assumptions(bed_stiffness=np.inf)
HOLDING_LAND = Assumptions(bed_stiffness=np.inf, land_pulls=True)


def case_of(
    pattern: Pattern,
    force: float,
    die_weight: float = 0.0,
    placing: Placing | None = None,
    dish: float = 0.0,
    bolster_mass: float = 0.0,
    base: DieBase = BLOCK,
) -> Case:
    """The block on the slab under ``force`` N, the lower die weighing ``die_weight`` N."""
    bolster = Bolster(BOLSTER.length, BOLSTER.width, BOLSTER.thickness, bolster_mass, BOLSTER.material, dish=dish)
    bed = Bed(OPENING, Land(Interval.exactly(np.inf), "rigid, for checks only"))
    friction, level = Interval.exactly(0.15), Interval.exactly(0.0)
    press = Press("reference", 1e7, bolster, bed, None, None, friction, level, None)
    lower, upper = Half(base.thickness, die_weight / GRAVITY, False), Half(0.0, 0.0, False)
    limits = Limits(0.03, 0.3, 0.015)
    die = Die("block", Operation.FORM, base, lower, upper, force, 0.0, (pattern,), placing or Placing(), limits, level)
    return Case(press, die)


@lru_cache(maxsize=16)
def standing_of(pattern: Pattern, force: float, die_weight: float = 0.0) -> Standing:
    return stand(case_of(pattern, force, die_weight))

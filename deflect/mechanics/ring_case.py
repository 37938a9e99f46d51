"""The blank holder of a case, against its own upper face: solved, over its ranges, set anew, and with a leak."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.closure import closure_of, closure_when_bedded
from deflect.mechanics.hanging import described_above
from deflect.mechanics.ring import Ring, Shape, pressed_ring, uneven_range
from deflect.mechanics.ring_springs import Leak, best_setting, leaks
from deflect.model.case import Case
from deflect.model.die import BlankHolder, Die
from deflect.model.press import CushionGuides
from deflect.model.ring import RingRibs
from deflect.model.values import Interval, Rectangle
from deflect.units import show_point

# Thicknesses at which a ring is solved anew, as shares of its own.
THINNER = (1.0, 0.8, 0.6, 0.5, 0.4, 0.3)
# Skin, walls and ribs of a hollow ring that takes the place of a solid one, mm, and the distance of its ribs: as inner
# ribs of large castings (common practice, no source).
RIB_SIZES, RIB_PITCH = (60.0, 50.0, 40.0, 30.0), 300.0


def why_not(case: Case) -> str:
    """Why the ring of a draw die cannot be solved, in words; empty: it can."""
    die = case.die
    holder, upper = die.blank_holder, die.upper.base
    if holder is None or holder.carried is None:
        return "die.blank_holder is missing"
    if not described_above(case) or upper is None:
        return "the upper half, against which it presses, is not described"
    if not upper.plan.contains(holder.pattern.outer):
        return "it reaches beyond the base of the upper half"
    places = carriers(die)
    if len(places) == 0:
        return "die.cushion_pins is missing, and no gas springs are given"
    off = np.flatnonzero(~_below(die, places))
    if off.size:
        kind = "pins" if holder.carried.springs is None else "springs"
        first = f"number {off[0] + 1} at {show_point(*map(float, places[off[0]]))}"
        return f"not all of its {kind} stand below it: {off.size} of {len(places)} stand beside it, the first {first}"
    if closure_of(case) is None:
        return "slide and upper half as described do not hold each other"
    try:
        ring_of(case)
    except MechanicsFailed:
        return "what carries the ring does not press it against the sheet"
    return ""


def carriers(die: Die) -> Floats:
    """Places of the gas springs, or of the cushion pins (p, 2), die axes."""
    holder = die.blank_holder
    if holder is not None and holder.carried is not None and holder.carried.springs is not None:
        return np.array(holder.carried.springs.places)
    return np.array(die.cushion_pins or ()).reshape(-1, 2)


def _below(die: Die, places: Floats) -> Flags:
    assert die.blank_holder is not None
    pattern = die.blank_holder.pattern
    return _within(pattern.outer, places) & ~_within(pattern.inner, places)


def _within(area: Rectangle, places: Floats) -> Flags:
    x, y = np.abs(places - (area.x, area.y)).T
    return np.asarray((x <= area.length / 2) & (y <= area.width / 2))


def upper_shape(case: Case) -> Shape:
    """The upper face as it is bent under the whole force, less what was fitted to it at bedding-in."""
    closure, before = closure_of(case), closure_when_bedded(case)
    assert closure is not None

    def shape(points: Floats) -> Floats:
        down = closure.upper_stands_down(points)
        return down if before is None else down - before.upper_stands_down(points)

    return shape


def cushion_guides(case: Case) -> CushionGuides | None:
    """What keeps the cushion level; None: it is taken as level."""
    return None if case.press.cushion is None else case.press.cushion.guides


@lru_cache(maxsize=16)
def ring_of(case: Case) -> Ring:
    """The ring of ``case`` as its file has it; ``why_not`` must be empty."""
    return pressed_ring(case.die, upper_shape(case), guides=cushion_guides(case))


@lru_cache(maxsize=16)
def ring_range(case: Case) -> Interval:
    """Unevenness of its pressure over the scatter of its pins."""
    return uneven_range(case.die, ring_of(case), upper_shape(case), cushion_guides(case))


def thinner(case: Case) -> tuple[tuple[float, Ring], ...]:
    """The ring of other thicknesses, mm, from its own down, each solved anew."""
    holder, shape = case.die.blank_holder, upper_shape(case)
    assert holder is not None
    sizes = (holder.thickness * share for share in THINNER)
    rings = ((size, replace(holder, thickness=size)) for size in sizes if holder.may_be(size))
    return tuple((size, _pressed(case, ring, shape)) for size, ring in rings)


def ribbed(case: Case) -> tuple[tuple[BlankHolder, Ring], ...]:
    """The ring of the same height with ribs, from thick parts to thin ones, each solved anew."""
    holder, shape = case.die.blank_holder, upper_shape(case)
    assert holder is not None
    return tuple((one, _pressed(case, one, shape)) for one in hollowed(holder))


def _pressed(case: Case, holder: BlankHolder, shape: Shape) -> Ring:
    return pressed_ring(replace(case.die, blank_holder=holder), shape, guides=cushion_guides(case))


def hollowed(holder: BlankHolder) -> tuple[BlankHolder, ...]:
    """Rings of the same height with ribs of which more is left out step by step, none thinner than can be made; of a
    ring that has ribs its own made thinner."""
    ribs = holder.ribs
    if ribs is None:
        patterns = [RingRibs(size, size, RIB_PITCH, size) for size in RIB_SIZES]
    else:
        patterns = [
            replace(ribs, skin=share * ribs.skin, walls=share * ribs.walls, thickness=share * ribs.thickness)
            for share in THINNER[1:]
        ]
    return tuple(replace(holder, ribs=one) for one in patterns if one.fits(holder.ring, holder.thickness))


def setting_of(case: Case) -> tuple[float, ...] | None:
    """The best forces of its gas springs, N; None: there are none to set one by one."""
    return best_setting(case.die, upper_shape(case))


def leaks_of(case: Case) -> tuple[Leak, ...]:
    """What a leak of each of its gas springs does."""
    return leaks(case.die, upper_shape(case))

"""Whether a die goes into its press: plans, clamping slots, cushion pins, forces over height; arithmetic only."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.footprint import from_table, to_table
from deflect.model.die import Placing
from deflect.model.press import Bolster, ForceAtHeight, PinField, TSlots
from deflect.model.values import Rectangle

# Round-off of places that are written in other units or turned, mm and decimals of a mm (ours).
ROUND_OFF = 1e-6
DIGITS = 6


def reaches(placing: Placing, plan: Rectangle, room: Rectangle) -> dict[str, float]:
    """How far a placed and turned plan reaches over each edge of a room, mm; negative: what is left to the edge."""
    corners = [(x, y) for x in (plan.left, plan.right) for y in (plan.front, plan.back)]
    (x0, y0), (x1, y1) = (f(to_table(placing, np.array(corners)), axis=0) for f in (np.min, np.max))
    return {
        "left": float(room.left - x0),
        "right": float(x1 - room.right),
        "front": float(room.front - y0),
        "back": float(y1 - room.back),
    }


@dataclass(frozen=True)
class Clamping:
    """How the slots of a flange meet T-slots: bolt and play of a bolt in its slot, mm; which slots are met, and
    by how much each bolt misses the nearest T-slot, mm (infinite: it stands where there is none)."""

    bolt: float
    play: float
    missed_by: tuple[float, ...]

    @property
    def met(self) -> int:
        """Number of slots whose bolt stands in a T-slot."""
        return sum(miss <= self.play + ROUND_OFF for miss in self.missed_by)


def clamping(
    placing: Placing,
    slots: tuple[tuple[float, float], ...],
    slot_width: float,
    t_slots: TSlots,
    room: Rectangle,
    openings: tuple[Rectangle, ...] = (),
) -> Clamping:
    """Hold the slots of a placed and turned flange against the T-slots of a room with openings.

    A bolt stands on the centre line of its T-slot and may stand off the middle of the flange's slot by half
    of what that slot is wider than the bolt.
    """
    misses = []
    for x, y in to_table(placing, np.array(slots, dtype=float)):
        spot = Rectangle(float(x), float(y), 0.0, 0.0)
        across, extent = (x, room.length) if t_slots.direction == "y" else (y, room.width)
        line = t_slots.nearest_line(across)
        there = room.contains(spot) and abs(line) <= extent / 2 and not any(cut.contains(spot) for cut in openings)
        misses.append(abs(float(across) - line) if there else np.inf)
    bolt = t_slots.bolt_diameter
    return Clamping(bolt, (slot_width - bolt) / 2, tuple(misses))


def onto_slots(
    placing: Placing, slots: tuple[tuple[float, float], ...], t_slots: TSlots, reach: float
) -> tuple[tuple[float, float], ...]:
    """The flange slots (die axes) shifted across onto the nearest T-slot's line, where that is within ``reach`` mm."""
    spots = to_table(placing, np.array(slots, dtype=float))
    axis = 0 if t_slots.direction == "y" else 1
    lines = t_slots.offset + t_slots.pitch * np.round((spots[:, axis] - t_slots.offset) / t_slots.pitch)
    near = np.abs(lines - spots[:, axis]) <= reach
    spots[near, axis] = lines[near]
    back = from_table(placing, spots)
    return tuple(
        (round(float(x), DIGITS), round(float(y), DIGITS)) if moved else slot
        for slot, (x, y), moved in zip(slots, back, near, strict=True)
    )


def hole_lines(field: PinField, along_x: bool) -> Floats:
    """Places of the columns (or rows) of pin holes, mm, bolster axes: holes that lie in the region as a whole."""
    region = field.region
    middle, extent = (region.x, region.length) if along_x else (region.y, region.width)
    if field.hole is None:
        cells = int(np.floor(extent / field.pitch + ROUND_OFF))
        return np.asarray(middle + field.pitch * (np.arange(cells) - (cells - 1) / 2), dtype=float)
    one = field.hole[0] if along_x else field.hole[1]
    reach = (extent - field.diameter) / 2 + ROUND_OFF
    first, last = np.ceil((middle - reach - one) / field.pitch), np.floor((middle + reach - one) / field.pitch)
    return np.asarray(one + field.pitch * np.arange(first, last + 1))


def pin_misses(placing: Placing, pins: tuple[tuple[float, float], ...], bolster: Bolster, field: PinField) -> Floats:
    """How far each pin (die axes) stands from the middle of the nearest hole, mm; 0 in a cut-out of the
    bolster, infinite where there are no holes at all."""
    columns, rows = hole_lines(field, True), hole_lines(field, False)
    misses = []
    for x, y in to_table(placing, np.array(pins, dtype=float)):
        spot = Rectangle(float(x), float(y), 0.0, 0.0)
        if any(cut.contains(spot) for cut in bolster.openings):
            misses.append(0.0)
        else:
            aside, behind = (np.abs(one - lines).min(initial=np.inf) for one, lines in ((x, columns), (y, rows)))
            misses.append(float(np.hypot(aside, behind)))
    return np.round(misses, DIGITS)


def shift_to_holes(
    placing: Placing, pins: tuple[tuple[float, float], ...], bolster: Bolster, field: PinField
) -> tuple[float, float]:
    """The shift of the die along x and y, mm, that brings the middling pin onto the nearest hole."""
    spots = to_table(placing, np.array(pins, dtype=float))
    steps = []
    for axis, lines in enumerate((hole_lines(field, True), hole_lines(field, False))):
        off = lines[None, :] - spots[:, axis, None]
        nearest = off[np.arange(len(spots)), np.abs(off).argmin(axis=1)] if lines.size else np.zeros(1)
        steps.append(round(float(np.median(nearest)), DIGITS) + 0.0)
    return steps[0], steps[1]


def shift_to_slots(placing: Placing, slots: tuple[tuple[float, float], ...], t_slots: TSlots) -> tuple[float, float]:
    """The shift of the die along x and y, mm, that brings the middling flange slot onto the nearest T-slot."""
    across = to_table(placing, np.array(slots, dtype=float))[:, 0 if t_slots.direction == "y" else 1]
    lines = t_slots.offset + t_slots.pitch * np.round((across - t_slots.offset) / t_slots.pitch)
    step = round(float(np.median(lines - across)), DIGITS) + 0.0
    return (step, 0.0) if t_slots.direction == "y" else (0.0, step)


def permitted_force(curve: tuple[ForceAtHeight, ...], height: float) -> float | None:
    """The force in N that the slide may give at a height above bottom dead centre, mm, between the points of the
    curve; below its first point the force of that point; None above its last, of which nothing is known."""
    if height > curve[-1].height + ROUND_OFF:
        return None
    return float(np.interp(height, [point.height for point in curve], [point.force for point in curve]))

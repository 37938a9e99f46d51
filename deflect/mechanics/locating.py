"""Where keys and locating cones go: T-slots met, and the usual arrangements.

Usual (common practice, no source): two keys on one line along the T-slots and one cross key near the middle;
one fixed and one floating cone on the line through the middle of the base.  Each then holds what no other holds,
so that the base breathes freely between them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from deflect.mechanics.footprint import from_table, to_table
from deflect.model.case import Case
from deflect.model.holder import LINE_SLACK, TURN_SLACK, USUAL_PLAY, Key, LocatingCone, Seat
from deflect.model.press import TSlots
from deflect.model.values import Rectangle

Spot = tuple[float, float]

# How far the keys of a line, and the cones, stand from the middle, as shares of the room there: the first that is
# free is taken (ours).
REACHES = (0.35, 0.4, 0.3, 0.25, 0.2)
# Steps in which a free place for a cross key or a cone is sought, mm, and how many of them each way (ours).
STEP = 50.0
STEPS = 10
# What a distance aside from the way that a part holds counts: breathing there is not blocked (ours).
ASIDE = 0.25
# Round-off of places, mm, and decimals of a mm.
ROUND_OFF = 1e-6
DIGITS = 6


def key_misses_slot(key: Key, case: Case) -> bool:
    """Whether a key that belongs in a T-slot stands beside it, across it, or where the table has none."""
    if key.seat is Seat.KEYWAY:
        return False
    slots, spot = case.press.bolster.t_slots, _on_table(case, (key.x, key.y))
    if slots is None or not _on_bolster(case, spot):
        return True
    return slots.misses(*spot) > LINE_SLACK or slots.turned_by(key.slot + case.die.placing.rotation) > TURN_SLACK


def usual_keys(case: Case, play: float = USUAL_PLAY) -> tuple[Key, ...]:
    """Two keys on the T-slot nearest to the middle of the die, and a cross key in a keyway between two T-slots
    near the middle; keyways alone where no T-slots are stated.  Empty: there is no free place for them."""
    slots = case.press.bolster.t_slots
    seat = Seat.KEYWAY if slots is None else Seat.T_SLOT
    line = _line_pair(case, slots)
    frame = _Frame.of(case, slots)
    cross = _first_free(case, _between_slots(frame, slots, frame.middle), (0.0, 0.0), frame.angle)
    if line is None or cross is None:
        return ()
    slot = _upright(frame.angle)
    crossing = _upright(frame.angle + math.pi / 2)
    return (
        *(Key(x, y, slot, seat, play) for x, y in line),
        Key(*cross, crossing, Seat.KEYWAY, play),
    )


def usual_cones(case: Case) -> tuple[LocatingCone, ...]:
    """A fixed and a floating cone on the line through the middle of the base along its longer side, as near to it
    as the table can be bored between two T-slots.  Empty: there is no free place for them."""
    base, slots = case.die.base, case.press.bolster.t_slots
    frame = _Frame.of(case, slots)
    along_x = base.length >= base.width
    half = max(base.length, base.width)
    for reach in REACHES:
        ends = [(share * half, 0.0) if along_x else (0.0, share * half) for share in (-reach, reach)]
        across = math.pi / 2 if along_x else 0.0
        fixed, floating = (
            _first_free(case, _between_slots(frame, slots, frame.seen(end)), end, across) for end in ends
        )
        if fixed is not None and floating is not None and math.dist(fixed, floating) > reach * half:
            way = math.atan2(floating[1] - fixed[1], floating[0] - fixed[0])
            return LocatingCone(*fixed), LocatingCone(*floating, floats=way)
    return ()


@dataclass(frozen=True)
class _Frame:
    """The table seen along its T-slots: across them and along them, mm, from the bolster's centre."""

    case: Case
    along_y: bool
    angle: float

    @staticmethod
    def of(case: Case, slots: TSlots | None) -> _Frame:
        along_y = slots is None or slots.direction == "y"
        return _Frame(case, along_y, (math.pi / 2 if along_y else 0.0) - case.die.placing.rotation)

    def place(self, across: float, along: float) -> Spot:
        """A place in die axes."""
        return _on_die(self.case, (across, along) if self.along_y else (along, across))

    def seen(self, spot: Spot) -> Spot:
        """A place of the die across and along the T-slots."""
        x, y = _on_table(self.case, spot)
        return (x, y) if self.along_y else (y, x)

    @property
    def middle(self) -> Spot:
        """The die's middle, across and along."""
        return self.seen((0.0, 0.0))


def _line_pair(case: Case, slots: TSlots | None) -> tuple[Spot, Spot] | None:
    """Two free places on the slot line nearest to the middle that has them, die axes."""
    frame, base = _Frame.of(case, slots), case.die.base
    across, along = frame.middle
    lines = [across]
    if slots is not None:
        near = slots.nearest_line(across)
        lines = sorted((near + k * slots.pitch for k in range(-STEPS, STEPS + 1)), key=lambda line: abs(line - across))
    for line in lines:
        chord = _chord(frame.place(line, along), frame.angle, base.plan)
        if chord is None:
            continue
        for reach in REACHES:
            pair = _at(chord, 0.5 - reach), _at(chord, 0.5 + reach)
            if all(_is_free(case, spot) for spot in pair):
                return pair
    return None


def _between_slots(frame: _Frame, slots: TSlots | None, near: Spot) -> list[Spot]:
    """Places (die axes) between two T-slots, about a place (across, along)."""
    across, along = near
    steps = [STEP * k for k in range(-STEPS, STEPS + 1)]
    aside = [across + step for step in steps]
    if slots is not None:
        line = slots.nearest_line(across)
        aside = [line + (k + 0.5) * slots.pitch for k in range(-STEPS, STEPS)]
    return [frame.place(a, along + b) for a in aside for b in steps]


def _first_free(case: Case, spots: Iterable[Spot], near: Spot, way: float) -> Spot | None:
    """The free place nearest to ``near`` (die axes), first of all along ``way`` (rad), the way in which the part
    blocks the breathing; of two alike the one on the right."""

    def far(spot: Spot) -> float:
        x, y = spot[0] - near[0], spot[1] - near[1]
        c, s = math.cos(way), math.sin(way)
        return round(math.hypot(c * x + s * y, ASIDE * (c * y - s * x)), DIGITS)

    ordered = sorted(spots, key=lambda one: (far(one), -one[0], -one[1]))
    return next((spot for spot in ordered if _is_free(case, spot)), None)


def _is_free(case: Case, spot: Spot) -> bool:
    """Whether the base bears above a place (die axes) and the bolster is below it."""
    base, here = case.die.base, Rectangle(*spot, 0.0, 0.0)
    areas = base.bearing or (base.plan,)
    return any(area.contains(here) for area in areas) and _on_bolster(case, _on_table(case, spot))


def _on_bolster(case: Case, spot: Spot) -> bool:
    bolster, here = case.press.bolster, Rectangle(*spot, 0.0, 0.0)
    return bolster.plan.contains(here) and not any(cut.contains(here) for cut in bolster.openings)


def _chord(through: Spot, angle: float, plan: Rectangle) -> tuple[Spot, Spot] | None:
    """The piece of a line within a rectangle; None where it passes beside it."""
    low, high = -math.inf, math.inf
    for start, way, least, most in (
        (through[0], math.cos(angle), plan.left, plan.right),
        (through[1], math.sin(angle), plan.front, plan.back),
    ):
        if abs(way) < ROUND_OFF:
            if not least < start < most:
                return None
            continue
        ends = sorted(((least - start) / way, (most - start) / way))
        low, high = max(low, ends[0]), min(high, ends[1])
    if high - low < ROUND_OFF:
        return None
    first, last = ((through[0] + t * math.cos(angle), through[1] + t * math.sin(angle)) for t in (low, high))
    return first, last


def _at(chord: tuple[Spot, Spot], share: float) -> Spot:
    (x0, y0), (x1, y1) = chord
    return _tidy(x0 + share * (x1 - x0), y0 + share * (y1 - y0))


def _on_table(case: Case, spot: Spot) -> Spot:
    x, y = to_table(case.die.placing, np.array([spot], dtype=float))[0]
    return _tidy(float(x), float(y))


def _on_die(case: Case, spot: Spot) -> Spot:
    x, y = from_table(case.die.placing, np.array([spot], dtype=float))[0]
    return _tidy(float(x), float(y))


def _tidy(x: float, y: float) -> Spot:
    """A place without round-off."""
    return round(x, DIGITS) + 0.0, round(y, DIGITS) + 0.0


def _upright(angle: float) -> float:
    """The same line's angle from 0 up to pi."""
    turned = angle % math.pi
    return 0.0 if math.pi - turned < ROUND_OFF else turned

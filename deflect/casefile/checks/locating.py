"""Cross-checks of what holds the die: keys, cones, guides, bolts of clamps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from deflect.casefile.checks.die import CHECKS
from deflect.casefile.checks.pair import CHECKS as PAIR_CHECKS
from deflect.casefile.checks.pair import Pair
from deflect.casefile.checks.press import extent
from deflect.casefile.parts.die import DiePart
from deflect.casefile.parts.locating import KeyPart
from deflect.casefile.parts.part import Objection
from deflect.mechanics.bolts import THREADS
from deflect.model.holder import LINE_SLACK, TURN_SLACK, Seat
from deflect.model.press import TSlots
from deflect.model.values import Rectangle
from deflect.units import show_angle, show_length

_PLAN = ("base.length", "base.width")
_FROM_THE_DIE = "check x and y: they count from the die's centre, not from the table's"


def _ends(key: KeyPart) -> tuple[tuple[float, float], tuple[float, float]]:
    dx, dy = key.length / 2 * math.cos(key.slot), key.length / 2 * math.sin(key.slot)
    return (key.x - dx, key.y - dy), (key.x + dx, key.y + dy)


@CHECKS.needs(*_PLAN, "keys")
def keys_stand_under_the_base(die: DiePart) -> Iterator[Objection]:
    for index, key in enumerate(die.keys):
        if not all(die.base.plan.contains(Rectangle(*end, 0, 0)) for end in _ends(key)):
            yield Objection(
                ("keys", index),
                f"the key at {key.x:g}, {key.y:g} mm, {show_length(key.length)} long, reaches beyond the die base",
                f"within {extent(die.base.plan)}, from the base's centre",
                _FROM_THE_DIE,
            )


@CHECKS.needs(*_PLAN, "cones")
def cones_stand_under_the_base(die: DiePart) -> Iterator[Objection]:
    for index, cone in enumerate(die.cones):
        if not die.base.plan.contains(Rectangle(cone.x, cone.y, cone.diameter, cone.diameter)):
            yield Objection(
                ("cones", index),
                f"the {cone.form} of {show_length(cone.diameter)} at {cone.x:g}, {cone.y:g} mm reaches beyond the die "
                "base",
                f"within {extent(die.base.plan)}, from the base's centre",
                _FROM_THE_DIE,
            )


@CHECKS.needs("cones")
def cones_have_a_tip(die: DiePart) -> Iterator[Objection]:
    for index, cone in enumerate(die.cones):
        highest = cone.diameter / math.tan(cone.half_angle)
        if cone.height > highest:
            yield Objection(
                ("cones", index, "height"),
                f"a flank of {show_length(cone.height)} ends above the tip of a cone with this angle and diameter",
                f"up to {show_length(highest)}",
                "the diameter is that in the middle of the flank, the angle that between flank and axis: check both",
            )


@CHECKS.needs(*_PLAN, "guides")
def guides_stand_on_the_base(die: DiePart) -> Iterator[Objection]:
    for index, guide in enumerate(die.guides):
        if not die.base.plan.contains(Rectangle(guide.x, guide.y, 0, 0)):
            yield Objection(
                ("guides", index),
                f"the guide at {guide.x:g}, {guide.y:g} mm stands off the die base",
                f"within {extent(die.base.plan)}, from the base's centre",
                _FROM_THE_DIE,
            )


@CHECKS.needs("guides", "guide_offset")
def offset_halves_have_guides(die: DiePart) -> Iterator[Objection]:
    if not die.guides and (die.guide_offset.x, die.guide_offset.y) != (0, 0):
        yield Objection(
            ("guide_offset",),
            "the halves stand offset, and no guide is listed that they could press against",
            "an offset with guides",
            "list the guides as [[die.guides]], or take the offset out",
        )


@CHECKS.needs("placing", "keys", "cones")
def flags_agree_with_the_lists(die: DiePart) -> Iterator[Objection]:
    for flag, name, listed in (("keyed", "keys", die.keys), ("coned", "cones", die.cones)):
        denied = flag in die.placing.model_fields_set and not getattr(die.placing, flag)
        if listed and denied:
            yield Objection(
                ("placing", flag),
                f"{flag} says no, and [[die.{name}]] lists {len(listed)}",
                f"{flag} = true, or the key left out",
                f"take {flag} out, or the {name}",
            )


@PAIR_CHECKS.needs("die.placing", "die.keys", "press.bolster.t_slots")
def keys_fit_t_slots(pair: Pair) -> Iterator[Objection]:
    part = pair.press.bolster.t_slots
    slots = None if part is None else part.build()
    for index, key in enumerate(pair.die.keys):
        if key.seat != Seat.T_SLOT:
            continue
        if slots is None:
            yield Objection(
                ("keys", index),
                "the key stands in a T-slot, and the press file states no T-slots",
                f'T-slots in the press file, or seat = "{Seat.KEYWAY}"',
                "add t_slots to [press.bolster]",
            )
        else:
            yield from _key_fits(pair, index, key, slots)


def _key_fits(pair: Pair, index: int, key: KeyPart, slots: TSlots) -> Iterator[Objection]:
    x, y = pair.on_table(key.x, key.y)
    turned, off = slots.turned_by(key.slot + pair.die.placing.rotation), slots.misses(x, y)
    if turned > TURN_SLACK:
        yield Objection(
            ("keys", index, "slot"),
            f"the key is turned by {show_angle(turned)} out of the T-slots, which run along the table's "
            f"{slots.direction}",
            "a key along a T-slot: it holds across it",
            f'check slot and the die\'s rotation; a key that runs across has seat = "{Seat.KEYWAY}"',
        )
    elif off > LINE_SLACK:
        across = x if slots.direction == "y" else y
        yield Objection(
            ("keys", index),
            f"the key misses the nearest T-slot by {show_length(off)}",
            f"the middle of a T-slot; the nearest lies at {'x' if slots.direction == 'y' else 'y'} = "
            f"{slots.nearest_line(across):g} mm of the table",
            f'move the key or the die; a keyway of its own is seat = "{Seat.KEYWAY}"',
        )
    if key.width is not None and key.width > slots.width:
        yield Objection(
            ("keys", index, "width"),
            f"a key of {show_length(key.width)} does not go into a throat of {show_length(slots.width)}",
            f"up to {show_length(slots.width)}",
            "check both, or leave the width out",
        )


@PAIR_CHECKS.needs("die.placing", "die.keys", "press.bolster.openings", "press.bolster.length", "press.bolster.width")
def keys_have_a_table_below(pair: Pair) -> Iterator[Objection]:
    for index, key in enumerate(pair.die.keys):
        yield from _has_a_table_below(pair, "keys", index, (key.x, key.y))


@PAIR_CHECKS.needs("die.placing", "die.cones", "press.bolster.openings", "press.bolster.length", "press.bolster.width")
def cones_have_a_table_below(pair: Pair) -> Iterator[Objection]:
    for index, cone in enumerate(pair.die.cones):
        yield from _has_a_table_below(pair, "cones", index, (cone.x, cone.y))


def _has_a_table_below(pair: Pair, name: str, index: int, spot: tuple[float, float]) -> Iterator[Objection]:
    here = Rectangle(*pair.on_table(*spot), 0, 0)
    if any(cut.contains(here) for cut in pair.press.bolster.cuts):
        yield Objection(
            (name, index),
            f"the {name[:-1]} stands over a cut-out of the bolster, at {here.x:.0f}, {here.y:.0f} mm of the table",
            "a place with bolster below it",
            f"move the {name[:-1]} or the die, or check the cut-outs of the bolster",
        )


@PAIR_CHECKS.needs("die.clamps", "press.bolster.t_slots")
def bolts_go_into_t_slots(pair: Pair) -> Iterator[Objection]:
    slots = pair.press.bolster.t_slots
    for index, clamp in enumerate(pair.die.clamps):
        if slots is not None and clamp.bolt is not None and THREADS[clamp.bolt.thread].diameter > slots.width:
            yield Objection(
                ("clamps", index, "bolt", "thread"),
                f"a bolt {clamp.bolt.thread} does not go into a throat of {show_length(slots.width)}",
                f"up to M{slots.width:g}",
                "check the thread and the T-slots",
            )

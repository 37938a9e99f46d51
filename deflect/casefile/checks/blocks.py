"""Cross-checks of what stands on the base of a half."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from deflect.casefile.checks.die import CHECKS, STEEL_DENSITY
from deflect.casefile.checks.press import extent
from deflect.casefile.parts.bolster import common_area
from deflect.casefile.parts.die import BlockPart, DiePart
from deflect.casefile.parts.part import Objection
from deflect.units import show_length, show_mass

# Round-off of a sum of masses, as a share.
_SLACK = 1e-6
_DENSEST = 1.5
"""Mass of a block over that of solid steel of its size: more is a slip; ours."""


@CHECKS.needs("base.length", "base.width", "lower", "upper")
def blocks_lie_within_their_half(die: DiePart) -> Iterator[Objection]:
    for name, half in (("lower", die.lower), ("upper", die.upper)):
        plan = half.plan(die.base)
        for index, block in enumerate(half.blocks):
            if not plan.contains(block.build()):
                yield Objection(
                    (name, "blocks", index),
                    f"the block ({extent(block.build())}) reaches beyond the half",
                    f"within {extent(plan)}, from its centre",
                    "check its place and size",
                )
            if block.high > half.height:
                yield Objection(
                    (name, "blocks", index, "high"),
                    f"the block ends above the half, which is {show_length(half.height)} high",
                    f"up to {show_length(half.height)}",
                    "heights count from the back of the half: table side of the lower one, slide side of the upper one",
                )


@CHECKS.needs("base", "lower", "upper")
def blocks_stand_on_a_solid_base(die: DiePart) -> Iterator[Objection]:
    """Metal of a block within a solid base would be weighed twice; between ribs there may be room for it."""
    for name, half, base in (("lower", die.lower, die.base), ("upper", die.upper, die.upper.base)):
        if base is None or base.ribs is not None:
            continue
        floor = min([base.thickness, *(step.thickness for step in base.steps)])
        for index, block in enumerate(half.blocks):
            if block.low < floor:
                yield Objection(
                    (name, "blocks", index, "low"),
                    f"the block begins within the solid base, which is {show_length(floor)} thick",
                    f"{show_length(floor)} or more",
                    "let it begin on the base: what lies below is weighed with the base already",
                )


@CHECKS.needs("base", "lower", "upper")
def blocks_are_clear_of_skins_and_pads(die: DiePart) -> Iterator[Objection]:
    """Between ribs there may be room for a block; a skin, or a pad, is metal already and weighed with the base."""
    for name, half, base in (("lower", die.lower, die.base), ("upper", die.upper, die.upper.base)):
        if base is None or base.ribs is None:
            continue
        pads = [pad.build() for pad in base.ribs.pads]
        top, floor = base.thickness - base.ribs.top, base.ribs.bottom or 0.0
        for index, block in enumerate(half.blocks):
            in_top = block.low < base.thickness and block.high > top
            in_pad = block.low < top and any(common_area(block.build(), pad) > 0 for pad in pads)
            metal = {"top skin": in_top, "bottom skin": block.low < floor, "pads": in_pad}
            within = [part for part, there in metal.items() if there]
            if within:
                yield Objection(
                    (name, "blocks", index, "low"),
                    f"the block reaches into {' and '.join(within)} of the base: metal that is weighed with it",
                    f"{show_length(base.thickness)} or more, on the base; or a place between its ribs alone",
                    "let it begin on the base, which is as high as its thickness says",
                )


@CHECKS.needs("lower", "upper")
def blocks_weigh_what_their_size_allows(die: DiePart) -> Iterator[Objection]:
    for name, half in (("lower", die.lower), ("upper", die.upper)):
        for index, block in enumerate(half.blocks):
            if block.mass is None:
                continue
            most = _DENSEST * _volume(block) * STEEL_DENSITY
            if block.mass > most:
                yield Objection(
                    (name, "blocks", index, "mass"),
                    f"the block weighs {block.mass / most * _DENSEST:.3g} times what solid steel of its size does",
                    f"up to {show_mass(most)}",
                    "check mass, length, width, low and high of the block",
                )
            if "filling" in block.model_fields_set:
                yield Objection(
                    (name, "blocks", index, "filling"),
                    "the block states its mass, and its filling, too",
                    "one of the two",
                    "keep the mass where the block was weighed, else the filling",
                )


@CHECKS.needs("base", "lower", "upper")
def blocks_leave_room_for_each_other(die: DiePart) -> Iterator[Objection]:
    """Hollow blocks may stand in one another, as long as no more than all of their common space is metal."""
    for name, half, base in (("lower", die.lower, die.base), ("upper", die.upper, die.upper.base or die.base)):
        density = base.material.build().density
        metal = [block.built(base.material.build()).mass / (_volume(block) * density) for block in half.blocks]
        for (i, one), (j, other) in combinations(enumerate(half.blocks), 2):
            higher = min(one.high, other.high) - max(one.low, other.low)
            if higher > 0 and common_area(one.build(), other.build()) > 0 and metal[i] + metal[j] > 1 + _SLACK:
                yield Objection(
                    (name, "blocks", j),
                    f"the block stands in block {i + 1}, and together they fill {metal[i] + metal[j]:.0%} of that room",
                    "blocks beside or above each other, or fillings of 100 % together at most",
                    "check their places, or lessen the filling of the hollow one",
                )


def _volume(block: BlockPart) -> float:
    """mm3, hollows included."""
    return block.build().area * (block.high - block.low)


@CHECKS.needs("base", "lower", "upper")
def blocks_weigh_no_more_than_their_half(die: DiePart) -> Iterator[Objection]:
    for name, half in (("lower", die.lower), ("upper", die.upper)):
        known = half.known_mass(die.base)
        if half.blocks and half.mass is not None and known > half.mass * (1 + _SLACK):
            yield Objection(
                (name, "mass"),
                f"base and blocks weigh {show_mass(known)} together, more than the half",
                f"{show_mass(known)} or more",
                "check the filling of the blocks, or leave the mass out: it is that of base and blocks then",
            )

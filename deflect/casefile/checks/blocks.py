"""Cross-checks of what stands on the base of a half."""

from __future__ import annotations

from collections.abc import Iterator

from deflect.casefile.checks.die import CHECKS
from deflect.casefile.checks.press import extent
from deflect.casefile.parts.die import DiePart
from deflect.casefile.parts.part import Objection
from deflect.units import show_length, show_mass

# Round-off of a sum of masses, as a share.
_SLACK = 1e-6


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

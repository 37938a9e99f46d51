"""Cross-checks between a die file and a press file; objections stand in the die file."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from deflect.casefile.checks.press import PROBES
from deflect.casefile.checks.registry import Checks
from deflect.casefile.parts.die import DiePart
from deflect.casefile.parts.forces import corners
from deflect.casefile.parts.part import Objection
from deflect.casefile.parts.press import PressPart
from deflect.model.case import EDGE_SLACK
from deflect.model.values import Rectangle
from deflect.units import show_force, show_length


@dataclass(frozen=True)
class Pair:
    """A die and a press, as written."""

    die: DiePart
    press: PressPart

    def on_table(self, x: float, y: float) -> tuple[float, float]:
        """A point of the die in the bolster's axes, mm."""
        placing = self.die.placing
        cos, sin = math.cos(placing.rotation), math.sin(placing.rotation)
        return placing.x + cos * x - sin * y, placing.y + sin * x + cos * y


CHECKS: Checks[Pair] = Checks()
ON_BEDDING_PRESS: Checks[Pair] = Checks()
"""What holds on the press as well that the die was bedded in on."""

_PLANS = ("die.base.length", "die.base.width", "press.bolster.length", "press.bolster.width")


@CHECKS.needs(*_PLANS, "die.placing")
@ON_BEDDING_PRESS.needs(*_PLANS, "die.placing")
def base_stands_on_the_table(pair: Pair) -> Iterator[Objection]:
    base, table = pair.die.base.plan, pair.press.bolster.plan
    spots = [pair.on_table(x, y) for x, y in corners(base)]
    over = {
        "left": table.left - min(x for x, _ in spots),
        "right": max(x for x, _ in spots) - table.right,
        "front": table.front - min(y for _, y in spots),
        "back": max(y for _, y in spots) - table.back,
    }
    beyond = {side: reach for side, reach in over.items() if reach > EDGE_SLACK}
    if not beyond:
        return
    sizes = f"{show_length(base.length)} by {show_length(base.width)}"
    room = f"the table of {show_length(table.length)} by {show_length(table.width)}"
    upright, turned = (base.length, base.width), (base.width, base.length)
    if not any(long <= table.length and wide <= table.width for long, wide in (upright, turned)):
        yield Objection(
            ("base",),
            f"the die base, {sizes}, is larger than the table of the press",
            f"a base within {room}",
            "take a larger press, or check length and width of both",
        )
        return
    reaches = " and ".join(f"{show_length(round(far, 1))} over its {side} edge" for side, far in beyond.items())
    yield Objection(
        ("placing",),
        f"the die base, {sizes}, sticks out of the table: {reaches}",
        f"a base within {room} at its place and turn",
        "check x, y and rotation in [die.placing]",
    )


@CHECKS.needs(*_PLANS, "die.placing", "die.base.bearing", "press.bolster.openings")
@ON_BEDDING_PRESS.needs(*_PLANS, "die.placing", "die.base.bearing", "press.bolster.openings")
def base_rests_on_the_bolster(pair: Pair) -> Iterator[Objection]:
    cuts = [cut.build() for cut in pair.press.bolster.openings]
    areas = pair.die.base.bearing_areas or (pair.die.base.plan,)
    if cuts and all(_over(cuts, pair.on_table(x, y)) for area in areas for x, y in _probes(area)):
        yield Objection(
            ("placing",),
            "the die rests wholly over cut-outs of the bolster: there is nothing below it",
            "a place where the base, or its bearing areas, stand on the bolster",
            "check the die's place and the bolster's openings; the opening of the bed is no hindrance",
        )


@CHECKS.needs("die.cushion_force", "press.cushion")
@ON_BEDDING_PRESS.needs("die.cushion_force", "press.cushion")
def cushion_gives_the_force(pair: Pair) -> Iterator[Objection]:
    force, cushion = pair.die.cushion_force, pair.press.cushion
    if force > 0 and cushion is None:
        yield Objection(
            ("cushion_force",),
            f"the die asks for {show_force(force)} of cushion force and the press has no cushion",
            'cushion_force = "0 kN" on this press',
            "take a press with a cushion, or add [press.cushion] to its file",
        )
    elif cushion is not None and force > cushion.force:
        yield Objection(
            ("cushion_force",),
            f"the die asks for more than the cushion gives, {show_force(cushion.force)}",
            f"up to {show_force(cushion.force)}",
            "lower the cushion force or take another press",
        )


@CHECKS.needs("die.placing", "die.clamps", "press.bolster.openings")
def clamps_pull_at_the_bolster(pair: Pair) -> Iterator[Objection]:
    cuts = list(pair.press.bolster.cuts)
    for index, clamp in enumerate(pair.die.clamps):
        x, y = pair.on_table(clamp.x, clamp.y)
        if _over(cuts, (x, y)):
            yield Objection(
                ("clamps", index),
                f"the bolt of the clamp would pull at a cut-out of the bolster, at {x:.0f}, {y:.0f} mm of the table",
                "a place with bolster below it",
                "move the clamp or the die, or check the cut-outs of the bolster",
            )


@ON_BEDDING_PRESS.needs("die.bedded", "press.rated_force")
def bedding_force_is_within_the_rated_force(pair: Pair) -> Iterator[Objection]:
    bedded, rated = pair.die.bedded, pair.press.rated_force
    if bedded is not None and bedded.force > rated:
        yield Objection(
            ("bedded", "force"),
            f"the force at bedding-in is above the rated force of that press, {show_force(rated)}",
            f"up to {show_force(rated)}",
            "check the force, or name the press that the die was bedded in on",
        )


def _probes(area: Rectangle) -> Iterator[tuple[float, float]]:
    shares = [i / PROBES - 0.5 for i in range(PROBES + 1)]
    return ((area.x + s * area.length, area.y + t * area.width) for s in shares for t in shares)


def _over(cuts: list[Rectangle], spot: tuple[float, float]) -> bool:
    return any(cut.contains(Rectangle(*spot, 0, 0)) for cut in cuts)

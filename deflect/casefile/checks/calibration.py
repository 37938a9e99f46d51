"""Cross-checks of what a press file remembers of its calibration, and of walls that span between columns."""

from __future__ import annotations

from collections.abc import Iterator

from deflect.casefile.checks.registry import Checks
from deflect.casefile.parts.part import Objection
from deflect.casefile.parts.press import PressPart
from deflect.units import show_length

CHECKS: Checks[PressPart] = Checks()

FARTHEST = 1.5
"""How far an effective thickness lies from the bolster's own at most, as a factor; ours."""


@CHECKS.needs("bolster.thickness", "calibration", "bed.land")
def calibration_is_of_this_press(press: PressPart) -> Iterator[Objection]:
    found, thickness = press.calibration, press.bolster.thickness
    if found is None:
        return
    if not thickness / FARTHEST <= found.effective_thickness.nominal <= thickness * FARTHEST:
        yield Objection(
            ("calibration", "effective_thickness"),
            f"the effective thickness is far from the bolster's own, {show_length(thickness)}",
            f"{show_length(thickness / FARTHEST)} to {show_length(thickness * FARTHEST)}",
            "calibrate this press, or take the calibration of another one out",
        )
    spans = press.bed.land.key == "spanning_walls"
    if spans and found.wall_stiffness is None:
        yield Objection(
            ("calibration",),
            "the bed has walls that span between columns, and the calibration says nothing of them",
            "wall_stiffness, as deflect calibrate writes it",
            "calibrate the press again",
        )
    if not spans and found.wall_stiffness is not None:
        yield Objection(
            ("calibration", "wall_stiffness"),
            "the calibration speaks of walls that span between columns, and the bed has none",
            "no wall_stiffness, or spanning_walls under [press.bed.land]",
            "calibrate the press again",
        )


@CHECKS.needs("bed.land", "bolster.length", "bolster.width")
def columns_stand_below_the_bolster(press: PressPart) -> Iterator[Objection]:
    walls = getattr(press.bed.land, "spanning_walls", None)
    if walls is None:
        return
    plan = press.bolster.plan
    if walls.columns.length > 2 * plan.length or walls.columns.width > 2 * plan.width:
        yield Objection(
            ("bed", "land", "spanning_walls", "columns"),
            "the columns stand more than twice as far apart as the bolster is long or wide",
            f"up to {show_length(2 * plan.length)} by {show_length(2 * plan.width)}, middle to middle",
            "check length and width, and their units",
        )

"""Cross-checks within a press file of what the die is hung on and driven by: slots, slide, heights, forces."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from deflect.casefile.checks.registry import Checks
from deflect.casefile.locator import Path
from deflect.casefile.parts.bolster import Slots
from deflect.casefile.parts.part import Objection
from deflect.casefile.parts.press import PressPart
from deflect.units import show_force, show_length

CHECKS: Checks[PressPart] = Checks()


@CHECKS.needs("bolster.t_slots")
def slots_leave_material(press: PressPart) -> Iterator[Objection]:
    yield from _slots_leave_material(("bolster", "t_slots"), press.bolster.t_slots)


@CHECKS.needs("slide")
def slots_of_the_slide_leave_material(press: PressPart) -> Iterator[Objection]:
    if press.slide is not None:
        yield from _slots_leave_material(("slide", "t_slots"), press.slide.t_slots)


def _slots_leave_material(path: Path, slots: Slots | None) -> Iterator[Objection]:
    if slots is None:
        return
    if slots.width >= slots.pitch:
        yield Objection(
            (*path, "width"),
            f"slots of {show_length(slots.width)} leave nothing at a pitch of {show_length(slots.pitch)}",
            "a width smaller than the pitch",
            "check width and pitch",
        )
    if slots.bolt is not None and slots.bolt > slots.width:
        yield Objection(
            (*path, "bolt"),
            f"bolts of {show_length(slots.bolt)} do not go into a throat of {show_length(slots.width)}",
            "up to the width of the throat",
            "check both, or leave the bolt out",
        )


@CHECKS.needs("shut_height", "slide_adjustment")
def adjustment_leaves_a_height(press: PressPart) -> Iterator[Objection]:
    shut, adjustment = press.shut_height, press.slide_adjustment
    if shut is not None and adjustment is not None and adjustment >= shut:
        yield Objection(
            ("slide_adjustment",),
            f"the adjustment leaves nothing of the shut height of {show_length(shut)}",
            "less than the shut height",
            "the shut height is the greatest one, with the adjustment up",
        )


@CHECKS.needs("rated_force", "force_over_height")
def permitted_force_falls_with_height(press: PressPart) -> Iterator[Objection]:
    points = press.force_over_height or ()
    for index, point in enumerate(points):
        if point.force > press.rated_force:
            yield Objection(
                ("force_over_height", index, "force"),
                "the press gives more here than its rated force",
                f"up to {show_force(press.rated_force)}",
                "check both forces",
            )
    for index, (below, above) in enumerate(pairwise(points), start=1):
        if above.height <= below.height or above.force > below.force:
            wrong = "height does not rise" if above.height <= below.height else "force rises with height"
            yield Objection(
                ("force_over_height", index),
                f"the {wrong} from one point to the next",
                "points from the lowest to the highest, with a force that does not rise",
                "heights count up from bottom dead centre: put the points in order",
            )

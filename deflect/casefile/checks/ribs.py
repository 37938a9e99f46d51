"""Cross-checks of ribs and steps, in a die base and in a bolster."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from deflect.casefile.checks.die import CHECKS as DIE_CHECKS
from deflect.casefile.checks.press import CHECKS as PRESS_CHECKS
from deflect.casefile.checks.press import extent
from deflect.casefile.locator import Path
from deflect.casefile.parts.bolster import Slots, common_area
from deflect.casefile.parts.die import DiePart
from deflect.casefile.parts.part import Objection
from deflect.casefile.parts.press import PressPart
from deflect.casefile.parts.ribs import RibsPart
from deflect.mechanics.sections import SlotForm
from deflect.model.values import Rectangle
from deflect.units import show_length

LEAST_HOLLOW = 20.0
"""mm. Less height between skins, or width between walls, ribs or the heads of slots, is a slip; ours."""


@DIE_CHECKS.needs("base.length", "base.width", "base.thickness", "base.ribs")
def ribs_fit_into_the_base(die: DiePart) -> Iterator[Objection]:
    if die.base.ribs is not None:
        yield from ribs_fit(("base", "ribs"), die.base.ribs, die.base.plan, die.base.thickness)


@PRESS_CHECKS.needs("bolster.length", "bolster.width", "bolster.thickness", "bolster.ribs")
def ribs_fit_into_the_bolster(press: PressPart) -> Iterator[Objection]:
    bolster = press.bolster
    if bolster.ribs is not None:
        yield from ribs_fit(("bolster", "ribs"), bolster.ribs, bolster.plan, bolster.thickness)


def ribs_fit(path: Path, ribs: RibsPart, plan: Rectangle, height: float) -> Iterator[Objection]:
    skins = ribs.top + (ribs.bottom or 0.0)
    if skins > height - LEAST_HOLLOW:
        yield Objection(
            (*path, "top"),
            f"the skins, {show_length(skins)} together, leave no hollow in a height of {show_length(height)}",
            f"skins of {show_length(height - LEAST_HOLLOW)} together at most",
            "check thickness, top and bottom: thickness is the total height",
        )
    narrow = min(plan.length, plan.width)
    if 2 * ribs.outer_walls > narrow - LEAST_HOLLOW:
        yield Objection(
            (*path, "outer_walls"),
            f"the outer walls leave no hollow in a body {show_length(narrow)} wide",
            f"less than {show_length((narrow - LEAST_HOLLOW) / 2)}",
            "make them thinner, or leave the ribs out: the body is solid then",
        )
        return
    yield from _rows_fit(path, ribs, plan)
    yield from _lie_within((*path, "pads"), "pad", [pad.build() for pad in ribs.pads], plan)


def _rows_fit(path: Path, ribs: RibsPart, plan: Rectangle) -> Iterator[Objection]:
    rows = (("along_x", ribs.along_x, plan.width), ("along_y", ribs.along_y, plan.length))
    for key, row, across in rows:
        if row is None:
            continue
        built = row.build()
        bay = built.bay(across, ribs.outer_walls)
        if built.thickness > bay - LEAST_HOLLOW:
            yield Objection(
                (*path, key),
                f"ribs of {show_length(row.thickness)}, {show_length(round(bay))} apart, leave no hollow between them",
                f"ribs thinner than their distance by {show_length(LEAST_HOLLOW)} or more",
                "check pitch and thickness",
            )
        elif built.bays(across, ribs.outer_walls) > 1 and (row.thickness + ribs.outer_walls) / 2 > bay - LEAST_HOLLOW:
            yield Objection(
                (*path, key),
                f"the outermost rib, {show_length(round(bay))} from the middle of an outer wall of "
                f"{show_length(ribs.outer_walls)}, leaves no hollow beside it",
                f"a pitch of {show_length(LEAST_HOLLOW + (row.thickness + ribs.outer_walls) / 2)} or more",
                "check pitch and outer_walls",
            )
    inner = {key: row is not None and row.build().bays(across, ribs.outer_walls) > 1 for key, row, across in rows}
    lacking = [key for key, there in inner.items() if not there]
    if len(lacking) == 2 or (lacking and ribs.bottom is not None):
        yield Objection(
            (*path, lacking[0]),
            f"no rib stands between the outer walls {' and '.join(lacking)}"
            + (", and the bottom skin would hang from the top skin by its walls alone" if ribs.bottom else ""),
            "ribs both ways in a body with a bottom skin, one way at least in one open below",
            "give the row of ribs, or a smaller pitch",
        )


@DIE_CHECKS.needs("base.length", "base.width", "base.ribs", "base.steps")
def steps_lie_in_a_solid_base(die: DiePart) -> Iterator[Objection]:
    steps = [step.build() for step in die.base.steps]
    if steps and die.base.ribs is not None:
        yield Objection(
            ("base", "steps"),
            "a base with ribs has no steps",
            "ribs, or steps of a solid base",
            "describe the thick places as pads of the ribs, or leave one of them out",
        )
    yield from _lie_within(("base", "steps"), "step", steps, die.base.plan)


def _lie_within(path: Path, name: str, areas: list[Rectangle], plan: Rectangle) -> Iterator[Objection]:
    for index, area in enumerate(areas):
        if not plan.contains(area):
            yield Objection(
                (*path, index),
                f"the {name} ({extent(area)}) reaches beyond the body",
                f"within {extent(plan)}, from its centre",
                "check its place and size",
            )
    for (i, one), (j, other) in combinations(enumerate(areas), 2):
        if common_area(one, other) > 0:
            yield Objection(
                (*path, j),
                f"the {name} overlaps {name} {i + 1}",
                f"{name}s that do not overlap",
                "join them to one, or check their places",
            )


SHALLOWEST_FLOOR = 0.3
"""Share of the thickness of a slab or skin that must lie below the floor of its T-slots; less is a slip; ours."""


@PRESS_CHECKS.needs("bolster.thickness", "bolster.t_slots", "bolster.ribs")
def slots_of_the_bolster_leave_a_floor(press: PressPart) -> Iterator[Objection]:
    bolster, ribs = press.bolster, press.bolster.ribs
    whole, where = (bolster.thickness, "slab") if ribs is None else (ribs.top, "top skin")
    yield from _leave_a_floor(("bolster", "t_slots"), bolster.t_slots, whole, where, "the bolster's top")


@PRESS_CHECKS.needs("slide")
def slots_of_the_slide_leave_a_floor(press: PressPart) -> Iterator[Objection]:
    if press.slide is None or press.slide.body is None:
        return
    body, ribs = press.slide.body, press.slide.body.ribs
    whole, where = (body.thickness, "slide") if ribs is None else (ribs.bottom or 0.0, "face plate")
    yield from _leave_a_floor(("slide", "t_slots"), press.slide.t_slots, whole, where, "the slide's face")


def _leave_a_floor(path: Path, slots: Slots | None, whole: float, where: str, face: str) -> Iterator[Objection]:
    """What is wrong with slots of stated depth in a slab or skin that is ``whole`` thick."""
    if slots is None or slots.depth is None:
        return
    most = (1 - SHALLOWEST_FLOOR) * whole
    if not slots.width < slots.depth <= most:
        yield Objection(
            (*path, "depth"),
            f"slots {show_length(slots.width)} wide in a {where} of {show_length(whole)} cannot be so deep, "
            "or so shallow",
            f"more than {show_length(slots.width)}, up to {show_length(most)}",
            f"it counts from {face} to the floor of the slot, its head included",
        )
    head = SlotForm(slots.width, slots.depth, slots.pitch, slots.direction).head_width
    if head > slots.pitch - LEAST_HOLLOW:
        yield Objection(
            (*path, "pitch"),
            f"slots {show_length(slots.width)} wide have heads of about {show_length(round(head))}, which would meet",
            f"{show_length(round(head + LEAST_HOLLOW))} or more",
            "check pitch and width: width is that of the throat",
        )

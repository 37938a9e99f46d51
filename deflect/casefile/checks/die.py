"""Cross-checks within a die file."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import hypot

from deflect.casefile.checks.press import extent
from deflect.casefile.checks.registry import Checks
from deflect.casefile.parts.base import AREA_KINDS, BearingPart
from deflect.casefile.parts.bolster import common_area
from deflect.casefile.parts.die import DiePart, FlangePart
from deflect.casefile.parts.forces import SHARE_SLACK
from deflect.casefile.parts.part import Objection
from deflect.model.values import Rectangle
from deflect.units import show_area, show_force, show_length, show_mass

CHECKS: Checks[DiePart] = Checks()

_PLAN = ("base.length", "base.width")


def _bearing_is_complete(bearing: BearingPart) -> bool:
    return (bearing.width is None) != (bearing.kind == "frame") and (bearing.areas is None) == (bearing.kind == "frame")


@CHECKS.needs("base.bearing")
def bearing_has_its_own_keys(die: DiePart) -> Iterator[Objection]:
    bearing = die.base.bearing
    if isinstance(bearing, BearingPart) and not _bearing_is_complete(bearing):
        right, wrong = ("width", "areas") if bearing.kind == "frame" else ("areas", "width")
        yield Objection(
            ("base", "bearing"),
            f'bearing of kind "{bearing.kind}" takes {right} and not {wrong}',
            f"frame: width; {', '.join(AREA_KINDS)}: areas",
            'write for example {kind = "frame", width = "150 mm"}, or areas = [{x, y, length, width}, …]',
        )


@CHECKS.needs(*_PLAN, "base.bearing")
def bearing_leaves_an_area(die: DiePart) -> Iterator[Objection]:
    bearing, plan = die.base.bearing, die.base.plan
    if not isinstance(bearing, BearingPart) or not _bearing_is_complete(bearing):
        return
    path = ("base", "bearing")
    narrow = min(plan.length, plan.width) / 2
    if bearing.width is not None and bearing.width >= narrow:
        yield Objection(
            (*path, "width"),
            f"a frame of {show_length(bearing.width)} leaves no hollow in a base of "
            f"{show_length(plan.length)} by {show_length(plan.width)}",
            f"less than {show_length(narrow)}",
            'make it narrower, or write bearing = "full"',
        )
        return
    yield from _areas_lie_in_the_base(die.base.bearing_areas if bearing.kind != "frame" else (), plan)


def _areas_lie_in_the_base(areas: tuple[Rectangle, ...], plan: Rectangle) -> Iterator[Objection]:
    path = ("base", "bearing", "areas")
    for index, area in enumerate(areas):
        if not plan.contains(area):
            yield Objection(
                (*path, index),
                f"the bearing area ({extent(area)}) reaches beyond the die base",
                f"within {extent(plan)}, from the base's centre",
                "check its place and size",
            )
    for (i, one), (j, other) in combinations(enumerate(areas), 2):
        if common_area(one, other) > 0:
            yield Objection(
                (*path, j),
                f"the bearing area overlaps area {i + 1}",
                "areas that do not overlap",
                "join them to one, or check their places",
            )


@CHECKS.needs(*_PLAN, "forces")
def forces_act_on_the_base(die: DiePart) -> Iterator[Objection]:
    plan = die.base.plan
    for index, force in enumerate(die.forces):
        off = [spot for spot in force.spots() if not plan.contains(Rectangle(*spot, 0, 0))]
        if off:
            x, y = off[0]
            yield Objection(
                ("forces", index),
                f"the {force.kind} reaches beyond the die base, for example at {x:g}, {y:g} mm",
                f"within {extent(plan)}, from the base's centre",
                "check place and size of the pattern, and length and width of the base",
            )


@CHECKS.needs("working_force", "least_force")
def least_force_is_within_the_working_force(die: DiePart) -> Iterator[Objection]:
    if die.least_force is not None and die.least_force > die.working_force:
        yield Objection(
            ("least_force",),
            "the panel is said to need more than the die works with",
            f"up to {show_force(die.working_force)}",
            "check both; what the die works with is what the panel gets",
        )


@CHECKS.needs("forces")
def shares_add_up(die: DiePart) -> Iterator[Objection]:
    shares = [force.share for force in die.forces]
    if len(shares) == 1 and shares[0] is None:
        return
    lacking = [index + 1 for index, share in enumerate(shares) if share is None]
    if lacking:
        yield Objection(
            ("forces", lacking[0] - 1),
            f"the share is missing in pattern {', '.join(map(str, lacking))} of {len(shares)}",
            "a share in every pattern; all of them add up to 1",
            'write for example share = "40 %"',
        )
        return
    total = sum(share for share in shares if share is not None)
    if abs(total - 1) > SHARE_SLACK:
        yield Objection(
            ("forces",),
            f"the shares of the patterns add up to {total:.4g}",
            "1 (100 %)",
            f"{'add' if total < 1 else 'take off'} {abs(1 - total):.4g}",
        )


@CHECKS.needs(*_PLAN, "clamps")
def clamps_stand_on_the_base(die: DiePart) -> Iterator[Objection]:
    for index, clamp in enumerate(die.clamps):
        if not die.base.plan.contains(Rectangle(clamp.x, clamp.y, 0, 0)):
            yield Objection(
                ("clamps", index),
                f"the clamp at {clamp.x:g}, {clamp.y:g} mm stands off the die base",
                f"within {extent(die.base.plan)}, from the base's centre",
                "check x and y: they count from the die's centre, not from the table's",
            )


@CHECKS.needs(*_PLAN, "shims")
def shims_lie_under_the_base(die: DiePart) -> Iterator[Objection]:
    for index, shim in enumerate(die.shims):
        if not die.base.plan.contains(shim.build()):
            yield Objection(
                ("shims", index),
                f"the shim ({extent(shim.build())}) reaches beyond the die base",
                f"within {extent(die.base.plan)}, from the base's centre",
                "check its place and size",
            )


@CHECKS.needs(*_PLAN, "dirt")
def dirt_lies_under_the_base(die: DiePart) -> Iterator[Objection]:
    for index, one in enumerate(die.dirt):
        if not die.base.plan.contains(one.build()):
            yield Objection(
                ("dirt", index),
                f"the dirt ({extent(one.build())}) reaches beyond the die base",
                f"within {extent(die.base.plan)}, from the base's centre",
                "check its place and size",
            )


SMALLEST_SHIM = 50.0
"""mm, either side. A smaller shim bears as a point, which patches of contact cannot show; ours."""


@CHECKS.needs("shims")
def shims_are_fields(die: DiePart) -> Iterator[Objection]:
    for index, shim in enumerate(die.shims):
        if min(shim.length, shim.width) < SMALLEST_SHIM:
            yield Objection(
                ("shims", index),
                f"a shim of {show_length(shim.length)} by {show_length(shim.width)} bears as a point, not as a field",
                f"{show_length(SMALLEST_SHIM)} by {show_length(SMALLEST_SHIM)} or more",
                "use a field of 100 mm or more a side",
            )
    for (i, one), (j, other) in combinations(enumerate(die.shims), 2):
        if common_area(one.build(), other.build()) > 0:
            yield Objection(
                ("shims", j),
                f"the shim overlaps shim {i + 1}",
                "shims that do not overlap",
                "check their places; where they lie on each other, give the sum as one thickness",
            )


LIGHTEST_HALF, HEAVIEST_HALF = 0.1, 1.5
"""A half's mass as a share of a solid block of its plan and height; outside is a slip; ours."""
STEEL_DENSITY = 7.85e-6
"""kg/mm3, EN 1993-1-1, 3.2.6; from memory: what a half's inserts and most of its upper half may be made of."""


@CHECKS.needs(*_PLAN, "base.material", "lower.height", "lower.mass")
def lower_mass_is_that_of_its_size(die: DiePart) -> Iterator[Objection]:
    yield from _mass_is_that_of_its_size("lower", die.lower.mass, die.base.plan.area * die.lower.height, die)


@CHECKS.needs(*_PLAN, "base.material", "upper.length", "upper.width", "upper.height", "upper.mass")
def upper_mass_is_that_of_its_size(die: DiePart) -> Iterator[Objection]:
    yield from _mass_is_that_of_its_size("upper", die.upper.mass, die.upper.plan(die.base).area * die.upper.height, die)


def _mass_is_that_of_its_size(name: str, mass: float | None, volume: float, die: DiePart) -> Iterator[Objection]:
    solid = volume * max(die.base.material.build().density, STEEL_DENSITY)
    least, most = LIGHTEST_HALF * solid, HEAVIEST_HALF * solid
    if mass is not None and not least <= mass <= most:
        yield Objection(
            (name, "mass"),
            f"the mass is far {'below' if mass < least else 'above'} what the size of the {name} half allows: a solid "
            f"block of it weighs {show_mass(solid)}",
            f"{show_mass(least)} to {show_mass(most)}",
            "check mass, plan and height, or leave the mass out to have it estimated",
        )


@CHECKS.needs("working_force", "cushion_force")
def cushion_force_is_part_of_the_working_force(die: DiePart) -> Iterator[Objection]:
    if die.cushion_force >= die.working_force:
        yield Objection(
            ("cushion_force",),
            f"the cushion force is not below the working force of {show_force(die.working_force)}",
            "less than the working force, of which it is a part",
            "check both: the working force is what the slide gives, the cushion's share included",
        )


@CHECKS.needs(*_PLAN, "upper.length", "upper.width", "lift_off.sealed_area")
def sealed_area_is_on_the_die(die: DiePart) -> Iterator[Objection]:
    area, most = die.lift_off.sealed_area, max(die.base.plan.area, die.upper.plan(die.base).area)
    if area is not None and area > most:
        yield Objection(
            ("lift_off", "sealed_area"),
            f"the sealed area is greater than the die in plan, {show_area(most)}",
            f"up to {show_area(most)}",
            "give the area of panel or face that may seal against air",
        )


@CHECKS.needs(*_PLAN, "matching.length")
def halves_match_over_a_length_of_the_die(die: DiePart) -> Iterator[Objection]:
    length, most = die.matching.length, hypot(die.base.length, die.base.width)
    if length is not None and length > most:
        yield Objection(
            ("matching", "length"),
            f"the length over which the halves must match is greater than the die's diagonal, {show_length(most)}",
            f"up to {show_length(most)}",
            "give the straight distance between the ends of what must match, not the length along the cut",
        )


@CHECKS.needs("matching.measuring")
def measuring_has_its_own_keys(die: DiePart) -> Iterator[Objection]:
    measuring = die.matching.measuring
    optical = measuring.kind == "optical"
    for key in ("a", "k") if optical else ("per_length",):
        if key in measuring.model_fields_set:
            yield Objection(
                ("matching", "measuring", key),
                f'measuring of kind "{measuring.kind}" does not take {key}',
                "coordinate: a and k; optical: per_length",
                f'take it out, or write kind = "{"coordinate" if optical else "optical"}"',
            )


@CHECKS.needs("base.thickness", "base.steps", "lower.height")
def lower_height_includes_the_base(die: DiePart) -> Iterator[Objection]:
    thickest = max((die.base.thickness, *(step.thickness for step in die.base.steps)))
    if die.lower.height < thickest:
        yield Objection(
            ("lower", "height"),
            f"the lower die is lower than its own base of {show_length(thickest)}",
            "the base's thickness or more",
            "the height runs from the underside of the base to the face",
        )


@CHECKS.needs("lower.height", "upper.height", "closed_height")
def closed_die_is_as_high_as_each_half(die: DiePart) -> Iterator[Objection]:
    higher = max(die.lower.height, die.upper.height)
    if die.closed_height is not None and die.closed_height < higher:
        yield Objection(
            ("closed_height",),
            f"the closed die is lower than one of its halves, {show_length(higher)}",
            f"{show_length(higher)} or more",
            "it runs from the underside of the base to the top of the upper half, the die shut",
        )


@CHECKS.needs(*_PLAN, "lower.flange", "lower.height")
def lower_flange_is_on_the_base(die: DiePart) -> Iterator[Objection]:
    yield from _flange_is_on_its_half("lower", die.lower.flange, die.base.plan, die.lower.height)


@CHECKS.needs(*_PLAN, "upper.length", "upper.width", "upper.flange", "upper.height")
def upper_flange_is_on_the_upper_half(die: DiePart) -> Iterator[Objection]:
    yield from _flange_is_on_its_half("upper", die.upper.flange, die.upper.plan(die.base), die.upper.height)


def _flange_is_on_its_half(name: str, flange: FlangePart | None, plan: Rectangle, height: float) -> Iterator[Objection]:
    if flange is None:
        return
    if flange.thickness is not None and flange.thickness > height:
        yield Objection(
            (name, "flange", "thickness"),
            f"the flange is thicker than the {name} half is high, {show_length(height)}",
            f"up to {show_length(height)}",
            "check both",
        )
    for index, (x, y) in enumerate(flange.slots or ()):
        if not plan.contains(Rectangle(x, y, 0, 0)):
            yield Objection(
                (name, "flange", "slots", index),
                f"the slot at {x:g}, {y:g} mm lies off the {name} half",
                f"within {extent(plan)}, from the die's centre",
                "check x and y: they count from the die's centre, not from the table's",
            )

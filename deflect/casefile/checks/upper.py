"""Cross-checks of what is above the sheet: the slide as a body, the upper die, its clamps."""

from __future__ import annotations

from collections.abc import Iterator

from deflect.casefile.checks.die import CHECKS as DIE_CHECKS
from deflect.casefile.checks.pair import CHECKS as PAIR_CHECKS
from deflect.casefile.checks.pair import Pair
from deflect.casefile.checks.press import CHECKS as PRESS_CHECKS
from deflect.casefile.checks.press import HEAVIEST, LIGHTEST, extent
from deflect.casefile.checks.ribs import ribs_fit
from deflect.casefile.parts.die import DiePart
from deflect.casefile.parts.part import Objection
from deflect.casefile.parts.press import PressPart
from deflect.model.values import Rectangle
from deflect.units import show_force, show_length, show_mass

# Points that are no farther off one line than this hold no slide across it, mm (ours).
_ON_LINE = 50.0
_BODY = ("slide", "body")


@PRESS_CHECKS.needs("slide")
def a_slide_that_bends_has_a_size(press: PressPart) -> Iterator[Objection]:
    slide = press.slide
    if slide is not None and slide.body is not None and slide.plan is None:
        missing = "length" if slide.length is None else "width"
        yield Objection(
            ("slide", missing), f"the slide has a body, but no {missing}", "length and width", "give both, or no body"
        )


@PRESS_CHECKS.needs("slide")
def the_slide_is_held_upright(press: PressPart) -> Iterator[Objection]:
    body = None if press.slide is None else press.slide.body
    if body is None or body.guides is not None or _spread(body.points):
        return
    yield Objection(
        (*_BODY, "guides"),
        f"{len(body.points)} point{'s' if len(body.points) > 1 else ''} on one line cannot keep the slide upright",
        "three points or more that are not on one line, or guides",
        "give the guides: stiffness, length, and their height over the slide's face",
    )


def _spread(points: tuple[tuple[float, float], ...]) -> bool:
    """Whether points hold a plate both ways: some triangle of them is no sliver."""
    for i, (ax, ay) in enumerate(points):
        for j, (bx, by) in enumerate(points[i + 1 :], i + 1):
            along = ((bx - ax) ** 2 + (by - ay) ** 2) ** 0.5
            for cx, cy in points[j + 1 :]:
                if along > 0 and abs((bx - ax) * (cy - ay) - (by - ay) * (cx - ax)) / along > _ON_LINE:
                    return True
    return False


@PRESS_CHECKS.needs("slide")
def points_bear_on_the_slide(press: PressPart) -> Iterator[Objection]:
    slide = press.slide
    if slide is None or slide.body is None or slide.plan is None:
        return
    seat = slide.body.seat
    for index, (x, y) in enumerate(slide.body.points):
        if not slide.plan.contains(Rectangle(x, y, seat, seat)):
            yield Objection(
                (*_BODY, "points", index),
                f"the seat of the point at {x:g}, {y:g} mm reaches beyond the slide",
                f"within {extent(slide.plan)}, the seat of {show_length(seat)} included",
                "check its place, and the side of the seat",
            )


@PRESS_CHECKS.needs("slide")
def points_stand_apart(press: PressPart) -> Iterator[Objection]:
    points = () if press.slide is None or press.slide.body is None else press.slide.body.points
    for index, (x, y) in enumerate(points):
        if (first := points.index((x, y))) != index:
            yield Objection(
                (*_BODY, "points", index),
                f"the point stands where point {first + 1} stands, at {x:g}, {y:g} mm",
                "each point at a place of its own",
                "check x and y, or take the second one out and give the stiffness of both to the first",
            )


@PRESS_CHECKS.needs("slide")
def the_slide_weighs_what_its_size_allows(press: PressPart) -> Iterator[Objection]:
    slide = press.slide
    if slide is None or slide.body is None or slide.plan is None or slide.body.mass is None:
        return
    body, plan, mass = slide.body, slide.plan, slide.body.mass
    section, solid = body.section_mass(plan), plan.area * body.thickness * body.material.build().density
    least, most = LIGHTEST * section, HEAVIEST * solid
    if not least <= mass <= most:
        below = mass < least
        far = f"far below that of its section, {show_mass(section)}" if below else f"above that of {show_mass(solid)}"
        yield Objection(
            (*_BODY, "mass"),
            f"the mass is {far}" + ("" if below else ", a solid block of its size"),
            f"{show_mass(least)} to {show_mass(most)}",
            "check mass and sizes, or leave the mass out: it is that of the section then",
        )


@PRESS_CHECKS.needs("slide")
def the_slides_ribs_fit(press: PressPart) -> Iterator[Objection]:
    slide = press.slide
    if slide is None or slide.body is None or slide.plan is None or slide.body.ribs is None:
        return
    if slide.body.ribs.bottom is None:
        yield Objection(
            (*_BODY, "ribs", "bottom"),
            "a slide with ribs has a face that the die hangs on",
            "the thickness of the bottom skin",
            "give the thickness of the face plate as bottom",
        )
        return
    yield from ribs_fit((*_BODY, "ribs"), slide.body.ribs, slide.plan, slide.body.thickness)


@DIE_CHECKS.needs("upper.height", "upper.base")
def the_upper_base_is_lower_than_its_half(die: DiePart) -> Iterator[Objection]:
    base = die.upper.base
    if base is not None and base.thickness > die.upper.height:
        yield Objection(
            ("upper", "base", "thickness"),
            f"the base is thicker than its half is high, {show_length(die.upper.height)}",
            "up to the height of the half",
            "check both: the height counts from the slide to the face",
        )


@DIE_CHECKS.needs("upper.base")
def the_upper_base_has_ribs_that_fit(die: DiePart) -> Iterator[Objection]:
    base = die.upper.base
    if base is not None and base.ribs is not None:
        yield from ribs_fit(("upper", "base", "ribs"), base.ribs, base.plan, base.thickness)


@DIE_CHECKS.needs("upper.base", "forces")
def the_upper_base_reaches_over_the_forces(die: DiePart) -> Iterator[Objection]:
    base = die.upper.base
    for index, force in enumerate(die.forces if base is not None else ()):
        assert base is not None
        off = [spot for spot in force.spots() if not base.plan.contains(Rectangle(*spot, 0, 0))]
        if off:
            yield Objection(
                ("forces", index),
                f"the {force.kind} reaches beyond the upper base, for example at {off[0][0]:g}, {off[0][1]:g} mm",
                f"within {extent(base.plan)}, from its centre",
                "check the pattern, and length and width of [die.upper.base]",
            )


@DIE_CHECKS.needs("base.length", "base.width", "upper.base", "upper.clamps")
def upper_clamps_stand_on_the_upper_base(die: DiePart) -> Iterator[Objection]:
    plan = die.base.plan if die.upper.base is None else die.upper.base.plan
    for index, clamp in enumerate(die.upper.clamps):
        if not plan.contains(Rectangle(clamp.x, clamp.y, 0, 0)):
            yield Objection(
                ("upper", "clamps", index),
                f"the clamp at {clamp.x:g}, {clamp.y:g} mm stands off the upper half",
                f"within {extent(plan)}, from its centre",
                "check x and y: they count from the die's centre, seen from above",
            )


@PAIR_CHECKS.needs("die.placing", "die.upper.base", "die.upper.clamps", "press.slide")
def upper_clamps_pull_at_the_slide(pair: Pair) -> Iterator[Objection]:
    slide = pair.press.slide
    if slide is None or slide.body is None or slide.plan is None or pair.die.upper.base is None:
        return
    for index, clamp in enumerate(pair.die.upper.clamps):
        x, y = pair.on_table(clamp.x, clamp.y)
        if not slide.plan.contains(Rectangle(x, y, 0, 0)):
            yield Objection(
                ("upper", "clamps", index),
                f"the bolt of the clamp would pull beside the slide, at {x:.0f}, {y:.0f} mm of the press",
                f"within {extent(slide.plan)}",
                "move the clamp or the die, or check length and width of the slide",
            )


@DIE_CHECKS.needs("blank_holder")
def the_ring_leaves_an_opening(die: DiePart) -> Iterator[Objection]:
    holder = die.blank_holder
    narrow = 0.0 if holder is None else min(holder.length, holder.width)
    if holder is not None and holder.ring >= narrow:
        yield Objection(
            ("blank_holder", "ring"),
            f"a ring {show_length(holder.ring)} wide leaves no opening within a middle line of "
            f"{show_length(holder.length)} by {show_length(holder.width)}",
            f"less than {show_length(narrow)}",
            "check all three: length and width are those of the ring's middle line, not of the punch",
        )


@DIE_CHECKS.needs("blank_holder")
def springs_bear_their_force(die: DiePart) -> Iterator[Objection]:
    holder = die.blank_holder
    if holder is None:
        return
    for index, spring in enumerate(holder.springs):
        if spring.force > holder.spring_limit:
            yield Objection(
                ("blank_holder", "springs", index, "force"),
                f"spring {index + 1} is set higher than a spring may be",
                f"up to {show_force(holder.spring_limit)}, its spring_limit",
                "check both: the limit is the maker's",
            )
    if holder.springs_coupled and len({spring.force for spring in holder.springs}) > 1:
        yield Objection(
            ("blank_holder", "springs_coupled"),
            "springs on one line have one pressure, but their forces differ",
            "one force, of springs of one size",
            "give all of them the same force, or springs_coupled = false",
        )


@DIE_CHECKS.needs("cushion_pins")
def pins_stand_apart(die: DiePart) -> Iterator[Objection]:
    seen: dict[tuple[float, float], int] = {}
    for index, (x, y) in enumerate(die.cushion_pins or ()):
        first = seen.setdefault((x, y), index)
        if first != index:
            yield Objection(
                ("cushion_pins", index),
                f"the pin stands where pin {first + 1} stands, at {x:g}, {y:g} mm",
                "each pin at a place of its own",
                "check x and y, or take the second one out",
            )


@DIE_CHECKS.needs("blank_holder", "cushion_pins")
def every_pin_has_its_height(die: DiePart) -> Iterator[Objection]:
    holder = die.blank_holder
    if holder is None or holder.pin_heights is None:
        return
    pins = len(die.cushion_pins or ())
    if len(holder.pin_heights) != pins:
        yield Objection(
            ("blank_holder", "pin_heights"),
            f"{len(holder.pin_heights)} heights are given for {pins} cushion pins",
            "one height for each pin of die.cushion_pins, in its order",
            "give one for each, 0 mm where a pin has its nominal height",
        )

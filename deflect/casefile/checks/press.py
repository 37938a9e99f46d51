"""Cross-checks within a press file."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from deflect.casefile.checks import calibration, slide
from deflect.casefile.checks.registry import Checks
from deflect.casefile.parts.bolster import common_area
from deflect.casefile.parts.holddowns import OneHoldDown, SpreadHoldDowns, in_cut_out
from deflect.casefile.parts.part import Objection
from deflect.casefile.parts.press import PressPart
from deflect.model.press import LEAST_LIGAMENT
from deflect.model.ribs import volume_and_middle
from deflect.model.values import Rectangle
from deflect.units import show_force, show_length, show_mass

NARROWEST_LAND = 10.0
"""mm. A land narrower than this carries nothing and is most likely a slip; ours."""

CHECKS: Checks[PressPart] = Checks([*slide.CHECKS.entries, *calibration.CHECKS.entries])

_BOLSTER = ("bolster.length", "bolster.width")


def extent(area: Rectangle) -> str:
    """Where a rectangle lies, in words."""
    return f"x {area.left:g} to {area.right:g} mm, y {area.front:g} to {area.back:g} mm"


@CHECKS.needs("tryout_force", "rated_force")
def tryout_force_is_within_the_rated_force(press: PressPart) -> Iterator[Objection]:
    if press.tryout_force is not None and press.tryout_force > press.rated_force:
        yield Objection(
            ("tryout_force",),
            f"the force at which dies are tried is above the rated force, {show_force(press.rated_force)}",
            f"up to {show_force(press.rated_force)}",
            "check both forces",
        )


@CHECKS.needs(*_BOLSTER, "bed.opening")
def bed_opening_leaves_a_land(press: PressPart) -> Iterator[Objection]:
    plan, opening = press.bolster.plan, press.bed.opening.build()
    path = ("bed", "opening")
    if not plan.contains(opening):
        yield Objection(
            path,
            f"the bed opening ({extent(opening)}) reaches beyond the bolster ({extent(plan)})",
            f"an opening inside the bolster, {show_length(plan.length)} by {show_length(plan.width)}",
            "check length and width of both, and x and y of the opening",
        )
        return
    left, right = opening.left - plan.left, plan.right - opening.right
    front, back = opening.front - plan.front, plan.back - opening.back
    sides = {"left": left, "right": right, "front": front, "back": back}
    if not (min(left, right) >= NARROWEST_LAND or min(front, back) >= NARROWEST_LAND):
        yield Objection(
            path,
            "the bolster has no land to rest on at two opposite sides of the bed opening",
            f"land of {show_length(NARROWEST_LAND)} or more left and right, or front and back",
            "make the opening smaller or check its place",
        )
        return
    slivers = [name for name, width in sides.items() if 0 < width < NARROWEST_LAND]
    if slivers:
        yield Objection(
            path,
            f"the land is narrower than {show_length(NARROWEST_LAND)} at {' and '.join(slivers)}",
            f"no land, or {show_length(NARROWEST_LAND)} or more",
            "check the sizes, or let the opening reach the bolster's edge there",
        )


@CHECKS.needs("bed.land", "acceptance")
def land_from_allowance_has_an_allowance(press: PressPart) -> Iterator[Objection]:
    if press.bed.land.needs_acceptance and press.acceptance is None:
        yield Objection(
            ("bed", "land"),
            "nothing says how stiff the bed is: no land is described and no allowed deflection is given",
            "[press.bed.land] with stiffness or walls, or [press.acceptance] with slope",
            'give one of them; with nothing better, [press.acceptance] slope = "0.17 mm/m"',
        )


@CHECKS.needs(*_BOLSTER, "bed.opening", "bed.hold_downs", "bolster.openings")
def hold_downs_stand_on_the_land(press: PressPart) -> Iterator[Objection]:
    plan, opening = press.bolster.plan, press.bed.opening.build()
    cuts = [cut.build() for cut in press.bolster.openings]
    stated = press.bed.hold_downs
    for index, one in enumerate(stated if isinstance(stated, tuple) else ()):
        assert isinstance(one, OneHoldDown)
        spot = Rectangle(one.x, one.y, 0, 0)
        where = None
        if not plan.contains(spot):
            where = "beside the bolster"
        elif opening.left < one.x < opening.right and opening.front < one.y < opening.back:
            where = "over the bed opening, where there is no land to pull against"
        elif any(cut.contains(spot, 0.0) for cut in cuts):
            where = "in a cut-out of the bolster"
        if where:
            yield Objection(
                ("bed", "hold_downs", index),
                f"the hold-down at {one.x:g}, {one.y:g} mm stands {where}",
                f"places on the land: within {extent(plan)}, outside {extent(opening)}",
                "check x and y; both count from the bolster's centre",
            )


@CHECKS.needs(*_BOLSTER, "bed.opening", "bed.hold_downs", "bolster.openings")
def spread_hold_downs_miss_the_cut_outs(press: PressPart) -> Iterator[Objection]:
    stated = press.bed.hold_downs
    if not isinstance(stated, SpreadHoldDowns):
        return
    places = stated.build(press.bolster.plan, press.bed.opening.build())
    off = [one for one in places if in_cut_out(one.x, one.y, press.bolster.cuts)]
    if off:
        yield Objection(
            ("bed", "hold_downs"),
            f"{len(off)} of the {stated.number} hold-downs spread along the land would stand in a cut-out of the "
            f"bolster, the first at {off[0].x:.0f}, {off[0].y:.0f} mm",
            "places with bolster to hold down",
            "list the hold-downs one by one with x and y",
        )


@CHECKS.needs("bed.opening", "bed.posts", "bolster.openings")
def posts_stand_below_the_bolster(press: PressPart) -> Iterator[Objection]:
    opening, posts = press.bed.opening.build(), press.bed.posts or ()
    for index, post in enumerate(posts):
        path = ("bed", "posts", index)
        if not opening.contains(post.plan):
            yield Objection(
                path,
                f"the head of the post ({extent(post.plan)}) reaches beyond the bed opening",
                f"within {extent(opening)}",
                "check x, y and head; a post stands in the opening, clear of the land",
            )
        elif any(common_area(cut, post.plan) > 0 for cut in press.bolster.cuts):
            yield Objection(
                path,
                "the head of the post reaches below a cut-out of the bolster",
                "a place with bolster all over its head",
                "move the post",
            )
    for (i, one), (j, other) in combinations(enumerate(posts), 2):
        if common_area(one.plan, other.plan) > 0:
            yield Objection(
                ("bed", "posts", j), f"the post overlaps post {i + 1}", "posts that stand apart", "check their places"
            )


@CHECKS.needs("bed.posts", "cushion")
def posts_leave_room_for_the_cushion(press: PressPart) -> Iterator[Objection]:
    if press.bed.posts and press.cushion is not None and not press.cushion.build().hangs_on_bolster:
        yield Objection(
            ("bed", "posts"),
            "posts and a cushion that stands in the bed take the same room",
            "posts, or a cushion in the bed",
            "take out one of the two",
        )


@CHECKS.needs(*_BOLSTER, "bolster.sub_plate")
def sub_plate_lies_on_the_bolster(press: PressPart) -> Iterator[Objection]:
    plate, plan = press.bolster.sub_plate, press.bolster.plan
    if plate is not None:
        area = Rectangle(plate.x, plate.y, plate.length, plate.width)
        if not plan.contains(area):
            yield Objection(
                ("bolster", "sub_plate"),
                f"the sub-plate ({extent(area)}) reaches beyond the bolster",
                f"within {extent(plan)}",
                "check its place and size",
            )


@CHECKS.needs("bed.opening", "bolster.openings", "bolster.pin_holes", "cushion")
def hung_cushion_has_something_to_hang_on(press: PressPart) -> Iterator[Objection]:
    if press.cushion is None or not press.cushion.build().hangs_on_bolster:
        return
    holes, opening = press.bolster.pin_holes, press.bed.opening.build()
    region = opening if holes is None else holes.build(opening).region
    if _wholly_cut(region, press.bolster.cuts):
        yield Objection(
            ("cushion", "stands_on"),
            f"the cushion hangs on the bolster, and a cut-out takes all of it above the cushion ({extent(region)})",
            "a bolster with material above the cushion",
            'write stands_on = "bed", or check the cut-outs of the bolster',
        )


PROBES = 60
"""Intervals along each side of an area in the search for bolster in it; ours."""


def _wholly_cut(area: Rectangle, cuts: tuple[Rectangle, ...]) -> bool:
    shares = [i / PROBES - 0.5 for i in range(PROBES + 1)]
    return bool(cuts) and all(
        in_cut_out(area.x + s * area.length, area.y + t * area.width, cuts) for s in shares for t in shares
    )


@CHECKS.needs(*_BOLSTER, "acceptance", "bed.opening", "bolster.openings")
def acceptance_is_measured_on_the_bolster(press: PressPart) -> Iterator[Objection]:
    bolster, opening = press.bolster, press.bed.opening.build()
    if press.acceptance is None:
        return
    stated = press.acceptance.build(bolster.plan)
    share = stated.loaded_share
    if _wholly_cut(Rectangle(0.0, 0.0, share * bolster.length, share * bolster.width), bolster.cuts):
        yield Objection(
            ("acceptance", "loaded_share"),
            "a cut-out of the bolster takes all of the area that is loaded at the acceptance test",
            "a loaded area with bolster in it",
            "check the share and the cut-outs of the bolster",
        )
    length = min(stated.reference_length, bolster.length - 2 * abs(opening.x))
    width = min(stated.reference_width, bolster.width - 2 * abs(opening.y))
    for key, line in (
        ("reference_length", Rectangle(opening.x, opening.y, length, 0.0)),
        ("reference_width", Rectangle(opening.x, opening.y, 0.0, width)),
    ):
        if _wholly_cut(line, bolster.cuts):
            yield Objection(
                ("acceptance", key),
                "the line along which the sag is measured lies wholly over a cut-out of the bolster",
                "a line that reaches beyond the cut-out at both ends",
                "make it longer, or check the cut-outs of the bolster",
            )


@CHECKS.needs(*_BOLSTER, "bolster.openings")
def cut_outs_lie_in_the_bolster(press: PressPart) -> Iterator[Objection]:
    plan = press.bolster.plan
    cuts = [cut.build() for cut in press.bolster.openings]
    for index, cut in enumerate(cuts):
        if not plan.contains(cut):
            yield Objection(
                ("bolster", "openings", index),
                f"the cut-out ({extent(cut)}) reaches beyond the bolster",
                f"within {extent(plan)}",
                "check its place and size",
            )
        elif cut.length >= plan.length or cut.width >= plan.width:
            yield Objection(
                ("bolster", "openings", index),
                "the cut-out parts the bolster in two",
                "a cut-out with material left and right, front and back",
                "make it smaller",
            )
    for (i, one), (j, other) in combinations(enumerate(cuts), 2):
        if common_area(one, other) > 0:
            yield Objection(
                ("bolster", "openings", j),
                f"the cut-out overlaps cut-out {i + 1}",
                "cut-outs that do not overlap",
                "join them to one, or check their places",
            )


@CHECKS.needs(*_BOLSTER, "bolster.pin_holes")
def pin_holes_leave_ligaments(press: PressPart) -> Iterator[Objection]:
    holes = press.bolster.pin_holes
    if holes is None:
        return
    widest = (1.0 - LEAST_LIGAMENT) * holes.pitch
    if holes.diameter > widest:
        yield Objection(
            ("bolster", "pin_holes", "diameter"),
            f"holes of {show_length(holes.diameter)} leave next to nothing at a pitch of {show_length(holes.pitch)}",
            f"a diameter of at most {show_length(widest)} at this pitch",
            "check diameter and pitch",
        )
    if holes.region is not None and not press.bolster.plan.contains(holes.region.build()):
        yield Objection(
            ("bolster", "pin_holes", "region"),
            f"the region of the pin holes ({extent(holes.region.build())}) reaches beyond the bolster",
            f"within {extent(press.bolster.plan)}",
            "check its place and size",
        )


@CHECKS.needs(*_BOLSTER, "bolster.thickness", "bolster.mass", "bolster.material", "bolster.ribs")
def mass_is_that_of_a_slab(press: PressPart) -> Iterator[Objection]:
    bolster = press.bolster
    if bolster.mass is None:
        return
    density = bolster.material.build().density
    solid = bolster.plan.area * bolster.thickness * density
    ribs = None if bolster.ribs is None else bolster.ribs.build()
    cast = solid if ribs is None else volume_and_middle(ribs.slices(bolster.plan, bolster.thickness))[0] * density
    what, least, most = "solid slab" if ribs is None else "ribbed bolster", LIGHTEST * cast, HEAVIEST * solid
    times = f": {LIGHTEST:g} to {HEAVIEST:g} times the solid slab" if ribs is None else ""
    if not least <= bolster.mass <= most:
        far = f"above that of the solid slab, {solid / 1e3:.3g} t"
        yield Objection(
            ("bolster", "mass"),
            f"the mass is {far if bolster.mass > most else f'far below that of the {what}, {cast / 1e3:.3g} t'}",
            f"{show_mass(least)} to {show_mass(most)}{times}",
            "check mass and sizes, or leave the mass out to have it estimated",
        )


LIGHTEST, HEAVIEST = 0.3, 1.5
"""A slab's mass as a share of its volume's, drilled and cut out or with fittings; beyond is a slip; ours."""

SHORTEST_REFERENCE = 0.2
"""Reference sizes as a share of the table's: sag over less says nothing of the table; ours."""


@CHECKS.needs(*_BOLSTER, "acceptance")
def reference_sizes_fit_the_bolster(press: PressPart) -> Iterator[Objection]:
    acceptance, plan = press.acceptance, press.bolster.plan
    if acceptance is None:
        return
    for key, size, most in (
        ("reference_length", acceptance.reference_length, plan.length),
        ("reference_width", acceptance.reference_width, plan.width),
    ):
        if size is not None and size > most:
            yield Objection(
                ("acceptance", key),
                f"the reference size {show_length(size)} is larger than the bolster",
                f"up to {show_length(most)}",
                "sag is measured on the bolster's top: give a size on it",
            )
        elif size is not None and size < SHORTEST_REFERENCE * most:
            yield Objection(
                ("acceptance", key),
                f"the reference size {show_length(size)} is too short a piece of the table to judge its sag by",
                f"{show_length(SHORTEST_REFERENCE * most)} to {show_length(most)}",
                "give the size over which the press's maker measures the sag, or leave it out",
            )


@CHECKS.needs("rated_force", "cushion")
def cushion_is_weaker_than_the_press(press: PressPart) -> Iterator[Objection]:
    if press.cushion is not None and press.cushion.force > press.rated_force:
        yield Objection(
            ("cushion", "force"),
            "the cushion is stronger than the press",
            "a force up to the rated force",
            "check both forces",
        )

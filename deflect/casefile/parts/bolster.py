"""The bolster: the slab that carries the die."""

from __future__ import annotations

import math
from typing import Annotated

from deflect.casefile.fields import Choice, Figure, Flag, absent, default
from deflect.casefile.parts.material import MaterialStated
from deflect.casefile.parts.part import Area, Coordinate, Derived, Part, Spot, TopWarmer, beneath
from deflect.casefile.parts.ribs import WeldedRibsPart
from deflect.model.press import Bolster, PinField, SubPlate, TSlots
from deflect.model.ribs import volume_and_middle
from deflect.model.values import EVEN, Rectangle
from deflect.sources import Source, Tag
from deflect.units import LENGTH, MASS, show_length, show_mass

FLAT = Source("taken as flat; measure it on an old press; ours", Tag.OURS)
CENTRED = Source("a slot lies on the centre line; common practice, no source", Tag.PRACTICE)
PLATE_CENTRED = Source("the plate lies in the middle of the bolster; common practice, no source", Tag.PRACTICE)
FIXED = Source("taken as one that stays in the press; ours", Tag.OURS)
PIN_CLEARANCE = Source(
    "pins of 32 to 50 mm in holes of 40 to 60 mm, from memory; common practice, no source", Tag.PRACTICE
)
BOLT = Source("largest bolt of the throat, BS 2485", Tag.PUBLISHED)
BOLT_RECALLED = Source("largest bolt of the throat, by the series of BS 2485; from memory", Tag.MEMORY)
BOLT_PUBLISHED = (22.0, 42.0)
"""Throats, mm, from the narrowest to the widest whose bolts were looked up."""
MASS_ESTIMATE = Source("estimated: volume less cut-outs and pin holes, times density", Tag.DERIVED)
PIN_REGION = Source("the bed opening, where the cushion can reach; ours", Tag.OURS)


class PinHoles(Part):
    """Cushion-pin holes on a square grid."""

    pitch: Annotated[float, Figure("distance from hole to hole", LENGTH, "40 mm", "600 mm")]
    diameter: Annotated[float, Figure("diameter of a hole", LENGTH, "10 mm", "200 mm")]
    region: Area | None = None
    clearance: Annotated[
        float, Figure("how far a pin may stand from the middle of its hole", LENGTH, "0.1 mm", "50 mm")
    ] = default("4 mm", PIN_CLEARANCE)
    hole: Spot | None = absent("the middle of one hole: whole cells of the grid stand in the middle of the region")

    def build(self, opening: Rectangle) -> PinField:
        region = self.region.build() if self.region else opening
        hole = None if self.hole is None else (self.hole.x, self.hole.y)
        return PinField(self.pitch, self.diameter, region, self.clearance, hole)


class Slots(Part):
    """T-slots."""

    width: Annotated[float, Figure("width of the slot's throat", LENGTH, "10 mm", "80 mm")]
    pitch: Annotated[float, Figure("distance from slot to slot", LENGTH, "50 mm", "1 m")]
    direction: Annotated[str, Choice("the way the slots run", ("x", "y"))]
    offset: Coordinate = default("0 mm", CENTRED)
    bolt: Annotated[float, Figure("diameter of the bolts", LENGTH, "6 mm", "80 mm")] | None = None
    depth: Annotated[float, Figure("depth from the top to the floor of the slot", LENGTH, "10 mm", "300 mm")] | None = (
        absent("the slots are taken to weaken nothing")
    )

    def build(self) -> TSlots:
        return TSlots(self.width, self.pitch, self.direction, self.offset, self.bolt, self.depth)

    def derived(self) -> Derived:
        narrowest, widest = BOLT_PUBLISHED
        source = BOLT if narrowest <= self.width <= widest else BOLT_RECALLED
        return {("bolt",): (show_length(self.build().bolt_diameter), source)}


class SubPlatePart(Part):
    """A plate fastened onto the bolster, below the die; not bonded to it."""

    length: Annotated[float, Figure("length along x", LENGTH, "100 mm", "12 m")]
    width: Annotated[float, Figure("width along y", LENGTH, "100 mm", "6 m")]
    x: Coordinate = default("0 mm", PLATE_CENTRED)
    y: Coordinate = default("0 mm", PLATE_CENTRED)
    thickness: Annotated[float, Figure("thickness of the plate", LENGTH, "15 mm", "1 m")]
    material: MaterialStated

    def build(self) -> SubPlate:
        area = Rectangle(self.x, self.y, self.length, self.width)
        return SubPlate(area, self.thickness, self.material.build())

    def derived(self) -> Derived:
        return beneath("material", self.material.derived())


class BolsterPart(Part):
    """The slab on the bed."""

    length: Annotated[float, Figure("length along x, left to right", LENGTH, "300 mm", "12 m")]
    width: Annotated[float, Figure("width along y, front to back", LENGTH, "300 mm", "6 m")]
    thickness: Annotated[float, Figure("thickness of the slab, with ribs its total height", LENGTH, "30 mm", "1.5 m")]
    mass: Annotated[float, Figure("mass without sub-plate; estimated if left out", MASS, "20 kg", "300 t")] | None = (
        None
    )
    material: MaterialStated
    openings: tuple[Area, ...] = ()
    ribs: WeldedRibsPart | None = absent("the bolster is a solid slab")
    sub_plate: SubPlatePart | None = absent("the die stands on the bolster itself")
    pin_holes: PinHoles | None = absent("the bolster has no pin holes")
    t_slots: Slots | None = absent("T-slots are left out of account; clamps are not checked against them")
    dish: Annotated[float, Figure("how far the middle of the top is worn below its edges", LENGTH, "0 mm", "5 mm")] = (
        default("0 mm", FLAT)
    )
    permitted_mass: Annotated[float, Figure("mass of the die that it may carry", MASS, "10 kg", "300 t")] | None = (
        absent("the die's mass is not checked against it")
    )
    moving: Annotated[bool, Flag("whether it leaves the press with the die on it")] = default(False, FIXED)
    takes: Annotated[str, Choice("what its top is made for that locates a die", ("keys", "cones"))] | None = absent(
        "keys and locating cones are both tried as remedies"
    )
    top_warmer: TopWarmer | None = absent("the bolster has one temperature: it does not bow by warmth")

    @property
    def plan(self) -> Rectangle:
        return Rectangle(0.0, 0.0, self.length, self.width)

    @property
    def cuts(self) -> tuple[Rectangle, ...]:
        """Its cut-outs."""
        return tuple(cut.build() for cut in self.openings)

    def estimated_mass(self, bed_opening: Rectangle) -> float:
        """Mass of the slab, or of its ribs and skins, less cut-outs and pin holes, kg; T-slots are not taken off."""
        cuts = [cut.build() for cut in self.openings]
        plan = self.plan.area - sum(common_area(cut, self.plan) for cut in cuts)
        if self.pin_holes is not None:
            field = self.pin_holes.build(bed_opening)
            drilled = common_area(field.region, self.plan) - sum(common_area(cut, field.region) for cut in cuts)
            plan -= max(drilled, 0.0) * math.pi / 4 * (field.diameter / field.pitch) ** 2
        density = self.material.build().density
        if self.ribs is None:
            return plan * self.thickness * density
        whole = volume_and_middle(self.ribs.build().slices(self.plan, self.thickness))[0]
        return whole * plan / self.plan.area * density

    def build(self, bed_opening: Rectangle) -> Bolster:
        plate = None if self.sub_plate is None else self.sub_plate.build()
        slab = self.estimated_mass(bed_opening) if self.mass is None else self.mass
        return Bolster(
            length=self.length,
            width=self.width,
            thickness=self.thickness,
            mass=slab + (0.0 if plate is None else plate.mass),
            material=self.material.build(),
            openings=tuple(cut.build() for cut in self.openings),
            pin_field=None if self.pin_holes is None else self.pin_holes.build(bed_opening),
            t_slots=None if self.t_slots is None else self.t_slots.build(),
            dish=self.dish,
            sub_plate=plate,
            permitted_mass=self.permitted_mass,
            moving=self.moving,
            ribs=None if self.ribs is None else self.ribs.build(),
            takes=self.takes,
            warmth=self.top_warmer or EVEN,
        )

    def derived(self) -> Derived:
        return beneath("material", self.material.derived())

    def derived_from(self, opening: Rectangle) -> Derived:
        """What follows from the slab and the bed opening together."""
        derived: Derived = {("mass",): (show_mass(self.estimated_mass(opening)), MASS_ESTIMATE)}
        if self.pin_holes is not None:
            size = f"{show_length(opening.length)} by {show_length(opening.width)}"
            derived["pin_holes", "region"] = (f"{size} at {opening.x:g}, {opening.y:g} mm", PIN_REGION)
        return derived


def common_area(one: Rectangle, other: Rectangle) -> float:
    """The area that two rectangles share, mm2."""
    length = min(one.right, other.right) - max(one.left, other.left)
    width = min(one.back, other.back) - max(one.front, other.front)
    return max(length, 0.0) * max(width, 0.0)

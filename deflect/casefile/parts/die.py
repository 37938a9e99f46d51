"""The die file: [die] and the tables in it."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated

from pydantic import Field, model_validator

from deflect.casefile.fields import LONGEST_NOTE, Choice, Figure, Spread, Words, absent, default, refuse
from deflect.casefile.parts.base import BasePart
from deflect.casefile.parts.forces import ForceStated, LinePart, build_patterns
from deflect.casefile.parts.holder import HolderPart
from deflect.casefile.parts.lift_off import FACE_AREA, LiftOffPart
from deflect.casefile.parts.locating import ConePart, GuidePart, KeyPart, OffsetPart
from deflect.casefile.parts.matching import CuttingPart, MatchingPart
from deflect.casefile.parts.part import Area, Derived, Part, Spots
from deflect.casefile.parts.placing import ClampPart, DirtPart, PlacingPart, ShimPart
from deflect.model.die import NO_THRUST, Bedded, Block, Die, Flange, Half, Limits, Operation, Sheet
from deflect.model.material import Material
from deflect.model.press import Press
from deflect.model.values import EVEN, Interval, Rectangle
from deflect.sources import PRACTICE, Source, Tag
from deflect.units import ANGLE, FORCE, LAND_STIFFNESS, LENGTH, MASS, SHARE, STRESS, show_area, show_length, show_mass

ENVELOPE_DENSITY = 2.6e-6
"""kg/mm3 of the space that a cast die half takes up, its plan times its height (2.2 to 3.0 t/m3)."""
MASS_ESTIMATE = Source("estimated: plan times height times 2.6 t/m³ (2.2 to 3.0); ours, from memory", Tag.MEMORY)
BASE_MASS_ESTIMATE = Source(
    "estimated: the base by its section, and its plan times the height above it times 2.6 t/m³ (2.2 to 3.0); "
    "ours, from memory",
    Tag.MEMORY,
)
MASS_OF_SECTIONS = Source("base and blocks, from their sections; derived", Tag.DERIVED)
SOLID_BLOCK = Source("a solid block; ours", Tag.OURS)
SPOTTING = Source("0.02 to 0.05 mm is usual; common practice, no source", Tag.PRACTICE)
MATCHING = Source("10 to 20 µm is usual; common practice, no source", Tag.PRACTICE)
SIDE_THRUST = Source("an even die; give the process's own; common practice, no source", Tag.PRACTICE)
CUTTING_THRUST = Source(
    "10 to 30 % of a cutting force acts sideways; what an open trim line leaves unbalanced; from memory; "
    "counts where side_thrust is left out",
    Tag.MEMORY,
)
OFFSET_THRUST = Source(
    "a tilted slide leans on the lower half; weak: measure it; ours; counts where side_thrust is left out", Tag.OURS
)
MILLIMETRES_A_METRE = 1000.0
CLEARANCE = Source("10 % a side, 5 to 20 % by sheet; common practice, no source", Tag.PRACTICE)
AS_UPPER_BASE = Source("as the base of the upper half; ours", Tag.OURS)
AS_BASE = Source("as the die base; ours", Tag.OURS)
USUAL_KEYS = Source("the usual arrangement is assumed; common practice, no source", Tag.PRACTICE)
NO_OFFSET = Source("the halves stand in line; ours", Tag.OURS)
TRIM_LINES = Source("the lines along which the force acts; ours", Tag.OURS)
NO_CUT = Source("the shear force is not checked; ours", Tag.OURS)
LONGER_SIDE = Source("the longer side of the area about all forces; ours", Tag.OURS)
NO_CUSHION = Source("no cushion is used; ours", Tag.OURS)

BASE_ALIASES = (
    "lower shoe",
    "lower_shoe",
    "lower-shoe",
    "base plate",
    "base_plate",
    "base-plate",
    "die base",
    "die_base",
)
"""Other names of the table [die.base]."""


class FlangePart(Part):
    """The flange that a half is clamped by."""

    thickness: Annotated[float, Figure("thickness of the flange", LENGTH, "5 mm", "500 mm")] | None = absent(
        "the thickness is not checked against the clamps"
    )
    slot_width: Annotated[float, Figure("width of the slots for the bolts", LENGTH, "6 mm", "150 mm")] | None = absent(
        "the slots are not checked against the T-slots"
    )
    slots: Annotated[Spots, Field(min_length=1, max_length=200)] | None = absent(
        "where the bolts stand is not checked against the T-slots"
    )

    def build(self) -> Flange:
        return Flange(self.thickness, self.slot_width, self.slots or ())


class BlockPart(Area):
    """What stands on the base of a half."""

    name: Annotated[str, Words("what it is")] | None = None
    low: Annotated[float, Figure("where it begins over the back of the half", LENGTH, "0 mm", "3 m")]
    high: Annotated[float, Figure("where it ends over the back of the half", LENGTH, "1 mm", "3 m")]
    mass: Annotated[float, Figure("its mass; that of its filling if left out", MASS, "1 kg", "100 t")] | None = None
    filling: Annotated[float, Figure("share of it that is metal", SHARE, "1 %", "100 %")] = default(
        "100 %", SOLID_BLOCK
    )

    @model_validator(mode="after")
    def _ends_above_where_it_begins(self) -> BlockPart:
        if self.high <= self.low:
            refuse(
                "the block ends no higher than it begins",
                "high greater than low",
                "both count from the back of the half: table side of the lower half, slide side of the upper one",
            )
        return self

    def built(self, material: Material) -> Block:
        area = self.build()
        own = area.area * (self.high - self.low) * self.filling * material.density
        return Block(area, self.low, self.high, own if self.mass is None else self.mass, self.name or "")


class HalfPart(Part):
    """One half of the die."""

    height: Annotated[float, Figure("height of the half, base included", LENGTH, "15 mm", "3 m")]
    mass: Annotated[float, Figure("mass; estimated if left out", MASS, "5 kg", "100 t")] | None = None

    flange: FlangePart | None = absent("how this half is clamped is not checked")
    blocks: Annotated[tuple[BlockPart, ...], Field(max_length=200)] = ()

    def plan(self, base: BasePart) -> Rectangle:
        """The half in plan, die axes."""
        return base.plan

    def own_base(self, base: BasePart) -> BasePart | None:
        """What the half stands on or hangs from; None: not stated."""
        return base

    def known_mass(self, base: BasePart) -> float:
        """kg, of what its sections are stated of."""
        own = self.own_base(base)
        return sum(block.mass for block in self._blocks(base)) + (0.0 if own is None else own.build().mass)

    def estimated_mass(self, base: BasePart) -> float:
        """kg: base and blocks from their sections; where no blocks are stated, the space beside the base."""
        if self.blocks and self.own_base(base) is not None:
            return self.known_mass(base)
        own = self.own_base(base)
        beside = self.height if own is None else max(self.height - own.thickness, 0.0)
        return self.known_mass(base) + self.plan(base).area * beside * ENVELOPE_DENSITY

    def estimated_by(self, base: BasePart) -> Source:
        """How that mass comes about."""
        if self.own_base(base) is None:
            return MASS_ESTIMATE
        return MASS_OF_SECTIONS if self.blocks else BASE_MASS_ESTIMATE

    def build(self, base: BasePart) -> Half:
        mass = self.estimated_mass(base) if self.mass is None else self.mass
        flange = None if self.flange is None else self.flange.build()
        sure = self.known_mass(base) if self.mass is None else 0.0
        blocks = self._blocks(base)
        return Half(self.height, mass, self.mass is None, flange=flange, base_mass=sure, blocks=blocks)

    def _blocks(self, base: BasePart) -> tuple[Block, ...]:
        material = (self.own_base(base) or base).material.build()
        return tuple(block.built(material) for block in self.blocks)


class LowerPart(HalfPart):
    """The lower half: it stands on its base."""


class UpperPart(HalfPart):
    """The upper half: its plan may differ from that of the base."""

    length: Annotated[float, Figure("length along the die's x", LENGTH, "100 mm", "10 m")] | None = None
    width: Annotated[float, Figure("width along the die's y", LENGTH, "100 mm", "6 m")] | None = None
    base: BasePart | None = absent("slide and upper half are not solved: how the faces close is not checked")
    clamps: Annotated[tuple[ClampPart, ...], Field(max_length=500)] = ()

    def plan(self, base: BasePart) -> Rectangle:
        own = self.base or base
        return Rectangle(0.0, 0.0, self.length or own.length, self.width or own.width)

    def own_base(self, base: BasePart) -> BasePart | None:
        return self.base

    def build(self, base: BasePart) -> Half:
        own = self.base
        return replace(
            super().build(base),
            length=self.length or (None if own is None else own.length),
            width=self.width or (None if own is None else own.width),
            base=None if own is None else own.build(),
            clamps=tuple(clamp.build() for clamp in self.clamps),
        )


class SheetPart(Part):
    """The panel."""

    thickness: Annotated[float, Figure("sheet thickness", LENGTH, "0.1 mm", "20 mm")]
    tensile_strength: Annotated[float, Figure("tensile strength of the sheet", STRESS, "30 MPa", "2.5 GPa")]
    clearance: Annotated[float, Figure("cutting clearance a side, as a share of thickness", SHARE, "0.2 %", "40 %")] = (
        default("10 %", CLEARANCE)
    )
    stiffness: (
        Annotated[float, Figure("pressure that squeezes it by 1 mm", LAND_STIFFNESS, "1 N/mm3", "10000000 N/mm3")]
        | None
    ) = absent("that of a steel sheet, its modulus over its thickness; oil and roughness left out")

    def build(self) -> Sheet:
        return Sheet(self.thickness, self.tensile_strength, self.clearance, self.stiffness)


class LimitsPart(Part):
    """What the die must keep."""

    spotting: Annotated[float, Figure("change of the face from the bedded state", LENGTH, "1 µm", "2 mm")] = default(
        "0.03 mm", SPOTTING
    )
    bedding: Annotated[float, Figure("face error that may be bedded or milled away", LENGTH, "1 µm", "5 mm")] = default(
        "0.3 mm", PRACTICE
    )
    matching: Annotated[float, Figure("sideways match of cutting edges", LENGTH, "1 µm", "1 mm")] = default(
        "0.015 mm", MATCHING
    )

    def build(self) -> Limits:
        return Limits(self.spotting, self.bedding, self.matching)


class BeddedPart(Part):
    """On which press, and at which force, the die was bedded in."""

    press: Annotated[str, Words("a press file, seen from this file, or a known name", 400)]
    force: Annotated[float, Figure("force of the slide at bedding-in", FORCE, "1 kN", "200 MN")]


class DiePart(Part):
    """A die, and how it stands on the table."""

    name: Annotated[str, Words("name of the die")]
    note: Annotated[str, Words("a remark for the report", LONGEST_NOTE, several_lines=True)] | None = None
    operation: Annotated[str, Choice("what the die does", tuple(str(one) for one in Operation))]
    working_force: Annotated[float, Figure("force at the slide", FORCE, "1 kN", "200 MN")]
    cushion_force: Annotated[float, Figure("the cushion's share of it", FORCE, "0 kN", "50 MN")] = default(
        "0 kN", NO_CUSHION
    )
    least_force: (
        Annotated[float, Figure("force at the slide that the panel needs at least", FORCE, "1 kN", "200 MN")] | None
    ) = absent("less force is tried as a remedy, down to 70 % of it")
    side_thrust: Annotated[
        Interval, Spread("steady horizontal force as a share of the table force", SHARE, "0 %", "50 %")
    ] = default({"low": "0.1 %", "usual": "0.5 %", "high": "2 %"}, SIDE_THRUST)
    thrust_direction: (
        Annotated[
            float,
            Figure("direction of the side thrust from the table's +x", ANGLE, "-360 degree", "360 degree"),
        ]
        | None
    ) = absent("unknown: the worse of x and y is taken")
    cutting_thrust: Annotated[Interval, Spread("sideways share of a cutting force", SHARE, "0 %", "100 %")] = default(
        {"low": "10 %", "usual": "20 %", "high": "30 %"}, CUTTING_THRUST
    )
    offset_thrust: Annotated[
        Interval,
        Spread(
            "side thrust per metre that the force's centre is off the press's, as a share of the force",
            SHARE,
            "0 %",
            "100 %",
        ),
    ] = default({"low": "0 %", "usual": "2 %", "high": "10 %"}, OFFSET_THRUST)
    base: BasePart
    lower: LowerPart
    upper: UpperPart
    closed_height: Annotated[float, Figure("height of the closed die", LENGTH, "30 mm", "5 m")] | None = absent(
        "it is not checked against the press"
    )
    force_height: (
        Annotated[
            float,
            Figure("height above bottom dead centre at which the working force begins to act", LENGTH, "0 mm", "2 m"),
        ]
        | None
    ) = absent("the working force is not checked at its height")
    cushion_pins: Annotated[Spots, Field(max_length=2000)] | None = absent(
        "the pins are not checked against the bolster's holes"
    )
    forces: Annotated[tuple[ForceStated, ...], Field(min_length=1, max_length=500)]
    placing: PlacingPart = Field(default_factory=lambda: PlacingPart.model_validate({}))
    clamps: Annotated[tuple[ClampPart, ...], Field(max_length=500)] = ()
    keys: Annotated[tuple[KeyPart, ...], Field(max_length=50)] = ()
    cones: Annotated[tuple[ConePart, ...], Field(max_length=50)] = ()
    guides: Annotated[tuple[GuidePart, ...], Field(max_length=50)] = ()
    guide_offset: OffsetPart = default({"x": "0 mm", "y": "0 mm"}, NO_OFFSET)
    shims: Annotated[tuple[ShimPart, ...], Field(max_length=500)] = ()
    dirt: Annotated[tuple[DirtPart, ...], Field(max_length=500)] = ()
    sheet: SheetPart | None = absent("nothing is cut, or nothing is said of it")
    blank_holder: HolderPart | None = absent("whether it follows the face is not checked")
    limits: LimitsPart = Field(default_factory=lambda: LimitsPart.model_validate({}))
    bedded: BeddedPart | None = absent("the die is not bedded in yet")
    lift_off: LiftOffPart = Field(default_factory=lambda: LiftOffPart.model_validate({}))
    cutting: CuttingPart = Field(default_factory=lambda: CuttingPart.model_validate({}))
    matching: MatchingPart = Field(default_factory=lambda: MatchingPart.model_validate({}))

    def build(self, bedded_on: Press | None) -> Die:
        bedded = self.bedded
        return Die(
            name=self.name,
            operation=Operation(self.operation),
            base=self.base.build(),
            lower=self.lower.build(self.base),
            upper=self.upper.build(self.base),
            working_force=self.working_force,
            cushion_force=self.cushion_force,
            patterns=build_patterns(self.forces, Operation(self.operation).cuts),
            placing=self.placing.build(self.clamps, self.shims, self.dirt, self.keys, self.cones),
            limits=self.limits.build(),
            side_thrust=self.side_thrust,
            lift_off=self.lift_off.build(self.face_area),
            cutting=self.cutting.build(self.line_length),
            matching=self.matching.build("matching" in self.model_fields_set, max(self.face_sides)),
            thrust_direction=self.thrust_direction,
            cutting_thrust=self._estimated("cutting_thrust", self.cutting_thrust),
            offset_thrust=self._estimated("offset_thrust", self.offset_thrust).scaled(1 / MILLIMETRES_A_METRE),
            sheet=None if self.sheet is None else self.sheet.build(),
            bedded=None if bedded is None or bedded_on is None else Bedded(bedded_on, bedded.force),
            note=self.note or "",
            overlap=self.overlap,
            force_height=self.force_height,
            cushion_pins=self.cushion_pins,
            blank_holder=None if self.blank_holder is None else self.blank_holder.build(),
            guides=tuple(guide.build() for guide in self.guides),
            guide_offset=(self.guide_offset.x, self.guide_offset.y),
            least_force=self.least_force,
            warmth=self.base.top_warmer or EVEN,
        )

    def _estimated(self, key: str, thrust: Interval) -> Interval:
        """A thrust that is estimated, unless the whole side thrust is given and this part of it is not."""
        given = self.model_fields_set
        return NO_THRUST if "side_thrust" in given and key not in given else thrust

    @property
    def overlap(self) -> float | None:
        """How far the halves reach into each other in the closed die, mm; None: the closed height is not given."""
        return None if self.closed_height is None else self.lower.height + self.upper.height - self.closed_height

    @property
    def face_sides(self) -> tuple[float, float]:
        """Length and width of the area about all forces, mm."""
        x, y = zip(*(spot for force in self.forces for spot in force.spots()), strict=True)
        return max(x) - min(x), max(y) - min(y)

    @property
    def face_area(self) -> float:
        """The area about all forces, or that of the blank holder where it is greater, mm2."""
        ring = self.blank_holder
        held = 0.0 if ring is None else (ring.length + ring.ring) * (ring.width + ring.ring)
        return max(self.face_sides[0] * self.face_sides[1], held)

    @property
    def line_length(self) -> float | None:
        """Length of the lines along which a trim die's force acts, mm; None: no such lines."""
        if Operation(self.operation) is not Operation.TRIM:
            return None
        return sum(force.length for force in self.forces if isinstance(force, LinePart)) or None

    def derived(self) -> Derived:
        cut = self.line_length
        derived: Derived = {
            ("lift_off", "sealed_area"): (show_area(self.face_area), FACE_AREA),
            ("cutting", "length"): ("not stated", NO_CUT) if cut is None else (show_length(cut), TRIM_LINES),
            ("matching", "length"): (show_length(max(self.face_sides)), LONGER_SIDE),
        }
        derived |= {
            (half, "mass"): (show_mass(part.estimated_mass(self.base)), part.estimated_by(self.base))
            for half, part in (("lower", self.lower), ("upper", self.upper))
        }
        if self.placing.keyed and not self.keys:
            derived["keys",] = "two on one line along the T-slots, one cross key near the middle", USUAL_KEYS
        if self.placing.coned and not self.cones:
            derived["cones",] = "one fixed, one floating on the line through the middle", USUAL_KEYS
        own, source = (self.base, AS_BASE) if self.upper.base is None else (self.upper.base, AS_UPPER_BASE)
        return derived | {
            ("upper", "length"): (show_length(own.length), source),
            ("upper", "width"): (show_length(own.width), source),
        }

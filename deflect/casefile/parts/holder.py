"""The blank holder: a ring on cushion pins or gas springs."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from deflect.casefile.fields import Figure, Flag, Spread, absent, default, refuse
from deflect.casefile.parts.material import MaterialStated
from deflect.casefile.parts.part import Coordinate, Derived, Part, beneath
from deflect.casefile.parts.ribs import CAST
from deflect.model.die import BlankHolder
from deflect.model.ring import LEAST_HOLLOW, Carried, GasSpring, GasSprings, RingRibs, Wanted
from deflect.model.values import Interval
from deflect.sources import PRACTICE, Source, Tag
from deflect.units import FORCE, FRICTION, LENGTH, SHARE, SPRING_STIFFNESS, show_length

PIN_STIFFNESS = Source("a steel pin of 40 mm, 600 mm long, E A / L; derived", Tag.DERIVED)
PIN_SCATTER = Source("pins that were not measured; common practice, no source", Tag.PRACTICE)
EVEN_RING = Source("an even ring is asked for; ours", Tag.OURS)
SHEET_FRICTION = Source("oiled sheet; from memory", Tag.MEMORY)
OWN_PRESSURE = Source("each has its own pressure; ours", Tag.OURS)
MOST_SPRING = Source("ask the maker of the spring; from memory", Tag.MEMORY)


class SpringPart(Part):
    """A gas spring below the blank holder."""

    x: Coordinate
    y: Coordinate
    force: Annotated[float, Figure("force of the spring at the working stroke", FORCE, "0 N", "1 MN")]


class WantedPart(Part):
    """Ring pressure asked for on each side, as a share of the mean."""

    left: Annotated[float, Figure("pressure wanted on the left", SHARE, "10 %", "1000 %")] = default("100 %", EVEN_RING)
    right: Annotated[float, Figure("pressure wanted on the right", SHARE, "10 %", "1000 %")] = default(
        "100 %", EVEN_RING
    )
    front: Annotated[float, Figure("pressure wanted in front", SHARE, "10 %", "1000 %")] = default("100 %", EVEN_RING)
    back: Annotated[float, Figure("pressure wanted at the back", SHARE, "10 %", "1000 %")] = default("100 %", EVEN_RING)

    def build(self) -> Wanted:
        return Wanted(self.left, self.right, self.front, self.back)


class RingRibsPart(Part):
    """What of a hollow ring is metal; it is open below."""

    skin: Annotated[float, Figure("thickness of the skin under the sheet", LENGTH, "5 mm", "500 mm")]
    walls: Annotated[float, Figure("thickness of the wall along either edge of the ring", LENGTH, "5 mm", "300 mm")]
    pitch: Annotated[float, Figure("distance of the ribs that run across from wall to wall", LENGTH, "50 mm", "2 m")]
    thickness: Annotated[float, Figure("thickness of a rib", LENGTH, "5 mm", "300 mm")]
    thinnest: Annotated[float, Figure("thinnest rib that can be cast", LENGTH, "1 mm", "200 mm")] = default(
        "30 mm", CAST
    )

    def build(self) -> RingRibs:
        return RingRibs(self.skin, self.walls, self.pitch, self.thickness, self.thinnest)


class HolderPart(Part):
    """The ring that holds the blank, by its middle line."""

    length: Annotated[float, Figure("length of the ring's middle line along x", LENGTH, "100 mm", "10 m")]
    width: Annotated[float, Figure("width of the ring's middle line along y", LENGTH, "100 mm", "6 m")]
    ring: Annotated[float, Figure("width of the ring itself", LENGTH, "20 mm", "1 m")]
    thickness: Annotated[float, Figure("thickness of the ring", LENGTH, "15 mm", "1 m")]
    material: MaterialStated
    ribs: RingRibsPart | None = absent("it is solid")

    pin_stiffness: Annotated[
        float, Figure("stiffness of one cushion pin", SPRING_STIFFNESS, "1 kN/mm", "100000 kN/mm")
    ] = default("440 kN/mm", PIN_STIFFNESS)
    pin_heights: (
        Annotated[
            tuple[Annotated[float, Figure("height of the pin over its nominal one", LENGTH, "-5 mm", "5 mm")], ...],
            Field(max_length=2000, description="in the order of die.cushion_pins"),
        ]
        | None
    ) = absent("all pins are taken as equally high, but for their scatter")
    pin_scatter: Annotated[float, Figure("how far a pin's height may be off besides", LENGTH, "0 mm", "2 mm")] = (
        default("0.03 mm", PIN_SCATTER)
    )
    springs: Annotated[tuple[SpringPart, ...], Field(max_length=200)] = ()
    springs_coupled: Annotated[bool, Flag("whether all springs are on one line")] = default(False, OWN_PRESSURE)
    spring_limit: Annotated[float, Figure("force that one spring may be set to", FORCE, "1 kN", "1 MN")] = default(
        "200 kN", MOST_SPRING
    )
    least_force: (
        Annotated[float, Figure("force of the ring below which it wrinkles", FORCE, "1 kN", "50 MN")] | None
    ) = absent("the reserve of a leaking ring is not told")
    wanted: WantedPart = Field(default_factory=lambda: WantedPart.model_validate({}))
    uneven: Annotated[float, Figure("by how much of the wanted pressure it may differ", SHARE, "1 %", "100 %")] = (
        default("30 %", PRACTICE)
    )
    sheet_friction: Annotated[Interval, Spread("friction of the sheet below the ring", FRICTION, "0.01", "0.5")] = (
        default({"low": 0.05, "usual": 0.10, "high": 0.15}, SHEET_FRICTION)
    )

    @field_validator("ribs")
    @classmethod
    def _ribs_leave_a_hollow(cls, ribs: RingRibsPart | None, before: ValidationInfo) -> RingRibsPart | None:
        if ribs is None or not {"ring", "thickness"} <= before.data.keys():
            return ribs
        hollow = {
            "between its walls": before.data["ring"] - 2 * ribs.walls,
            "below its skin": before.data["thickness"] - ribs.skin,
            "between its ribs": ribs.pitch - ribs.thickness,
        }
        closed = [where for where, left in hollow.items() if left < LEAST_HOLLOW]
        if closed:
            refuse(
                f"the ring has no hollow {' and '.join(closed)}",
                f"{show_length(LEAST_HOLLOW)} at least between walls, between ribs, and below the skin",
                "check skin, walls, pitch and thickness of its ribs, or leave ribs out: the ring is solid then",
            )
        return ribs

    def build(self) -> BlankHolder:
        springs = tuple(GasSpring(spring.x, spring.y, spring.force) for spring in self.springs)
        carried = Carried(
            stiffness=self.pin_stiffness,
            heights=self.pin_heights or (),
            scatter=self.pin_scatter,
            springs=GasSprings(springs, self.springs_coupled, self.spring_limit) if springs else None,
            wanted=self.wanted.build(),
            uneven=self.uneven,
            least_force=self.least_force,
            friction=self.sheet_friction,
        )
        ribs = None if self.ribs is None else self.ribs.build()
        return BlankHolder(self.length, self.width, self.ring, self.thickness, self.material.build(), carried, ribs)

    def derived(self) -> Derived:
        return beneath("material", self.material.derived())

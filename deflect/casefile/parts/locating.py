"""What holds the die: bolts of clamps, keys, locating cones, guides."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Choice, Figure, absent, default
from deflect.casefile.parts.part import Coordinate, Part
from deflect.mechanics.bolts import THREADS
from deflect.model.holder import ClampBolt, ConeForm, Grade, Guide, Key, LocatingCone, Seat, Tightening
from deflect.sources import Source, Tag
from deflect.units import ANGLE, FORCE, LENGTH, SPRING_STIFFNESS, STRESS

BY_FEEL = Source("nothing is stated: the widest scatter, 2.5 to 4; VDI 2230, from memory", Tag.MEMORY)
IN_T_SLOT = Source("a key stands in a T-slot; common practice, no source", Tag.PRACTICE)
PLAY = Source("throat H8 over a key h6 leaves 0 to 0.027 mm a side; ISO 286, from memory", Tag.MEMORY)
KEY_SIZE = Source("keys of 60 to 100 mm that bear on 10 to 15 mm; common practice, no source", Tag.PRACTICE)
PRESSURE = Source("steel and cast iron, force that comes and goes; arithmetic of DIN 6892, from memory", Tag.MEMORY)
CONE_ANGLE = Source("10 to 30 degrees; common practice, no source", Tag.PRACTICE)
CONE_SIZE = Source("cones of 40 to 80 mm; common practice, no source", Tag.PRACTICE)
CONE_FORM = Source("a cone, which bears on its flank; common practice, no source", Tag.PRACTICE)
SEAT_ERROR = Source("seat and base face at one height; measure it; ours", Tag.OURS)

Pressure = Annotated[float, Figure("pressure that its flanks may bear", STRESS, "10 MPa", "1 GPa")]


class BoltPart(Part):
    """The bolt of a clamp."""

    thread: Annotated[str, Choice("thread of the bolt", tuple(THREADS))]
    grade: Annotated[str, Choice("property class of the bolt", tuple(Grade))]
    tightening: Annotated[str, Choice("how the bolt is tightened", tuple(Tightening))] = default(
        str(Tightening.BY_FEEL), BY_FEEL
    )

    def build(self) -> ClampBolt:
        return ClampBolt(self.thread, Grade(self.grade), Tightening(self.tightening))


class KeyPart(Part):
    """A key: it holds across its slot only."""

    x: Coordinate
    y: Coordinate
    slot: Annotated[float, Figure("the way its slot runs, from the die's x", ANGLE, "-180 degree", "180 degree")]
    seat: Annotated[str, Choice("what it stands in", tuple(Seat))] = default(str(Seat.T_SLOT), IN_T_SLOT)
    play: Annotated[float, Figure("play on each side before it bites", LENGTH, "0 mm", "2 mm")] = default(
        "0.02 mm", PLAY
    )
    length: Annotated[float, Figure("length along the slot", LENGTH, "10 mm", "1 m")] = default("80 mm", KEY_SIZE)
    height: Annotated[
        float, Figure("how high it bears, in the die and in the table each", LENGTH, "2 mm", "100 mm")
    ] = default("12 mm", KEY_SIZE)
    width: Annotated[float, Figure("width across the slot", LENGTH, "6 mm", "150 mm")] | None = absent(
        "the width of the T-slots' throat is taken, 28 mm where none are stated"
    )
    permitted_pressure: Pressure = default("150 MPa", PRESSURE)
    permitted_shear: Annotated[float, Figure("shear that the key may take", STRESS, "10 MPa", "1 GPa")] = default(
        "100 MPa", PRESSURE
    )

    def build(self) -> Key:
        return Key(
            self.x,
            self.y,
            self.slot,
            Seat(self.seat),
            self.play,
            self.length,
            self.height,
            self.width,
            self.permitted_pressure,
            self.permitted_shear,
        )


class ConePart(Part):
    """A locating cone or ball."""

    x: Coordinate
    y: Coordinate
    half_angle: Annotated[float, Figure("angle between flank and axis", ANGLE, "2 degree", "75 degree")] = default(
        "15 degree", CONE_ANGLE
    )
    floats: (
        Annotated[
            float, Figure("the way in which it is free to move, from the die's x", ANGLE, "-180 degree", "180 degree")
        ]
        | None
    ) = absent("the cone is fixed")
    form: Annotated[str, Choice("what stands in the seat", tuple(ConeForm))] = default(str(ConeForm.CONE), CONE_FORM)
    seat_error: Annotated[
        float, Figure("how far it stands too high (above zero) or too low for the base", LENGTH, "-2 mm", "2 mm")
    ] = default("0 mm", SEAT_ERROR)
    diameter: Annotated[float, Figure("middle diameter of the flank", LENGTH, "10 mm", "300 mm")] = default(
        "60 mm", CONE_SIZE
    )
    height: Annotated[float, Figure("height of the flank along the axis", LENGTH, "2 mm", "200 mm")] = default(
        "20 mm", CONE_SIZE
    )
    permitted_pressure: Pressure = default("150 MPa", PRESSURE)

    def build(self) -> LocatingCone:
        return LocatingCone(
            self.x,
            self.y,
            self.half_angle,
            self.floats,
            ConeForm(self.form),
            self.seat_error,
            self.diameter,
            self.height,
            self.permitted_pressure,
        )


class GuidePart(Part):
    """A guide between the halves: a post, or a heel block."""

    x: Coordinate
    y: Coordinate
    engagement: Annotated[
        float, Figure("height of the slide above bottom dead centre at which it engages", LENGTH, "0 mm", "2 m")
    ]
    clearance: Annotated[float, Figure("clearance on each side", LENGTH, "0 mm", "5 mm")]
    stiffness: Annotated[float, Figure("sideways stiffness", SPRING_STIFFNESS, "0.1 kN/mm", "100000 kN/mm")]
    permitted_force: Annotated[float, Figure("side force that it may take", FORCE, "0.1 kN", "10 MN")]
    direction: (
        Annotated[float, Figure("the only way in which it bears, from the die's x", ANGLE, "-180 degree", "180 degree")]
        | None
    ) = absent("it bears any way, as a post does; a heel block bears across its face")

    def build(self) -> Guide:
        return Guide(
            self.x, self.y, self.engagement, self.clearance, self.stiffness, self.permitted_force, self.direction
        )


class OffsetPart(Part):
    """How far the upper half stands off the lower one."""

    x: Annotated[float, Figure("to the right", LENGTH, "-20 mm", "20 mm")]
    y: Annotated[float, Figure("to the back", LENGTH, "-20 mm", "20 mm")]

"""How the die is set on the table: place, clamps, shims, keys."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Figure, Flag, default
from deflect.casefile.parts.part import Area, Coordinate, Part
from deflect.model.die import Clamp, Placing, Shim
from deflect.sources import Source, Tag
from deflect.units import ANGLE, FORCE, LENGTH

CENTRED = Source("the die stands on the centre of the table; common practice, no source", Tag.PRACTICE)
BOUND = Source("bound by the way of the panel through the line; ours", Tag.OURS)
NO_KEYS = Source("none stated; ours", Tag.OURS)


class ClampPart(Part):
    """A clamp on the base's flange."""

    x: Coordinate
    y: Coordinate
    force: Annotated[float, Figure("force of the clamp on the die", FORCE, "0.1 kN", "2 MN")]

    def build(self) -> Clamp:
        return Clamp(self.x, self.y, self.force)


class ShimPart(Area):
    """A captive shim under the base."""

    thickness: Annotated[float, Figure("thickness of the shim", LENGTH, "0.005 mm", "5 mm")]

    def shim(self) -> Shim:
        return Shim(self.build(), self.thickness)


class DirtPart(Area):
    """Chips, burrs or scale found below the base."""

    height: Annotated[float, Figure("height of what lies there", LENGTH, "0.005 mm", "5 mm")]

    def shim(self) -> Shim:
        return Shim(self.build(), self.height)


class MayMove(Part):
    """How far the die may stand from its place."""

    x: Annotated[float, Figure("how far it may be moved, left or right", LENGTH, "0 mm", "10 m")]
    y: Annotated[float, Figure("how far it may be moved, front or back", LENGTH, "0 mm", "10 m")]


class PlacingPart(Part):
    """The centre of the die on the table, and how it is turned."""

    x: Coordinate = default("0 mm", CENTRED)
    y: Coordinate = default("0 mm", CENTRED)
    rotation: Annotated[
        float, Figure("turned about z, against the clock from above", ANGLE, "-180 degree", "180 degree")
    ] = default("0 degree", CENTRED)
    keyed: Annotated[bool, Flag("whether keys hold the die against shifting")] = default(False, NO_KEYS)
    coned: Annotated[bool, Flag("whether locating cones hold the die against shifting")] = default(False, NO_KEYS)
    may_move: MayMove = default({"x": "0 mm", "y": "0 mm"}, BOUND)
    may_turn: Annotated[bool, Flag("whether the die may be turned on the table")] = default(False, BOUND)

    def build(
        self, clamps: tuple[ClampPart, ...], shims: tuple[ShimPart, ...], dirt: tuple[DirtPart, ...] = ()
    ) -> Placing:
        return Placing(
            self.x,
            self.y,
            self.rotation,
            tuple(clamp.build() for clamp in clamps),
            tuple(shim.shim() for shim in shims),
            self.keyed,
            (self.may_move.x, self.may_move.y),
            self.may_turn,
            self.coned,
            tuple(one.shim() for one in dirt),
        )

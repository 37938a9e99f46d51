"""How the die is set on the table: place, clamps, shims, keys."""

from __future__ import annotations

from typing import Annotated

from pydantic import model_validator

from deflect.casefile.fields import Figure, Flag, default, refuse
from deflect.casefile.parts.locating import BoltPart, ConePart, KeyPart
from deflect.casefile.parts.part import Area, Coordinate, Derived, Part
from deflect.mechanics.bolts import bolt_clamp_force, bolted_clamp, tightening_torque
from deflect.model.die import Clamp, Placing, Shim
from deflect.sources import Source, Tag
from deflect.units import ANGLE, FORCE, LENGTH, SHARE, show_force, show_share

CENTRED = Source("the die stands on the centre of the table; common practice, no source", Tag.PRACTICE)
BOUND = Source("bound by the way of the panel through the line; ours", Tag.OURS)
NO_KEYS = Source("none stated; ours", Tag.OURS)


USUAL_LEVER = 0.5
"""Share of the bolt's force that a strap passes on to the die, with the bolt in its middle."""
LEVER = Source(
    "the bolt in the middle of its strap, the low end of 0.5 to 0.67; 1 where the bolt itself pulls at the flange; "
    "common practice, no source",
    Tag.PRACTICE,
)
BOLT_FORCE = Source(
    "VDI 2230 (published), less 5 to 20 % that is lost as it beds down (common practice, no source)", Tag.PUBLISHED
)


class ClampPart(Part):
    """A clamp on the base's flange, by its force or by its bolt."""

    x: Coordinate
    y: Coordinate
    force: Annotated[float, Figure("force of the clamp on the die", FORCE, "0.1 kN", "2 MN")] | None = None
    bolt: BoltPart | None = None
    lever: Annotated[float, Figure("share of the bolt's force that reaches the die", SHARE, "10 %", "100 %")] | None = (
        None
    )

    @model_validator(mode="after")
    def _has_one_force(self) -> ClampPart:
        if (self.force is None) == (self.bolt is None):
            refuse(
                "the clamp has neither a force nor a bolt"
                if self.force is None
                else "the clamp has a force and a bolt as well",
                "either force, or bolt with or without lever",
                'write force = "60 kN", or bolt = {thread = "M24", grade = "8.8", tightening = "torque wrench"}',
            )
        if self.lever is not None and self.bolt is None:
            refuse(
                "the lever belongs to a bolt, and this clamp is given by its force on the die",
                "lever beside bolt",
                "take the lever out, or give the bolt in place of the force",
            )
        return self

    def build(self) -> Clamp:
        if self.bolt is None:
            return Clamp(self.x, self.y, self.force or 0.0)
        return bolted_clamp(self.x, self.y, self.bolt.build(), self.lever or USUAL_LEVER)

    def derived(self) -> Derived:
        if self.bolt is None:
            return {}
        bolt = self.bolt.build()
        force = bolt_clamp_force(bolt, self.lever or USUAL_LEVER)
        low, usual, high = map(show_force, (force.low, force.nominal, force.high))
        torque = tightening_torque(bolt.thread, bolt.grade) / NEWTON_METRE
        return {
            ("force",): (f"{low} / {usual} / {high}, tightened with about {round(torque, -1):.0f} Nm", BOLT_FORCE),
            ("lever",): (show_share(USUAL_LEVER), LEVER),
        }


NEWTON_METRE = 1e3
"""Nmm."""


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
        self,
        clamps: tuple[ClampPart, ...],
        shims: tuple[ShimPart, ...],
        dirt: tuple[DirtPart, ...] = (),
        keys: tuple[KeyPart, ...] = (),
        cones: tuple[ConePart, ...] = (),
    ) -> Placing:
        return Placing(
            self.x,
            self.y,
            self.rotation,
            tuple(clamp.build() for clamp in clamps),
            tuple(shim.shim() for shim in shims),
            self.keyed or bool(keys),
            (self.may_move.x, self.may_move.y),
            self.may_turn,
            self.coned or bool(cones),
            tuple(one.shim() for one in dirt),
            tuple(key.build() for key in keys),
            tuple(cone.build() for cone in cones),
        )

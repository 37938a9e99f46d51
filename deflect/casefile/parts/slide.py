"""The slide, and what the press gives between bolster and slide."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Figure, absent
from deflect.casefile.parts.bolster import Slots
from deflect.casefile.parts.part import Part
from deflect.model.press import ForceAtHeight, Slide
from deflect.units import FORCE, LENGTH, MASS


class SlidePart(Part):
    """The slide's face, centred over the bolster."""

    length: Annotated[float, Figure("length along x, left to right", LENGTH, "200 mm", "12 m")] | None = absent(
        "the upper half is not checked against the slide"
    )
    width: Annotated[float, Figure("width along y, front to back", LENGTH, "200 mm", "6 m")] | None = absent(
        "the upper half is not checked against the slide"
    )
    t_slots: Slots | None = absent("clamps are not checked against the slide's T-slots")
    permitted_mass: Annotated[float, Figure("mass that may hang from it", MASS, "10 kg", "200 t")] | None = absent(
        "the upper half's mass is not checked against it"
    )

    def build(self) -> Slide:
        slots = None if self.t_slots is None else self.t_slots.build()
        return Slide(self.length, self.width, slots, self.permitted_mass)


class ForceAtHeightPart(Part):
    """One point of the permitted force over height."""

    height: Annotated[float, Figure("height above bottom dead centre", LENGTH, "0 mm", "2 m")]
    force: Annotated[float, Figure("force that the slide may give there", FORCE, "1 kN", "200 MN")]

    def build(self) -> ForceAtHeight:
        return ForceAtHeight(self.height, self.force)

"""The slide, and what the press gives between bolster and slide."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Figure, absent
from deflect.casefile.parts.bolster import Slots
from deflect.casefile.parts.part import Derived, Part
from deflect.casefile.parts.slide_body import SlideBodyPart
from deflect.model.press import ForceAtHeight, Slide
from deflect.model.values import Rectangle
from deflect.sources import Source, Tag
from deflect.units import FORCE, LENGTH, MASS, show_mass

SECTION_MASS = Source("from its section; ours", Tag.OURS)


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

    body: SlideBodyPart | None = absent("slide and upper half are not solved: how the faces close is not checked")

    @property
    def plan(self) -> Rectangle | None:
        """None where a size is left out."""
        if self.length is None or self.width is None:
            return None
        return Rectangle(0.0, 0.0, self.length, self.width)

    def build(self) -> Slide:
        slots = None if self.t_slots is None else self.t_slots.build()
        body = None if self.body is None or self.plan is None else self.body.build(self.plan)
        return Slide(self.length, self.width, slots, self.permitted_mass, body)

    def derived(self) -> Derived:
        if self.body is None or self.plan is None:
            return {}
        return {("body", "mass"): (show_mass(self.body.section_mass(self.plan)), SECTION_MASS)}


class ForceAtHeightPart(Part):
    """One point of the permitted force over height."""

    height: Annotated[float, Figure("height above bottom dead centre", LENGTH, "0 mm", "2 m")]
    force: Annotated[float, Figure("force that the slide may give there", FORCE, "1 kN", "200 MN")]

    def build(self) -> ForceAtHeight:
        return ForceAtHeight(self.height, self.force)

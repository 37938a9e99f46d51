"""The blank holder: a ring on the cushion's pins."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Figure
from deflect.casefile.parts.material import MaterialStated
from deflect.casefile.parts.part import Derived, Part, beneath
from deflect.model.die import BlankHolder
from deflect.units import LENGTH


class HolderPart(Part):
    """The ring that holds the blank, by its middle line."""

    length: Annotated[float, Figure("length of the ring's middle line along x", LENGTH, "100 mm", "10 m")]
    width: Annotated[float, Figure("width of the ring's middle line along y", LENGTH, "100 mm", "6 m")]
    ring: Annotated[float, Figure("width of the ring itself", LENGTH, "20 mm", "1 m")]
    thickness: Annotated[float, Figure("thickness of the ring", LENGTH, "15 mm", "1 m")]
    material: MaterialStated

    def build(self) -> BlankHolder:
        return BlankHolder(self.length, self.width, self.ring, self.thickness, self.material.build())

    def derived(self) -> Derived:
        return beneath("material", self.material.derived())

"""Ribs of a hollow body: a cast die base, a welded bolster."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from deflect.casefile.fields import Figure, absent, default
from deflect.casefile.parts.part import Area, Part
from deflect.model.ribs import RibPattern, Ribs
from deflect.sources import Source, Tag
from deflect.units import LENGTH

CAST = Source("30 to 40 mm on large dies, so that the foam pattern bears it; common practice, no source", Tag.PRACTICE)
WELDED = Source("plates of welded bolsters; common practice, no source", Tag.PRACTICE)


class RibRow(Part):
    """Parallel ribs, spread evenly between the outer walls."""

    pitch: Annotated[
        float, Figure("distance from rib to rib; fitted to whole bays between the outer walls", LENGTH, "50 mm", "2 m")
    ]
    thickness: Annotated[float, Figure("thickness of a rib", LENGTH, "5 mm", "500 mm")]

    def build(self) -> Ribs:
        return Ribs(self.pitch, self.thickness)


class RibsPart(Part):
    """Skins, outer walls and ribs of a hollow body."""

    top: Annotated[float, Figure("thickness of the top skin", LENGTH, "5 mm", "500 mm")]
    bottom: Annotated[float, Figure("thickness of the bottom skin", LENGTH, "5 mm", "500 mm")] | None = absent(
        "open below: it bears on ribs, walls and pads only"
    )
    outer_walls: Annotated[float, Figure("thickness of the outer walls", LENGTH, "5 mm", "500 mm")]
    along_x: RibRow | None = absent("no ribs run left to right")
    along_y: RibRow | None = absent("no ribs run front to back")
    pads: Annotated[tuple[Area, ...], Field(max_length=200)] = ()
    thinnest: Annotated[float, Figure("thinnest rib that can be cast", LENGTH, "1 mm", "200 mm")] = default(
        "30 mm", CAST
    )

    def build(self) -> RibPattern:
        return RibPattern(
            top=self.top,
            bottom=self.bottom or 0.0,
            walls=self.outer_walls,
            along_x=None if self.along_x is None else self.along_x.build(),
            along_y=None if self.along_y is None else self.along_y.build(),
            pads=tuple(pad.build() for pad in self.pads),
            thinnest=self.thinnest,
        )


class WeldedRibsPart(RibsPart):
    """Skins, outer walls and ribs of a weldment."""

    thinnest: Annotated[float, Figure("thinnest rib that can be welded in", LENGTH, "1 mm", "200 mm")] = default(
        "15 mm", WELDED
    )

"""The land rests on walls that span between columns: beams below the land, on columns with feet.

Where such walls stand on the foundation all along, ``walls`` is the kind to take.
"""

from __future__ import annotations

import math
from typing import Annotated

from pydantic import model_validator

from deflect.casefile.fields import Figure, Spread, default, refuse
from deflect.casefile.lands.kind import LandKind
from deflect.casefile.lands.walls import BED_MATERIAL, HIGH_FACTOR, LOW_FACTOR
from deflect.casefile.parts.material import MaterialStated
from deflect.casefile.parts.part import Area, Derived, Part, beneath
from deflect.model.bed_walls import SpanningWalls
from deflect.model.press import Land
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import FACTOR, LENGTH, SHARE, SPRING_STIFFNESS, show_land_stiffness

CARRIED_HEIGHT = 0.5
"""Share of its height over which a spanning wall is squeezed: below that the force has gone sideways by shear; ours."""
RANGE = Source("k = E · share / half the height, range 0.5 to 1.5 times that; ours, the spread from memory", Tag.OURS)
STIFFNESS = Source(
    "openings make walls softer, flanges and columns that hold their ends stiffer; weak: calibrate it; ours", Tag.OURS
)
RIGID_FEET = Source("the feet stand on a stiff foundation; ours", Tag.OURS)

Wall = Annotated[float, Figure("thickness of one wall", LENGTH, "10 mm", "500 mm")]


class SpanningWallsPart(Part):
    """Upright walls below the land that span between four columns."""

    columns: Area
    along_x: Wall | None = None
    along_y: Wall | None = None
    height: Annotated[float, Figure("height of the walls", LENGTH, "100 mm", "6 m")]
    share: Annotated[float, Figure("share of the land's area that stands over walls", SHARE, "1 %", "100 %")]
    foot_stiffness: (
        Annotated[float, Figure("stiffness of one column on its foot", SPRING_STIFFNESS, "10 kN/mm", "1e6 kN/mm")]
        | None
    ) = default(None, RIGID_FEET)
    stiffness: Annotated[
        Interval, Spread("of walls and feet, as a multiple of what their sizes give", FACTOR, "0.05", "10")
    ] = default({"low": 0.5, "usual": 1.0, "high": 2.0}, STIFFNESS)
    material: MaterialStated = default("steel S355", BED_MATERIAL)

    @model_validator(mode="after")
    def _has_a_wall(self) -> SpanningWallsPart:
        if self.along_x is None and self.along_y is None:
            refuse("there is no wall", "along_x, along_y or both", 'give one, as in along_x = "80 mm"')
        return self

    @property
    def compressed(self) -> Interval:
        """Stiffness of the land by the squeeze of its walls, N/mm3."""
        usual = self.material.build().youngs_modulus * self.share / (CARRIED_HEIGHT * self.height)
        return Interval(LOW_FACTOR * usual, usual, HIGH_FACTOR * usual)

    def derived(self) -> Derived:
        k = self.compressed
        shown = " / ".join(show_land_stiffness(value) for value in (k.low, k.nominal, k.high))
        elastic: Derived = {
            path: value for path, value in self.material.derived().items() if path == ("youngs_modulus",)
        }
        return {("squeeze",): (shown, RANGE), **beneath("material", elastic)}


def build(walls: SpanningWallsPart) -> Land:
    spanning = SpanningWalls(
        columns=walls.columns.build(),
        along_x=walls.along_x or 0.0,
        along_y=walls.along_y or 0.0,
        height=walls.height,
        material=walls.material.build(),
        foot_stiffness=math.inf if walls.foot_stiffness is None else walls.foot_stiffness,
        stiffness=walls.stiffness,
    )
    return Land(walls.compressed, "land on walls of the bed that span between columns", spanning)


KIND = LandKind(
    "spanning_walls",
    SpanningWallsPart,
    build,
    'spanning_walls = {columns = {x = "0 mm", y = "0 mm", length = "3000 mm", width = "1700 mm"}, '
    'along_x = "80 mm", along_y = "80 mm", height = "1200 mm", share = "35 %"}',
)

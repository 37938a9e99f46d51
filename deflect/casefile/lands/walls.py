"""The land rests on the walls of the bed: k = E · (share of the land backed by walls) / wall height."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Figure, default
from deflect.casefile.lands.kind import LandKind
from deflect.casefile.parts.material import MaterialStated
from deflect.casefile.parts.part import Derived, Part, beneath
from deflect.model.press import Land
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import LENGTH, SHARE, show_land_stiffness

LOW_FACTOR, HIGH_FACTOR = 0.5, 1.5
"""The ends of the range as multiples of k: walls are not evenly backed nor only compressed."""
RANGE = Source("k = E · share / height, range 0.5 to 1.5 times that; ours, the spread from memory", Tag.OURS)
BED_MATERIAL = Source("welded bed; common practice, no source", Tag.PRACTICE)


class Walls(Part):
    """The walls below the land."""

    share: Annotated[float, Figure("share of the land's area that stands over walls", SHARE, "1 %", "100 %")]
    height: Annotated[float, Figure("height of the walls, down to the foundation", LENGTH, "100 mm", "6 m")]
    material: MaterialStated = default("steel S355", BED_MATERIAL)

    @property
    def stiffness(self) -> Interval:
        """k and its range, N/mm3."""
        usual = self.material.build().youngs_modulus * self.share / self.height
        return Interval(LOW_FACTOR * usual, usual, HIGH_FACTOR * usual)

    def derived(self) -> Derived:
        k = self.stiffness
        shown = " / ".join(show_land_stiffness(value) for value in (k.low, k.nominal, k.high))
        elastic: Derived = {
            path: value for path, value in self.material.derived().items() if path == ("youngs_modulus",)
        }
        return {("stiffness",): (shown, RANGE), **beneath("material", elastic)}


def build(walls: Walls) -> Land:
    return Land(walls.stiffness, "stiffness of the land from the walls of the bed")


KIND = LandKind("walls", Walls, build, 'walls = {share = "25 %", height = "1200 mm"}')

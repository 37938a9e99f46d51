"""What a press file remembers of its calibration."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Day, Figure, Spread, Whole, Words, absent, default
from deflect.casefile.parts.part import Part
from deflect.model.press import Calibration
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import FACTOR, LAND_STIFFNESS, LENGTH

APART = Source("the fitted figures are taken as independent; ours", Tag.OURS)

Correlation = Annotated[float, Figure("correlation of two fitted figures, of their logarithms", FACTOR, "-1", "1")]


class CorrelationPart(Part):
    """How far the fitted figures stand in for each other."""

    land_thickness: Correlation = default(0, APART)
    land_walls: Correlation = default(0, APART)
    thickness_walls: Correlation = default(0, APART)


class CalibrationPart(Part):
    """Written by ``deflect calibrate``: values with their 95 % intervals. They go before what is described above."""

    date: Annotated[str, Day("day of the readings")] | None = absent("nobody knows how old it is")
    source: Annotated[str, Words("where the readings come from")]
    readings: Annotated[int, Whole("how many figures were fitted", 1, 10_000)]
    land_stiffness: Annotated[
        Interval, Spread("fitted stiffness of the bed below the land", LAND_STIFFNESS, "0.1 N/mm3", "10000 N/mm3")
    ]
    effective_thickness: Annotated[
        Interval, Spread("thickness at which the bolster bends as measured", LENGTH, "20 mm", "2 m")
    ]
    wall_stiffness: (
        Annotated[Interval, Spread("of spanning walls, as a multiple of what their size gives", FACTOR, "0.01", "50")]
        | None
    ) = absent("the bed has no spanning walls")
    correlation: CorrelationPart = default({}, APART)

    def build(self) -> Calibration:
        apart = self.correlation
        return Calibration(
            date=self.date or "",
            source=self.source,
            readings=self.readings,
            land_stiffness=self.land_stiffness,
            effective_thickness=self.effective_thickness,
            wall_stiffness=self.wall_stiffness,
            correlation=(apart.land_thickness, apart.land_walls, apart.thickness_walls),
        )

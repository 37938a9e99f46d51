"""What is cut, and what the match of the two halves rests on."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from deflect.casefile.fields import Choice, Figure, Spread, Whole, default
from deflect.casefile.parts.part import Part
from deflect.model.matching import Cutting, Fitted, Matching, Measuring
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import EXPANSION, LENGTH, LENGTH_PER_ERROR, SHARE, SLOPE, TEMPERATURE_DIFFERENCE, TIME

AT_ONCE = Source("all of it at one moment, as edges without steps do; ours", Tag.OURS)
SHEAR = Source("0.6 to 0.8 of the tensile strength, 0.8 usual; handbooks of cutting (published)", Tag.PUBLISHED)
DULL = Source("15 to 30 % more with dull edges; handbooks of cutting (published)", Tag.PUBLISHED)
TOLERANCE = Source("a hundredth of a mm; common practice, no source", Tag.PRACTICE)
FITTED = Source("each half machined to the drawing; ours", Tag.OURS)
STEEL = Source("steel 11.5 µm/m/K, ± 0.5; ductile iron 12.5; from memory", Tag.MEMORY)
SWING = Source("a shop that is not air-conditioned, over a long cut; common practice, no source", Tag.PRACTICE)
SHIFT = Source("one shift on the machine; common practice, no source", Tag.PRACTICE)
RESET = Source("10 000 strokes between two settings; common practice, no source", Tag.PRACTICE)
PLAY = Source("sliding fits of keys and cones; common practice, no source", Tag.PRACTICE)
BY_HAND = Source("what spotting by hand leaves; common practice, no source", Tag.PRACTICE)
BY_MACHINE = Source("a coordinate machine; ours", Tag.OURS)
TERM_A = Source("5 µm on a large gantry, 15 to 30 on a horizontal arm; from memory", Tag.MEMORY)
TERM_K = Source("L/200 to L/300 on a large gantry, L/50 to L/100 on a horizontal arm; from memory", Tag.MEMORY)
OPTICAL = Source("0.015 to 0.05 mm/m over a large field; from memory", Tag.MEMORY)


class CuttingPart(Part):
    """What is cut."""

    length: Annotated[float, Figure("length of the cut", LENGTH, "1 mm", "200 m")] | None = None
    at_once: Annotated[float, Figure("share of the cut that is cut at one moment", SHARE, "1 %", "100 %")] = default(
        "100 %", AT_ONCE
    )
    shear_share: Annotated[
        Interval, Spread("shear strength as a share of the tensile strength", SHARE, "30 %", "100 %")
    ] = default({"low": "60 %", "usual": "80 %", "high": "80 %"}, SHEAR)
    dull_edge: Annotated[Interval, Spread("what dull edges ask for more", SHARE, "0 %", "100 %")] = default(
        {"low": "15 %", "usual": "20 %", "high": "30 %"}, DULL
    )
    clearance_tolerance: Annotated[
        float, Figure("by how much the clearance a side may be off", LENGTH, "0 mm", "0.5 mm")
    ] = default("0.01 mm", TOLERANCE)

    def build(self, length: float | None) -> Cutting:
        """length: taken where the length of the cut is not stated, mm."""
        return Cutting(
            length if self.length is None else self.length,
            self.at_once,
            self.shear_share,
            self.dull_edge,
            self.clearance_tolerance,
        )


class MeasuringPart(Part):
    """How places on the halves are measured."""

    kind: Annotated[str, Choice("what measures", ("coordinate", "optical"))] = default("coordinate", BY_MACHINE)
    a: Annotated[Interval, Spread("A in A + L/K", LENGTH, "0 mm", "1 mm")] = default(
        {"low": "5 µm", "usual": "5 µm", "high": "20 µm"}, TERM_A
    )
    k: Annotated[Interval, Spread("K in A + L/K", LENGTH_PER_ERROR, "1 mm/µm", "10000 mm/µm")] = default(
        {"low": "75 mm/µm", "usual": "200 mm/µm", "high": "300 mm/µm"}, TERM_K
    )
    per_length: Annotated[Interval, Spread("optical uncertainty over length", SLOPE, "0 mm/m", "1 mm/m")] = default(
        {"low": "0.015 mm/m", "usual": "0.03 mm/m", "high": "0.05 mm/m"}, OPTICAL
    )

    def build(self) -> Measuring:
        return Measuring(self.kind == "optical", self.a, self.k, self.per_length)


class MatchingPart(Part):
    """What the match of the two halves rests on."""

    fitted: Annotated[str, Choice("how the halves were brought to match", tuple(str(one) for one in Fitted))] = default(
        "by numbers", FITTED
    )
    length: Annotated[float, Figure("length over which the halves must match", LENGTH, "10 mm", "10 m")] | None = None
    expansion: Annotated[Interval, Spread("expansion of the die", EXPANSION, "0 µm/m/K", "30 µm/m/K")] = default(
        {"low": "11 µm/m/K", "usual": "11.5 µm/m/K", "high": "12.5 µm/m/K"}, STEEL
    )
    swing: Annotated[
        Interval, Spread("how far the die's temperature runs during machining", TEMPERATURE_DIFFERENCE, "0 K", "40 K")
    ] = default({"low": "0.5 K", "usual": "1 K", "high": "3 K"}, SWING)
    machine_expansion: Annotated[Interval, Spread("expansion of the machine", EXPANSION, "0 µm/m/K", "30 µm/m/K")] = (
        default({"low": "11 µm/m/K", "usual": "11.5 µm/m/K", "high": "12 µm/m/K"}, STEEL)
    )
    machine_swing: Annotated[
        Interval, Spread("how far the machine's temperature runs meanwhile", TEMPERATURE_DIFFERENCE, "0 K", "40 K")
    ] = default({"low": "0.5 K", "usual": "1 K", "high": "2 K"}, SWING)
    machining_time: Annotated[float, Figure("time that machining takes", TIME, "1 min", "2000 h")] = default(
        "8 h", SHIFT
    )
    strokes: Annotated[int, Whole("strokes between two settings or regrinds", 1, 10_000_000)] = default(10_000, RESET)
    key_play: Annotated[Interval, Spread("play of the keys or cones that hold the die", LENGTH, "0 mm", "2 mm")] = (
        default({"low": "0.01 mm", "usual": "0.02 mm", "high": "0.04 mm"}, PLAY)
    )
    fitting: Annotated[Interval, Spread("what fitting by hand leaves", LENGTH, "0 mm", "0.1 mm")] = default(
        {"low": "2 µm", "usual": "5 µm", "high": "10 µm"}, BY_HAND
    )
    measuring: MeasuringPart = Field(default_factory=lambda: MeasuringPart.model_validate({}))

    def build(self, stated: bool, length: float) -> Matching:
        """stated: whether the file says anything of it; length: taken where none is stated, mm."""
        return Matching(
            stated=stated,
            fitted=Fitted(self.fitted),
            length=length if self.length is None else self.length,
            expansion=self.expansion,
            swing=self.swing,
            machine_expansion=self.machine_expansion,
            machine_swing=self.machine_swing,
            machining_time=self.machining_time,
            strokes=self.strokes,
            key_play=self.key_play,
            fitting=self.fitting,
            measuring=self.measuring.build(),
        )

"""The readings file: [readings] and the tables in it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from deflect.casefile.fields import LONGEST_NOTE, Choice, Day, Figure, Words, absent, default
from deflect.casefile.parts.forces import ForceStated, build_patterns
from deflect.casefile.parts.part import Coordinate, Extent, Part
from deflect.model.press import Press
from deflect.model.readings import DialReading, MeasuredAcceptance, Readings, TestForce
from deflect.sources import Source, Tag
from deflect.units import FORCE, LENGTH, SHARE, SLOPE

DIAL = Source("dials of 0.01 mm, as read in a pressroom; common practice, no source", Tag.PRACTICE)
GAUGE = Source("gauge of the press or of the jacks; common practice, no source", Tag.PRACTICE)
FLOOR = Source("dials on stands on the foundation; ours", Tag.OURS)
FIGURE = Source("as an acceptance figure is read and rounded; ours", Tag.OURS)
AS_RATED = Source("the rated force of the press; ours", Tag.OURS)
AS_ACCEPTED = Source("as the press file has it for its acceptance test, else 60 %; ours", Tag.OURS)
USUAL_SHARE = 0.6
"""Share of length and width that an acceptance test loads where the press file says nothing."""


class DialPart(Part):
    """One dial."""

    name: Annotated[str, Words("name of the dial")]
    x: Coordinate
    y: Coordinate
    reading: Annotated[float, Figure("how far the table goes down there, downward positive", LENGTH, "-20 mm", "20 mm")]

    def build(self) -> DialReading:
        return DialReading(self.name, self.x, self.y, self.reading)


class StepPart(Part):
    """One force, and what the dials read from the unloaded table."""

    force: Annotated[float, Figure("force on the table", FORCE, "1 kN", "200 MN")]
    forces: Annotated[tuple[ForceStated, ...], Field(min_length=1, max_length=50)]
    dials: Annotated[tuple[DialPart, ...], Field(min_length=1, max_length=500)]

    def build(self) -> TestForce:
        return TestForce(self.force, build_patterns(self.forces, cuts=False), tuple(d.build() for d in self.dials))


class MeasuredPart(Part):
    """A measured acceptance figure."""

    slope: Annotated[float, Figure("measured deflection per reference length", SLOPE, "0.001 mm/m", "5 mm/m")]
    uncertainty: Annotated[
        float, Figure("share of it within which 95 of 100 such figures lie", SHARE, "0.5 %", "50 %")
    ] = default("10 %", FIGURE)
    force: Annotated[float, Figure("force of the test", FORCE, "1 kN", "200 MN")] | None = default(None, AS_RATED)
    loaded_share: (
        Annotated[float, Figure("share of length and width that carries it", SHARE, "10 %", "100 %")] | None
    ) = default(None, AS_ACCEPTED)
    reference_length: Extent | None = default(None, AS_ACCEPTED)
    reference_width: Extent | None = default(None, AS_ACCEPTED)

    def build(self, press: Press) -> MeasuredAcceptance:
        allowed, plan = press.acceptance, press.bolster.plan
        share = self.loaded_share or (USUAL_SHARE if allowed is None else allowed.loaded_share)
        as_loaded = allowed is None or self.loaded_share is not None
        length = share * plan.length if as_loaded or allowed is None else allowed.reference_length
        width = share * plan.width if as_loaded or allowed is None else allowed.reference_width
        return MeasuredAcceptance(
            slope=self.slope,
            force=self.force or press.rated_force,
            loaded_share=share,
            reference_length=self.reference_length or length,
            reference_width=self.reference_width or width,
            uncertainty=self.uncertainty,
        )


class ReadingsPart(Part):
    """What was measured on the bare table of a press in one session."""

    date: Annotated[str, Day("day of the readings")] | None = absent("the calibration carries no date")
    source: Annotated[str, Words("who measured with what")]
    note: Annotated[str, Words("a remark", LONGEST_NOTE, several_lines=True)] | None = None
    uncertainty: Annotated[
        float, Figure("within which 95 of 100 readings of one dial lie", LENGTH, "0.1 µm", "1 mm")
    ] = default("0.01 mm", DIAL)
    force_uncertainty: Annotated[
        float, Figure("share of the force within which the gauge is right", SHARE, "0.1 %", "30 %")
    ] = default("3 %", GAUGE)
    dials_on: Annotated[
        str,
        Choice(
            "what the dials stand on: the floor, or a bridge that sinks and tilts with the table", ("floor", "bridge")
        ),
    ] = default("floor", FLOOR)
    table: Annotated[str, Words("CSV file with the readings, beside this file", 300)] | None = absent(
        "the readings stand in this file"
    )
    steps: Annotated[tuple[StepPart, ...], Field(min_length=1, max_length=200)] | None = None
    acceptance: MeasuredPart | None = None

    def build(self, press: Press, more: tuple[StepPart, ...] = ()) -> Readings:
        return Readings(
            date=self.date or "",
            source=self.source,
            uncertainty=self.uncertainty,
            force_uncertainty=self.force_uncertainty,
            from_floor=self.dials_on == "floor",
            tests=tuple(step.build() for step in (*(self.steps or ()), *more)),
            acceptance=None if self.acceptance is None else self.acceptance.build(press),
        )

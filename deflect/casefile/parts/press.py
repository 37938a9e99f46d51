"""The press file: [press] and the tables in it."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from deflect.casefile.fields import LONGEST_NOTE, Choice, Figure, Spread, Whole, Words, absent, default
from deflect.casefile.parts.bed import BedPart
from deflect.casefile.parts.bolster import BolsterPart
from deflect.casefile.parts.calibration import CalibrationPart
from deflect.casefile.parts.part import Derived, Extent, Part, beneath
from deflect.casefile.parts.slide import ForceAtHeightPart, SlidePart
from deflect.casefile.parts.slide_body import FOUR_GUIDES
from deflect.model.press import LEAST_CLAMPS, Acceptance, Cushion, CushionGuides, Press
from deflect.model.values import Interval, Rectangle
from deflect.sources import Source, Tag
from deflect.units import FORCE, FRICTION, LENGTH, MASS, SHARE, SLOPE, SPRING_STIFFNESS, show_length

OILED_BASE = Source("die base on bolster, oiled; common practice, no source", Tag.PRACTICE)
LEVELLED = Source("levelled table; common practice, no source", Tag.PRACTICE)
LOADED_SHARE = Source("wording differs between purchase specifications; common practice, no source", Tag.PRACTICE)
STANDS_ON_BED = Source("cushion built into the bed; common practice, no source", Tag.PRACTICE)
FOUR_CLAMPS = Source("four at least on larger dies: DGUV Information 209-008", Tag.PUBLISHED)
CLAMPED_THICKNESS = Source("flanges of 60 to 80 mm are usual, from memory; common practice, no source", Tag.PRACTICE)
LOADED_LENGTH = Source("the loaded length; common practice, no source", Tag.PRACTICE)


class AcceptancePart(Part):
    """The deflection of the table that the press is allowed."""

    slope: Annotated[float, Figure("allowed deflection per reference length", SLOPE, "0.01 mm/m", "2 mm/m")]
    loaded_share: Annotated[
        float,
        Figure("share of the bolster's length and width that carries the rated force", SHARE, "10 %", "100 %"),
    ] = default("60 %", LOADED_SHARE)
    reference_length: Extent | None = None
    reference_width: Extent | None = None

    def build(self, plan: Rectangle) -> Acceptance:
        return Acceptance(
            slope=self.slope,
            loaded_share=self.loaded_share,
            reference_length=self.reference_length or self.loaded_share * plan.length,
            reference_width=self.reference_width or self.loaded_share * plan.width,
        )

    def derived_from(self, plan: Rectangle) -> Derived:
        """The reference sizes, where they are not given."""
        return {
            ("reference_length",): (show_length(self.loaded_share * plan.length), LOADED_LENGTH),
            ("reference_width",): (show_length(self.loaded_share * plan.width), LOADED_LENGTH),
        }


class CushionGuidesPart(Part):
    """The guides of the cushion, all alike."""

    number: Annotated[int, Whole("how many guides", 1, 16)] = default(4, FOUR_GUIDES)
    stiffness: Annotated[
        float, Figure("sideways stiffness of one guide over its length", SPRING_STIFFNESS, "1 kN/mm", "100000 kN/mm")
    ]
    length: Annotated[float, Figure("guided length of the cushion", LENGTH, "50 mm", "5 m")]

    def build(self) -> CushionGuides:
        return CushionGuides(self.number, self.stiffness, self.length)


class CushionPart(Part):
    """The die cushion."""

    force: Annotated[float, Figure("greatest force of the cushion", FORCE, "1 kN", "50 MN")]
    stands_on: Annotated[str, Choice("what the cushion's reaction stands on", ("bed", "bolster"))] = default(
        "bed", STANDS_ON_BED
    )
    guides: CushionGuidesPart | None = absent("the cushion is taken as guided level")

    def build(self) -> Cushion:
        guides = None if self.guides is None else self.guides.build()
        return Cushion(self.force, hangs_on_bolster=self.stands_on == "bolster", guides=guides)


class PermittedOffset(Part):
    """How far the centre of force may lie from the centre of the table."""

    x: Annotated[float, Figure("permitted offset of the force's centre, left or right", LENGTH, "0 mm", "5 m")]
    y: Annotated[float, Figure("permitted offset of the force's centre, front or back", LENGTH, "0 mm", "5 m")]


class PressPart(Part):
    """A press, as far as a die on its table feels it."""

    name: Annotated[str, Words("name of the press")]
    note: Annotated[str, Words("a remark for the report", LONGEST_NOTE, several_lines=True)] | None = None
    rated_force: Annotated[float, Figure("rated force of the slide", FORCE, "50 kN", "200 MN")]
    friction: Annotated[Interval, Spread("friction of die base on bolster", FRICTION, "0.01", "1")] = default(
        {"low": 0.10, "usual": 0.15, "high": 0.20}, OILED_BASE
    )
    table_slope: Annotated[Interval, Spread("how far the table is out of level", SLOPE, "0 mm/m", "20 mm/m")] = default(
        {"low": "0 mm/m", "usual": "0.02 mm/m", "high": "0.1 mm/m"}, LEVELLED
    )
    permitted_offset: PermittedOffset | None = absent(
        "the place of the force's centre is not judged by the maker's figure"
    )
    shut_height: (
        Annotated[
            float,
            Figure(
                "greatest distance from bolster to slide at bottom dead centre, the adjustment up",
                LENGTH,
                "50 mm",
                "5 m",
            ),
        ]
        | None
    ) = absent("the closed height of the die is not checked")
    slide_adjustment: (
        Annotated[float, Figure("by how much the slide's adjustment makes it less", LENGTH, "0 mm", "3 m")] | None
    ) = absent("the closed height of the die is not checked")
    force_over_height: Annotated[tuple[ForceAtHeightPart, ...], Field(min_length=1, max_length=200)] | None = absent(
        "the working force is not checked at its height"
    )
    clamps_required: Annotated[
        int, Whole("clamps that the press's maker asks for, on each half of the die", LEAST_CLAMPS, 200)
    ] = default(LEAST_CLAMPS, FOUR_CLAMPS)
    clamped_thickness: Annotated[
        Interval, Spread("thickness of flange that the bolts and clamps take", LENGTH, "5 mm", "500 mm")
    ] = default({"low": "40 mm", "usual": "65 mm", "high": "90 mm"}, CLAMPED_THICKNESS)
    crane_capacity: (
        Annotated[float, Figure("mass that the crane at this press may lift", MASS, "50 kg", "1000 t")] | None
    ) = absent("nothing is said of the crane at this press")
    stroke: Annotated[float, Figure("stroke of the slide", LENGTH, "1 mm", "3 m")] | None = absent(
        "the energy that lifts the upper half is not worked out"
    )
    strokes_per_year: Annotated[int, Whole("strokes that the press makes in a year", 1, 100_000_000)] | None = absent(
        "the energy of a year is not worked out"
    )
    tryout_force: (
        Annotated[float, Figure("force at which dies are tried in this press", FORCE, "1 kN", "200 MN")] | None
    ) = absent("dies are tried at their own working force")
    bolster: BolsterPart
    slide: SlidePart | None = absent("the upper half is not checked against the slide")
    bed: BedPart
    acceptance: AcceptancePart | None = absent("the table is not judged against an allowed deflection")
    cushion: CushionPart | None = absent("the press has no cushion")
    calibration: CalibrationPart | None = absent("nothing was measured on this press")

    def build(self) -> Press:
        opening, offset = self.bed.opening.build(), self.permitted_offset
        press = Press(
            name=self.name,
            rated_force=self.rated_force,
            bolster=self.bolster.build(opening),
            bed=self.bed.build(self.bolster.plan, self.bolster.cuts),
            acceptance=None if self.acceptance is None else self.acceptance.build(self.bolster.plan),
            cushion=None if self.cushion is None else self.cushion.build(),
            friction=self.friction,
            table_slope=self.table_slope,
            permitted_offset=None if offset is None else (offset.x, offset.y),
            note=self.note or "",
            shut_height=self.shut_height,
            slide_adjustment=self.slide_adjustment,
            slide=None if self.slide is None else self.slide.build(),
            force_over_height=tuple(point.build() for point in self.force_over_height or ()),
            clamps_required=self.clamps_required,
            clamped_thickness=self.clamped_thickness,
            crane_capacity=self.crane_capacity,
            stroke=self.stroke,
            strokes_per_year=self.strokes_per_year,
            tryout_force=self.tryout_force,
        )
        return press if self.calibration is None else press.calibrated(self.calibration.build())

    def derived(self) -> Derived:
        plan = self.bolster.plan
        derived = beneath("bolster", self.bolster.derived_from(self.bed.opening.build()))
        derived |= beneath("bed", self.bed.derived_from(plan, self.bolster.cuts))
        if self.acceptance is not None:
            derived |= beneath("acceptance", self.acceptance.derived_from(plan))
        return derived

"""The die base, and on which areas of its underside it bears."""

from __future__ import annotations

from typing import Annotated

from pydantic import Discriminator, Field, Tag

from deflect.casefile.fields import Choice, Figure, absent, default
from deflect.casefile.parts.material import MaterialStated
from deflect.casefile.parts.part import Area, Derived, Part, TopWarmer, beneath, shape_tag
from deflect.casefile.parts.ribs import RibsPart
from deflect.model.die import DieBase, Step
from deflect.model.values import Rectangle
from deflect.sources import Source
from deflect.sources import Tag as Trust
from deflect.units import LENGTH

FULL_BEARING = Source("the whole underside bears; ours", Trust.OURS)
AREA_KINDS = ("pads", "strips", "risers")


class BearingPart(Part):
    """The underside bears on a frame along its edges, or on listed areas."""

    kind: Annotated[str, Choice("how the underside bears", ("frame", *AREA_KINDS))]
    width: Annotated[float, Figure("width of the frame", LENGTH, "5 mm", "2 m")] | None = None
    areas: Annotated[tuple[Area, ...], Field(min_length=1, max_length=200)] | None = None

    def build(self, plan: Rectangle) -> tuple[Rectangle, ...]:
        if self.kind == "frame":
            return frame(plan, self.width or 0.0)
        return tuple(area.build() for area in self.areas or ())


BearingStated = Annotated[
    Annotated[str, Choice("how the underside bears", ("full",)), Tag("=word")] | Annotated[BearingPart, Tag("=table")],
    Discriminator(shape_tag({dict: "=table", BearingPart: "=table", object: "=word"})),
]


class StepPart(Area):
    """An area of a solid base that is thicker or thinner than the rest; the underside is level."""

    thickness: Annotated[float, Figure("thickness of the base there", LENGTH, "15 mm", "1.5 m")]

    def step(self) -> Step:
        return Step(self.build(), self.thickness)


class BasePart(Part):
    """The lower shoe or casting that stands on the bolster."""

    length: Annotated[float, Figure("length along the die's x", LENGTH, "100 mm", "10 m")]
    width: Annotated[float, Figure("width along the die's y", LENGTH, "100 mm", "6 m")]
    thickness: Annotated[float, Figure("thickness of the base, with ribs its total height", LENGTH, "15 mm", "1.5 m")]
    material: MaterialStated
    bearing: Annotated[BearingStated, Field(description="where the underside bears")] = default("full", FULL_BEARING)
    ribs: RibsPart | None = absent("the base is a solid block")
    steps: Annotated[tuple[StepPart, ...], Field(max_length=200)] = ()
    top_warmer: TopWarmer | None = absent("the base has one temperature: it does not bow by warmth")

    @property
    def plan(self) -> Rectangle:
        return Rectangle(0.0, 0.0, self.length, self.width)

    @property
    def bearing_areas(self) -> tuple[Rectangle, ...]:
        """The areas that bear; empty: all."""
        return self.bearing.build(self.plan) if isinstance(self.bearing, BearingPart) else ()

    def build(self) -> DieBase:
        return DieBase(
            length=self.length,
            width=self.width,
            thickness=self.thickness,
            material=self.material.build(),
            bearing=self.bearing_areas,
            ribs=None if self.ribs is None else self.ribs.build(),
            steps=tuple(step.step() for step in self.steps),
        )

    def derived(self) -> Derived:
        return beneath("material", self.material.derived())


def frame(plan: Rectangle, width: float) -> tuple[Rectangle, ...]:
    """Four strips along the edges of a plan that meet without overlap."""
    inner = plan.width - 2 * width
    return (
        Rectangle(plan.x, plan.front + width / 2, plan.length, width),
        Rectangle(plan.x, plan.back - width / 2, plan.length, width),
        Rectangle(plan.left + width / 2, plan.y, width, inner),
        Rectangle(plan.right - width / 2, plan.y, width, inner),
    )

"""What of the slide bends, where it hangs, and what keeps it upright."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from deflect.casefile.fields import Figure, Spread, Whole, absent, default
from deflect.casefile.parts.material import MaterialStated
from deflect.casefile.parts.part import Coordinate, Derived, Part, beneath
from deflect.casefile.parts.ribs import WeldedRibsPart
from deflect.model.ribs import volume_and_middle
from deflect.model.slide import SlideBody, SlideGuides
from deflect.model.values import Interval, Rectangle
from deflect.sources import Source, Tag
from deflect.units import LENGTH, MASS, SPRING_STIFFNESS

POINT_STIFFNESS = Source(
    "screw, rod and crown together; weak: measure it by the slide's rise under force; from memory", Tag.MEMORY
)
SEAT = Source("the seat of the screw in the slide; from memory", Tag.MEMORY)
FOUR_GUIDES = Source("one at each corner; common practice, no source", Tag.PRACTICE)
SET_GUIDES = Source("set without clearance, warm; common practice, no source", Tag.PRACTICE)

MOST_POINTS = 4


class GuidesPart(Part):
    """The guides of the slide, all alike."""

    number: Annotated[int, Whole("how many guides", 1, 16)] = default(4, FOUR_GUIDES)
    stiffness: Annotated[
        float, Figure("sideways stiffness of one guide over its length", SPRING_STIFFNESS, "1 kN/mm", "100000 kN/mm")
    ]
    length: Annotated[float, Figure("guided length of the slide", LENGTH, "50 mm", "5 m")]
    above: Annotated[float, Figure("height of its middle over the slide's face", LENGTH, "0 mm", "5 m")]
    clearance: Annotated[float, Figure("clearance of a guide on each side", LENGTH, "0 mm", "2 mm")] = default(
        "0 mm", SET_GUIDES
    )

    def build(self) -> SlideGuides:
        return SlideGuides(self.number, self.stiffness, self.length, self.above, self.clearance)


class SlideBodyPart(Part):
    """The slide as a body: a solid plate, or skins and ribs, hung from points."""

    thickness: Annotated[float, Figure("height of the slide as a body", LENGTH, "30 mm", "3 m")]
    material: MaterialStated
    mass: Annotated[float, Figure("mass; that of its section if left out", MASS, "20 kg", "300 t")] | None = None
    ribs: WeldedRibsPart | None = absent("the slide is a solid plate")
    points: Annotated[
        tuple[tuple[Coordinate, Coordinate], ...],
        Field(min_length=1, max_length=MOST_POINTS, description="where the slide hangs, each as [x, y]"),
    ]
    stiffness: Annotated[
        Interval, Spread("stiffness of one hanging point", SPRING_STIFFNESS, "10 kN/mm", "1000000 kN/mm")
    ] = default({"low": "2000 kN/mm", "usual": "4000 kN/mm", "high": "8000 kN/mm"}, POINT_STIFFNESS)
    seat: Annotated[float, Figure("side of the seat of one point", LENGTH, "20 mm", "2 m")] = default("300 mm", SEAT)
    guides: GuidesPart | None = absent("nothing but its points keeps the slide upright")

    def section_mass(self, plan: Rectangle) -> float:
        """kg, from its section."""
        solid = plan.area * self.thickness
        ribs = None if self.ribs is None else self.ribs.build()
        volume = solid if ribs is None else volume_and_middle(ribs.slices(plan, self.thickness))[0]
        return volume * self.material.build().density

    def build(self, plan: Rectangle) -> SlideBody:
        return SlideBody(
            thickness=self.thickness,
            material=self.material.build(),
            mass=self.section_mass(plan) if self.mass is None else self.mass,
            points=self.points,
            stiffness=self.stiffness,
            seat=self.seat,
            guides=None if self.guides is None else self.guides.build(),
            ribs=None if self.ribs is None else self.ribs.build(),
        )

    def derived(self) -> Derived:
        return beneath("material", self.material.derived())

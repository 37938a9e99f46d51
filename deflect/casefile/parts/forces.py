"""Where the table force acts on the die: patches, rings and lines."""

from __future__ import annotations

import math
from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag, model_validator

from deflect.casefile.fields import Figure, Flag, Words, absent, refuse
from deflect.casefile.parts.part import Area, Coordinate, Extent, Part
from deflect.model.force import Line, Patch, Pattern, Ring
from deflect.model.values import Rectangle
from deflect.units import SHARE

Share = Annotated[float, Figure("share of the table force", SHARE, "0.01 %", "100 %")]
OnReturn = Annotated[float, Figure("share of it that still acts as the slide begins to rise", SHARE, "0 %", "100 %")]
Name = Annotated[str, Words("what presses here")]

SHARE_SLACK = 0.0015
"""How far the written shares may miss 1 by rounding, as 0.333 three times does."""
SHORTEST_LINE = 1.0
"""mm. A line must have a length to spread its force on."""


Bottoms = Annotated[bool, Flag("whether the faces close solid on the sheet there")]
BOTTOMS = "faces close solid on the sheet where the die does not cut; lines never do"

ON_RETURN = "all of it, but nothing along a line where the die cuts: the cut is through"


def _left(stated: float | None, gone: bool) -> float:
    """Share of a pattern's force that is left on the return."""
    if stated is not None:
        return stated
    return 0.0 if gone else 1.0


def _bottoms(stated: bool | None, cuts: bool) -> bool:
    """Whether the faces close solid where a pattern presses."""
    return not cuts if stated is None else stated


class PatchPart(Area):
    """Even pressure on a rectangle."""

    kind: Literal["patch"]
    share: Share | None = None
    on_return: OnReturn | None = absent(ON_RETURN)
    bottoms: Bottoms | None = absent(BOTTOMS)
    name: Name | None = None

    def pattern(self, share: float, cuts: bool) -> Pattern:
        left, bottoms = _left(self.on_return, gone=False), _bottoms(self.bottoms, cuts)
        return Patch(share, self.build(), self.name or "", left, bottoms)

    def spots(self) -> tuple[tuple[float, float], ...]:
        """The outermost points of the pattern, mm."""
        return corners(self.build())


class RingPart(Part):
    """Even pressure between two rectangles about one centre."""

    kind: Literal["ring"]
    x: Coordinate
    y: Coordinate
    outer_length: Extent
    outer_width: Extent
    inner_length: Extent
    inner_width: Extent
    share: Share | None = None
    on_return: OnReturn | None = absent(ON_RETURN)
    bottoms: Bottoms | None = absent(BOTTOMS)
    name: Name | None = None

    @property
    def outer(self) -> Rectangle:
        return Rectangle(self.x, self.y, self.outer_length, self.outer_width)

    @model_validator(mode="after")
    def _inner_lies_inside(self) -> RingPart:
        if self.inner_length >= self.outer_length or self.inner_width >= self.outer_width:
            refuse(
                "the inner rectangle of the ring does not lie inside the outer one",
                "inner length and width smaller than the outer ones",
                'swap them, or write kind = "patch" for a full rectangle',
            )
        return self

    def pattern(self, share: float, cuts: bool) -> Pattern:
        inner = Rectangle(self.x, self.y, self.inner_length, self.inner_width)
        left, bottoms = _left(self.on_return, gone=False), _bottoms(self.bottoms, cuts)
        return Ring(share, self.outer, inner, self.name or "", left, bottoms)

    def spots(self) -> tuple[tuple[float, float], ...]:
        """The outermost points of the pattern, mm."""
        return corners(self.outer)


class LinePart(Part):
    """Even force per length along a line through points: a trim line, a flange."""

    kind: Literal["line"]
    points: Annotated[tuple[tuple[Coordinate, Coordinate], ...], Field(min_length=2, max_length=2000)]
    closed: Annotated[bool, Flag("whether the line returns to its first point")] = False
    share: Share | None = None
    on_return: OnReturn | None = absent(ON_RETURN)
    name: Name | None = None

    @model_validator(mode="after")
    def _has_a_length(self) -> LinePart:
        if sum(math.dist(a, b) for a, b in zip(self.points, self.points[1:], strict=False)) < SHORTEST_LINE:
            refuse("the points of the line lie on one spot", "a line of 1 mm or more", "check its points")
        return self

    @property
    def _course(self) -> tuple[tuple[float, float], ...]:
        back = self.points[:1] if self.closed and self.points[0] != self.points[-1] else ()
        return self.points + back

    @property
    def length(self) -> float:
        """Length of the line, mm."""
        return sum(math.dist(a, b) for a, b in zip(self._course, self._course[1:], strict=False))

    def pattern(self, share: float, cuts: bool) -> Pattern:
        return Line(share, self._course, self.name or "", _left(self.on_return, gone=cuts))

    def spots(self) -> tuple[tuple[float, float], ...]:
        """The points of the line, mm."""
        return self.points


FORMS = {"patch": PatchPart, "ring": RingPart, "line": LinePart}


def _form(value: Any) -> str | None:
    kind = value.get("kind") if isinstance(value, dict) else getattr(value, "kind", None)
    return f"={kind}" if isinstance(kind, str) and kind in FORMS else None


ForceStated = Annotated[
    Annotated[PatchPart, Tag("=patch")] | Annotated[RingPart, Tag("=ring")] | Annotated[LinePart, Tag("=line")],
    Discriminator(_form),
]
"""One pattern of force."""


def corners(area: Rectangle) -> tuple[tuple[float, float], ...]:
    """The four corners of a rectangle, mm."""
    return tuple((x, y) for x in (area.left, area.right) for y in (area.front, area.back))


def build_patterns(forces: tuple[PatchPart | RingPart | LinePart, ...], cuts: bool) -> tuple[Pattern, ...]:
    """The patterns with shares that add up to 1 exactly; ``cuts``: the lines are cutting lines."""
    shares = [1.0 if force.share is None else force.share for force in forces]
    return tuple(force.pattern(share / sum(shares), cuts) for force, share in zip(forces, shares, strict=True))

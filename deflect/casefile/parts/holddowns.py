"""How the bolster is held down on the bed: listed, spread evenly, none, or unknown."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Annotated

from pydantic import Discriminator, Tag

from deflect.casefile.fields import Choice, Figure, Whole
from deflect.casefile.parts.part import Coordinate, Part, shape_tag
from deflect.model.press import HoldDown
from deflect.model.values import Rectangle
from deflect.sources import Source
from deflect.sources import Tag as Trust
from deflect.units import FORCE, SPRING_STIFFNESS, show_force, show_spring_stiffness

ASSUMED_PRELOAD = 200e3
"""N: a bolt of the M36 class, tightened by hand."""
ASSUMED_STIFFNESS = 1.5e6
"""N/mm: a bolt of the M36 class with about 100 mm of free length."""
ASSUMED_PITCH = 1000.0
"""mm between bolts along the long edges."""
ASSUMED = Source("the many end of the range; the other end is none; M36-class bolts, from memory", Trust.MEMORY)

Preload = Annotated[float, Figure("preload of one hold-down", FORCE, "0 N", "5 MN")]
Stiffness = Annotated[float, Figure("stiffness of one hold-down", SPRING_STIFFNESS, "1 kN/mm", "100000 kN/mm")]


class OneHoldDown(Part):
    """One place where the bolster is held down."""

    x: Coordinate
    y: Coordinate
    preload: Preload
    stiffness: Stiffness

    def build(self) -> HoldDown:
        return HoldDown(self.x, self.y, self.preload, self.stiffness)


class SpreadHoldDowns(Part):
    """A number of equal hold-downs, spread evenly along the middle of the land."""

    number: Annotated[int, Whole("how many, all round", 2, 200)]
    preload: Preload
    stiffness: Stiffness

    def build(self, plan: Rectangle, opening: Rectangle) -> tuple[HoldDown, ...]:
        places = _spread_places(plan, opening, self.number)
        return tuple(HoldDown(x, y, self.preload, self.stiffness) for x, y in places)


HoldDownsStated = Annotated[
    Annotated[tuple[OneHoldDown, ...], Tag("=list")]
    | Annotated[SpreadHoldDowns, Tag("=spread")]
    | Annotated[str, Choice("hold-downs of the bolster", ("unknown", "none")), Tag("=word")],
    Discriminator(
        shape_tag({list: "=list", tuple: "=list", dict: "=spread", SpreadHoldDowns: "=spread", object: "=word"})
    ),
]
"""A list of places, a number spread evenly, "none", or "unknown"."""


def assumed(plan: Rectangle, opening: Rectangle, cuts: tuple[Rectangle, ...]) -> tuple[HoldDown, ...]:
    """Bolts along the long edges of the land but for its cut-outs, for a press whose hold-downs nobody knows."""
    places = _edge_places(plan, opening, pitch=ASSUMED_PITCH)
    return tuple(HoldDown(x, y, ASSUMED_PRELOAD, ASSUMED_STIFFNESS) for x, y in places if not in_cut_out(x, y, cuts))


def in_cut_out(x: float, y: float, cuts: Iterable[Rectangle]) -> bool:
    """Whether a place lies in one of the cut-outs."""
    return any(cut.contains(Rectangle(x, y, 0, 0), 0.0) for cut in cuts)


def assumed_shown(plan: Rectangle, opening: Rectangle, cuts: tuple[Rectangle, ...]) -> str:
    """The assumed set in words."""
    number = len(assumed(plan, opening, cuts))
    each = f"{show_force(ASSUMED_PRELOAD)}, {show_spring_stiffness(ASSUMED_STIFFNESS)}"
    return f"none to {number} bolts along the long edges, each {each}"


def _mid_land(plan: Rectangle, opening: Rectangle) -> Rectangle:
    """The rectangle that runs along the middle of the land."""
    left, right = (plan.left + opening.left) / 2, (plan.right + opening.right) / 2
    front, back = (plan.front + opening.front) / 2, (plan.back + opening.back) / 2
    return Rectangle((left + right) / 2, (front + back) / 2, right - left, back - front)


def _sides(plan: Rectangle, opening: Rectangle) -> tuple[bool, bool]:
    """Whether land lies on both the front and back, and on both the left and right."""
    front_back = opening.front > plan.front and opening.back < plan.back
    left_right = opening.left > plan.left and opening.right < plan.right
    return front_back, left_right


def _edge_places(plan: Rectangle, opening: Rectangle, pitch: float) -> list[tuple[float, float]]:
    """Evenly spaced places along the two long edges, or along the two that have land."""
    front_back, left_right = _sides(plan, opening)
    along_x = front_back and (plan.length >= plan.width or not left_right)
    edge = plan.length if along_x else plan.width
    return _two_lines(plan, _mid_land(plan, opening), max(2, round(edge / pitch)), along_x=along_x)


def _two_lines(plan: Rectangle, middle: Rectangle, each: int, *, along_x: bool) -> list[tuple[float, float]]:
    shares = [(i + 0.5) / each - 0.5 for i in range(each)]
    if along_x:
        return [(plan.x + share * plan.length, y) for y in (middle.front, middle.back) for share in shares]
    return [(x, plan.y + share * plan.width) for x in (middle.left, middle.right) for share in shares]


def _spread_places(plan: Rectangle, opening: Rectangle, number: int) -> list[tuple[float, float]]:
    """Places all round the land; where two sides have no land, on the two others."""
    front_back, left_right = _sides(plan, opening)
    middle = _mid_land(plan, opening)
    if front_back and left_right:
        return [_along(middle, (i + 0.5) / number) for i in range(number)]
    first = _two_lines(plan, middle, (number + 1) // 2, along_x=front_back)
    second = _two_lines(plan, middle, number // 2, along_x=front_back)
    return first[: (number + 1) // 2] + second[number // 2 :]


def _along(frame: Rectangle, share: float) -> tuple[float, float]:
    """The place at a share of the way round a rectangle, from the middle of its front, to the right."""
    return next(_walk(frame, share * 2 * (frame.length + frame.width)))


def _walk(frame: Rectangle, way: float) -> Iterator[tuple[float, float]]:
    half = frame.length / 2
    corners = ((frame.x, frame.front), (frame.right, frame.front), (frame.right, frame.back),
               (frame.left, frame.back), (frame.left, frame.front), (frame.x, frame.front))  # fmt: skip
    steps = (half, frame.width, frame.length, frame.width, half)
    for (x0, y0), (x1, y1), step in zip(corners, corners[1:], steps, strict=False):
        if way <= step:
            share = way / step if step else 0.0
            yield x0 + share * (x1 - x0), y0 + share * (y1 - y0)
        way -= step
    yield frame.x, frame.front

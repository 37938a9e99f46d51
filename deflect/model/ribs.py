"""Ribs of a casting or a weldment on a plan grid."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from deflect.model.values import Rectangle

# The thinnest rib that a foam pattern for casting bears, mm: 30 to 40 mm on large dies (common practice, no source).
THINNEST_CAST = 30.0
# The thinnest plate that a bolster is welded from, mm (common practice, no source).
THINNEST_WELDED = 15.0


@dataclass(frozen=True)
class Ribs:
    """Parallel ribs: distance from middle to middle and thickness, mm.

    They stand evenly between the outer walls, so that the distance is that of the nearest whole number of bays.
    """

    pitch: float
    thickness: float

    def bays(self, across: float, wall: float) -> int:
        """Bays between the outer walls of a plan that is ``across`` mm wide across the ribs."""
        return max(1, round((across - wall) / self.pitch))

    def bay(self, across: float, wall: float) -> float:
        """Distance from middle to middle as the ribs stand, mm."""
        return (across - wall) / self.bays(across, wall)

    def places(self, across: float, wall: float) -> tuple[float, ...]:
        """Middles of the ribs between the outer walls, from the plan's middle, mm."""
        bays, bay = self.bays(across, wall), self.bay(across, wall)
        return tuple((k - bays / 2) * bay for k in range(1, bays))


@dataclass(frozen=True)
class RibPattern:
    """A hollow body with ribs: top skin, bottom skin (0: open below), outer walls, all mm thick.

    along_x, along_y: the ribs that run left to right, and front to back; None: there are none.
    pads: areas (axes of the body) where it is solid from top to underside.
    thinnest: the thinnest rib, wall or skin that can be made, mm.
    """

    top: float
    bottom: float
    walls: float
    along_x: Ribs | None
    along_y: Ribs | None
    pads: tuple[Rectangle, ...] = ()
    thinnest: float = THINNEST_CAST

    @property
    def is_open(self) -> bool:
        """Whether the underside is open, so that only ribs, walls and pads bear."""
        return self.bottom == 0.0

    @property
    def parts(self) -> dict[str, float]:
        """Thickness of each kind of part that is there, mm."""
        parts = {"top skin": self.top, "outer walls": self.walls}
        if not self.is_open:
            parts["bottom skin"] = self.bottom
        for way, ribs in (("x", self.along_x), ("y", self.along_y)):
            if ribs is not None:
                parts[f"ribs along {way}"] = ribs.thickness
        return parts

    def rib_strips(self, plan: Rectangle, way: str) -> tuple[tuple[float, float], ...]:
        """Middle (across the way, from the plan's middle) and thickness of every rib and wall that runs that way."""
        ribs, across = (self.along_x, plan.width) if way == "x" else (self.along_y, plan.length)
        edge = (across - self.walls) / 2
        inner = () if ribs is None else tuple((at, ribs.thickness) for at in ribs.places(across, self.walls))
        return ((-edge, self.walls), *inner, (edge, self.walls))

    def core_area(self, plan: Rectangle) -> float:
        """Area of the plan that ribs, walls and pads take up together, mm2."""
        across_x = sum(thick for _, thick in self.rib_strips(plan, "y"))
        across_y = sum(thick for _, thick in self.rib_strips(plan, "x"))
        hollow = (plan.length - across_x) * (plan.width - across_y)
        return plan.area - hollow + sum(self.filled_by(plan, pad) for pad in self.pads)

    def filled_by(self, plan: Rectangle, area: Rectangle) -> float:
        """What a pad adds to ribs and walls: its area over neither of them, mm2."""
        return (area.length - self._covered(plan, "y", area.left, area.right)) * (
            area.width - self._covered(plan, "x", area.front, area.back)
        )

    def _covered(self, plan: Rectangle, way: str, low: float, high: float) -> float:
        middle = plan.x if way == "y" else plan.y
        strips = ((middle + at - t / 2, middle + at + t / 2) for at, t in self.rib_strips(plan, way))
        return sum(max(min(high, b) - max(low, a), 0.0) for a, b in strips)

    def slices(self, plan: Rectangle, thickness: float) -> tuple[tuple[float, float], ...]:
        """Height (mm) and volume (mm3) of bottom skin, core and top skin, from the underside up."""
        core = thickness - self.top - self.bottom
        areas = (plan.area, self.core_area(plan), plan.area)
        heights = (self.bottom, core, self.top)
        return tuple((height, area * height) for height, area in zip(heights, areas, strict=True))


def volume_and_middle(slices: tuple[tuple[float, float], ...]) -> tuple[float, float]:
    """Volume (mm3) of slices stacked from the underside up, and the height of its centre of mass (mm)."""
    edges = [0.0]
    for height, _ in slices:
        edges.append(edges[-1] + height)
    volume = sum(part for _, part in slices)
    moment = sum(part * (a + b) / 2 for (_, part), (a, b) in zip(slices, pairwise(edges), strict=True))
    return volume, moment / volume

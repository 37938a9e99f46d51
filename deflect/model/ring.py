"""What carries a blank holder, and what is asked of the pressure around it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deflect.model.ribs import THINNEST_CAST
from deflect.model.values import Interval

# Less width or height than this between walls, ribs or below a skin is no hollow but a slip, mm (ours).
LEAST_HOLLOW = 20.0


@dataclass(frozen=True)
class RingRibs:
    """What of a hollow ring is metal, mm: the skin under the sheet, a wall along either edge, and ribs across from wall
    to wall, their distance and thickness; open below.  thinnest: the thinnest part that can be made."""

    skin: float
    walls: float
    pitch: float
    thickness: float
    thinnest: float = THINNEST_CAST

    @property
    def parts(self) -> dict[str, float]:
        """Thickness of each kind of part, mm."""
        return {"skin": self.skin, "walls": self.walls, "ribs": self.thickness}

    def fits(self, ring: float, height: float) -> bool:
        """Whether it leaves a hollow in a ring so wide and high, mm, and every part can be made."""
        hollow = min(ring - 2 * self.walls, height - self.skin, self.pitch - self.thickness)
        return hollow >= LEAST_HOLLOW and min(self.parts.values()) >= self.thinnest

    def inertia(self, ring: float, height: float) -> float:
        """Second moment of area of one side of a ring so wide and high, about its level axis, mm4: skin and walls."""
        below = height - self.skin
        parts = ((ring, self.skin, height - self.skin / 2), (2 * self.walls, below, below / 2))
        area = sum(width * deep for width, deep, _ in parts)
        centre = sum(width * deep * at for width, deep, at in parts) / area
        return sum(width * deep * (deep**2 / 12 + (at - centre) ** 2) for width, deep, at in parts)


@dataclass(frozen=True)
class GasSpring:
    """A gas spring below the blank holder: place in die axes, mm, and its force at the working stroke, N."""

    x: float
    y: float
    force: float


@dataclass(frozen=True)
class GasSprings:
    """The gas springs below a blank holder.

    coupled: all on one line, so that they share one pressure and, of one size, one force.  most: the force that one
    may be set to, N.
    """

    springs: tuple[GasSpring, ...]
    coupled: bool
    most: float

    @property
    def places(self) -> tuple[tuple[float, float], ...]:
        """Of each, in die axes, mm."""
        return tuple((spring.x, spring.y) for spring in self.springs)

    @property
    def total(self) -> float:
        """Force of all of them, N."""
        return sum(spring.force for spring in self.springs)

    def with_forces(self, forces: tuple[float, ...]) -> GasSprings:
        """The same springs set to other forces, N."""
        pairs = zip(self.springs, forces, strict=True)
        return replace(self, springs=tuple(replace(spring, force=force) for spring, force in pairs))


@dataclass(frozen=True)
class Wanted:
    """Ring pressure asked for on each side, as shares of its mean: all 1 for an even ring."""

    left: float = 1.0
    right: float = 1.0
    front: float = 1.0
    back: float = 1.0

    @property
    def even(self) -> bool:
        return self.left == self.right == self.front == self.back


# Friction of an oiled sheet below its blank holder (from memory).
USUAL_FRICTION = Interval(0.05, 0.1, 0.15)


@dataclass(frozen=True)
class Carried:
    """How a blank holder is carried: on cushion pins, or on gas springs.

    heights: of the pins over their nominal height, mm, in their order; empty: all alike.  scatter: by how much each
    may be off besides, mm.  stiffness: of one pin, N/mm.  uneven: by how much of what is wanted the pressure may
    differ.  friction: of the sheet that is drawn in below the ring.
    """

    stiffness: float
    heights: tuple[float, ...] = ()
    scatter: float = 0.0
    springs: GasSprings | None = None
    wanted: Wanted = Wanted()
    uneven: float = 0.3
    least_force: float | None = None
    friction: Interval = USUAL_FRICTION

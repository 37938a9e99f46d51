"""What carries a blank holder, and what is asked of the pressure around it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from deflect.model.values import Interval


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

"""The slide as a body that bends, hangs from its points and runs in guides."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.material import Material
from deflect.model.ribs import RibPattern
from deflect.model.values import Interval


@dataclass(frozen=True)
class SlideGuides:
    """The guides that keep the slide upright, all alike.

    number: of them; stiffness: sideways, of one guide over its whole length, N/mm; length: guided length of the
    slide, mm; above: height of its middle over the slide's face, mm; clearance: on each side, before it bears, mm.
    """

    number: int
    stiffness: float
    length: float
    above: float
    clearance: float = 0.0

    @property
    def free_tilt(self) -> float:
        """Tilt before the guides bear, rad: derived, both ends move by the clearance."""
        return 2 * self.clearance / self.length

    @property
    def tilt_stiffness(self) -> float:
        """Moment per tilt, N mm/rad: derived, each end of a guide has half its stiffness and half its length as
        lever."""
        return self.number * self.stiffness * self.length**2 / 4


@dataclass(frozen=True)
class SlideBody:
    """What of the slide bends: its height (thickness) in mm, mass in kg, ribs (None: a solid plate).

    points: where it hangs (bolster axes, mm); stiffness: of each point, its screw, rod and crown together, N/mm;
    seat: side of the square by which a point bears on the slide, mm; guides None: nothing but the points holds it
    upright.
    """

    thickness: float
    material: Material
    mass: float
    points: tuple[tuple[float, float], ...]
    stiffness: Interval
    seat: float
    guides: SlideGuides | None = None
    ribs: RibPattern | None = None

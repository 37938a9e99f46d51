"""A die, and how it is set on the table."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from deflect.model.force import Pattern
from deflect.model.material import Material
from deflect.model.press import Press
from deflect.model.values import Interval, Rectangle, StatedInput


class Operation(StrEnum):
    DRAW = "draw"
    TRIM = "trim"
    PIERCE = "pierce"
    FORM = "form"
    RESTRIKE = "restrike"

    @property
    def cuts(self) -> bool:
        return self in (Operation.TRIM, Operation.PIERCE)


@dataclass(frozen=True)
class DieBase:
    """The lower shoe or casting that stands on the bolster: a solid block, mm.

    bearing: the rectangles (die axes) on which the underside bears; empty: it bears everywhere.
    """

    length: float
    width: float
    thickness: float
    material: Material
    bearing: tuple[Rectangle, ...] = ()

    @property
    def plan(self) -> Rectangle:
        return Rectangle(0.0, 0.0, self.length, self.width)


@dataclass(frozen=True)
class Half:
    """One half of the die: height in mm, mass in kg, and whether the mass was given or estimated."""

    height: float
    mass: float
    mass_is_estimated: bool


@dataclass(frozen=True)
class Clamp:
    """A clamp on the base's flange (die axes): point in mm, force on the die in N."""

    x: float
    y: float
    force: float


@dataclass(frozen=True)
class Sheet:
    """The panel: thickness in mm, tensile strength in MPa, cutting clearance per side as a share of thickness."""

    thickness: float
    tensile_strength: float
    clearance_share: float

    @property
    def clearance(self) -> float:
        """Cutting clearance per side, mm."""
        return self.thickness * self.clearance_share


@dataclass(frozen=True)
class Bedded:
    """The die was bedded in on ``press`` at ``force`` (N, slide)."""

    press: Press
    force: float


@dataclass(frozen=True)
class Shim:
    """A captive shim under the base (die axes): where, and how thick in mm."""

    area: Rectangle
    thickness: float


@dataclass(frozen=True)
class Placing:
    """How the die is set on the table: centre in bolster axes (mm), turned by rotation (rad),
    its clamps, its shims, and whether keys or locating cones hold it against shifting.

    dirt: chips, burrs and scale found below the base, as areas with their height.
    """

    x: float = 0.0
    y: float = 0.0
    rotation: float = 0.0
    clamps: tuple[Clamp, ...] = ()
    shims: tuple[Shim, ...] = ()
    keyed: bool = False
    may_move: tuple[float, float] = (0.0, 0.0)
    may_turn: bool = False
    coned: bool = False
    dirt: tuple[Shim, ...] = ()

    @property
    def held(self) -> bool:
        """Whether keys or cones hold the die against creep."""
        return self.keyed or self.coned


@dataclass(frozen=True)
class Limits:
    """What the die must keep. All mm.

    spotting: change of the face from the bedded state.  bedding: face error that may be
    bedded or milled away on a die not yet bedded.  matching: sideways match of cutting edges.
    """

    spotting: float
    bedding: float
    matching: float


@dataclass(frozen=True)
class Die:
    """A die. Forces in N; side_thrust: steady horizontal force as a share of the table force,
    acting along thrust_direction (rad from +x; None: unknown, the worse of x and y is taken)."""

    name: str
    operation: Operation
    base: DieBase
    lower: Half
    upper: Half
    working_force: float
    cushion_force: float
    patterns: tuple[Pattern, ...]
    placing: Placing
    limits: Limits
    side_thrust: Interval
    thrust_direction: float | None = None
    sheet: Sheet | None = None
    bedded: Bedded | None = None
    inputs: tuple[StatedInput, ...] = field(default=(), compare=False)
    note: str = field(default="", compare=False)

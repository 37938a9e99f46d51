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

    @property
    def solid_mass(self) -> float:
        """kg, of the solid block."""
        return self.plan.area * self.thickness * self.material.density


# Decimals of a mm that are kept of a sum of heights: a nanometre, so that round-off breaks no limit (ours).
HEIGHT_DIGITS = 6


@dataclass(frozen=True)
class Flange:
    """The flange that a half is clamped by: its thickness in mm, the width in mm of the slots for the bolts,
    and the middle of the bolt's seat in each of them (die axes, mm, seen from above). None: not stated."""

    thickness: float | None = None
    slot_width: float | None = None
    slots: tuple[tuple[float, float], ...] = ()


# What an estimated mass may come to, as shares of the estimate: 2.2 to 3.0 t/m3 of the envelope
# where 2.6 are taken (derived; from memory).
ESTIMATED_MASS = Interval(2.2 / 2.6, 1.0, 3.0 / 2.6)


@dataclass(frozen=True)
class Half:
    """One half of the die: height in mm, mass in kg, and whether the mass was given or estimated.

    length, width: of its plan, mm; None: those of the die base.  flange: None: not stated.  base_mass: of the
    solid base in an estimated mass, kg: as sure as its sizes, so that only the rest has a range.
    """

    height: float
    mass: float
    mass_is_estimated: bool
    length: float | None = None
    width: float | None = None
    flange: Flange | None = None
    base_mass: float = 0.0

    @property
    def mass_range(self) -> Interval:
        """The mass, kg, with its range where it was estimated."""
        if not self.mass_is_estimated:
            return Interval.exactly(self.mass)
        rest = self.mass - self.base_mass
        return Interval(
            self.base_mass + rest * ESTIMATED_MASS.low, self.mass, self.base_mass + rest * ESTIMATED_MASS.high
        )


@dataclass(frozen=True)
class BlankHolder:
    """The ring that holds the blank on the cushion: its middle line as a rectangle (mm, die axes), the width
    and thickness of the ring in mm, and its material."""

    length: float
    width: float
    ring: float
    thickness: float
    material: Material

    @property
    def girth(self) -> float:
        """Length of the ring's middle line, mm."""
        return 2 * (self.length + self.width)


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

    may_move: how far it may stand from (x, y) along x and y, mm; may_turn: whether it may be turned.
    Both are bound by the way of the panel through the line.
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
    acting along thrust_direction (rad from +x; None: unknown, the worse of x and y is taken).

    overlap: how far the two halves reach into each other in the closed die, mm: closed height = height of
    the lower half + height of the upper half - overlap, so that it follows every change of a half; None:
    the closed height is not stated.  force_height: height above bottom dead centre at which the working
    force begins to act, mm.  cushion_pins: where the die needs them (die axes, mm); None: not stated.
    least_force: at the slide, N, below which the panel does not come out; None: not stated.
    """

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
    overlap: float | None = None
    force_height: float | None = None
    cushion_pins: tuple[tuple[float, float], ...] | None = None
    blank_holder: BlankHolder | None = None
    least_force: float | None = None

    @property
    def closed_height(self) -> float | None:
        """Height of the closed die without shims, mm; None: not stated."""
        if self.overlap is None:
            return None
        return round(self.lower.height + self.upper.height - self.overlap, HEIGHT_DIGITS)

    @property
    def upper_plan(self) -> Rectangle:
        """The upper half in plan: over the die base, and of its size unless stated otherwise."""
        upper, base = self.upper, self.base
        return Rectangle(0.0, 0.0, upper.length or base.length, upper.width or base.width)

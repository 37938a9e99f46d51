"""A die, and how it is set on the table."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum

from deflect.model.force import Pattern, Ring
from deflect.model.holder import ClampBolt, Guide, Key, LocatingCone
from deflect.model.lift_off import LiftOff
from deflect.model.matching import Cutting, Matching
from deflect.model.material import Material
from deflect.model.press import Press
from deflect.model.ribs import RibPattern, volume_and_middle
from deflect.model.ring import Carried, RingRibs
from deflect.model.values import EVEN, Interval, Rectangle, StatedInput


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
class Step:
    """An area of a solid base (die axes) that is thicker or thinner than the rest, mm; its underside is level."""

    area: Rectangle
    thickness: float


@dataclass(frozen=True)
class DieBase:
    """The lower shoe or casting that stands on the bolster, mm: a solid block, one with steps in its top, or
    a hollow casting with ribs whose total height is the thickness.

    bearing: the rectangles (die axes) on which the underside bears; empty: it bears everywhere that it has
    material.  Steps do not overlap; of a ribbed base there are none.
    """

    length: float
    width: float
    thickness: float
    material: Material
    bearing: tuple[Rectangle, ...] = ()
    ribs: RibPattern | None = None
    steps: tuple[Step, ...] = ()

    @property
    def plan(self) -> Rectangle:
        return Rectangle(0.0, 0.0, self.length, self.width)

    @property
    def mass(self) -> float:
        """kg, from its section."""
        return volume_and_middle(self._slices)[0] * self.material.density if self.ribs else self._stepped[0]

    @property
    def centre_height(self) -> float:
        """Height of its centre of mass over the underside, mm."""
        return volume_and_middle(self._slices)[1] if self.ribs else self._stepped[1]

    @property
    def solid(self) -> DieBase:
        """The solid block of the same size."""
        return replace(self, ribs=None, steps=())

    @property
    def _slices(self) -> tuple[tuple[float, float], ...]:
        assert self.ribs is not None
        return self.ribs.slices(self.plan, self.thickness)

    @property
    def _stepped(self) -> tuple[float, float]:
        """Mass (kg) and height of the centre of mass (mm) of a solid base with its steps."""
        areas = [(step.area.area, step.thickness) for step in self.steps]
        areas.append((self.plan.area - sum(area for area, _ in areas), self.thickness))
        volume = sum(area * height for area, height in areas)
        moment = sum(area * height**2 / 2 for area, height in areas)
        return volume * self.material.density, moment / volume


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
class Block:
    """What stands on the base of a half: an area (die axes), and its mass, kg; low, high: heights over the half's back,
    mm, which is the table's side of a lower half and the slide's of an upper one."""

    area: Rectangle
    low: float
    high: float
    mass: float
    name: str = ""


@dataclass(frozen=True)
class Half:
    """One half of the die: height in mm, mass in kg, and whether the mass was given or estimated.

    length, width: of its plan, mm; None: those of the die base.  flange: None: not stated.  base_mass: of the
    base and the blocks in an estimated mass, kg: as sure as its sizes, so that only the rest has a range.
    base: of an upper half, what bends below the slide; None: not stated.  clamps: that hold it to the slide.
    blocks: what stands on the base, as far as it is stated.
    """

    height: float
    mass: float
    mass_is_estimated: bool
    length: float | None = None
    width: float | None = None
    flange: Flange | None = None
    base_mass: float = 0.0
    base: DieBase | None = None
    clamps: tuple[Clamp, ...] = ()
    blocks: tuple[Block, ...] = ()

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
    and thickness of the ring in mm, its material, and what carries it (None: not stated).

    ribs: of a hollow ring whose total height is the thickness; None: it is solid.
    """

    length: float
    width: float
    ring: float
    thickness: float
    material: Material
    carried: Carried | None = None
    ribs: RingRibs | None = None

    @property
    def inertia(self) -> float:
        """Second moment of area of one side about its level axis, mm4."""
        if self.ribs is not None:
            return self.ribs.inertia(self.ring, self.thickness)
        return self.ring * self.thickness**3 / 12

    def may_be(self, thickness: float) -> bool:
        """Whether it may be so thick, mm: ribs leave a hollow in it."""
        return self.ribs is None or self.ribs.fits(self.ring, thickness)

    @property
    def told(self) -> str:
        """What it is made of, in words."""
        if self.ribs is None:
            return "solid"
        return (
            f"skin {self.ribs.skin:.0f}, walls {self.ribs.walls:.0f}, ribs {self.ribs.thickness:.0f} mm every "
            f"{self.ribs.pitch:.0f} mm"
        )

    @property
    def girth(self) -> float:
        """Length of the ring's middle line, mm."""
        return 2 * (self.length + self.width)

    @property
    def pattern(self) -> Ring:
        """The whole ring, pressed evenly."""
        outer = Rectangle(0.0, 0.0, self.length + self.ring, self.width + self.ring)
        return Ring(1.0, outer, Rectangle(0.0, 0.0, self.length - self.ring, self.width - self.ring))


@dataclass(frozen=True)
class Clamp:
    """A clamp on the base's flange (die axes): point in mm, force on the die in N.

    bolt: None: the force itself was stated.  lever: share of the bolt's force that reaches the die, a/(a + b) of
    a strap that rests on its heel a mm from the bolt and on the die b mm from it; 1: the bolt pulls at the flange.
    """

    x: float
    y: float
    force: float
    bolt: ClampBolt | None = None
    lever: float = 1.0


@dataclass(frozen=True)
class Sheet:
    """The panel: thickness in mm, tensile strength in MPa, cutting clearance per side as a share of thickness.

    stiffness: N/mm3, pressure by which it is squeezed through its thickness; None: that of its steel.
    """

    thickness: float
    tensile_strength: float
    clearance_share: float
    stiffness: float | None = None

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
    keys, cones: where they are; empty though keyed or coned: the usual arrangement is taken.
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
    keys: tuple[Key, ...] = ()
    cones: tuple[LocatingCone, ...] = ()

    def __post_init__(self) -> None:
        if (self.keys and not self.keyed) or (self.cones and not self.coned):
            raise ValueError("a die with keys is keyed, one with cones is coned")

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


NO_THRUST = Interval.exactly(0.0)


@dataclass(frozen=True)
class Die:
    """A die. Forces in N; side_thrust: steady horizontal force as a share of the table force,
    acting along thrust_direction (rad from +x; None: unknown, the worse of x and y is taken).  cutting_thrust:
    sideways share of a cutting force, of which an open trim line leaves a part unbalanced; offset_thrust: side thrust
    per force and per mm that the force's centre is off the press's, 1/mm.

    overlap: how far the two halves reach into each other in the closed die, mm: closed height = height of
    the lower half + height of the upper half - overlap, so that it follows every change of a half; None:
    the closed height is not stated.  force_height: height above bottom dead centre at which the working
    force begins to act, mm.  cushion_pins: where the die needs them (die axes, mm); None: not stated.
    guides: between the halves.  guide_offset: how far the upper half stands off the lower one, mm, die axes.
    least_force: at the slide, N, below which the panel does not come out; None: not stated.
    warmth: how much warmer the base's top is than its underside, K.
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
    cutting_thrust: Interval = NO_THRUST
    offset_thrust: Interval = NO_THRUST
    sheet: Sheet | None = None
    bedded: Bedded | None = None
    inputs: tuple[StatedInput, ...] = field(default=(), compare=False)
    note: str = field(default="", compare=False)
    overlap: float | None = None
    force_height: float | None = None
    cushion_pins: tuple[tuple[float, float], ...] | None = None
    blank_holder: BlankHolder | None = None
    guides: tuple[Guide, ...] = ()
    guide_offset: tuple[float, float] = (0.0, 0.0)
    lift_off: LiftOff = field(default_factory=LiftOff)
    cutting: Cutting = field(default_factory=Cutting)
    matching: Matching = field(default_factory=Matching)

    least_force: float | None = None
    warmth: Interval = EVEN

    @property
    def changes_on_return(self) -> bool:
        """Whether the force lies otherwise on the way up than on the way down: some of it is gone, some is not."""
        return len({pattern.on_return for pattern in self.patterns}) > 1

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

"""A press, as far as a die on its table feels it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

from deflect.model.bed_walls import SpanningWalls
from deflect.model.material import Material
from deflect.model.ribs import RibPattern
from deflect.model.slide import SlideBody
from deflect.model.values import EVEN, Interval, Rectangle, StatedInput

# Share of the pitch that must stand between two pin holes: below it no published constants are known to us.
LEAST_LIGAMENT = 0.1
# How far a cushion pin may stand from the middle of its hole, mm: pins of 32 to 50 mm in holes of
# 40 to 60 mm leave 4 to 5 mm all round (from memory; common practice, no source).
USUAL_PIN_CLEARANCE = 4.0
# Clamps that hold each half of a larger die at least (DGUV Information 209-008, section 6; published).
LEAST_CLAMPS = 4
# Thickness of flange, mm, that the T-bolts and clamps at a press usually take; flanges of 60 to 80 mm
# are usual (from memory; common practice, no source).
USUAL_CLAMPED_THICKNESS = Interval(40.0, 65.0, 90.0)


@dataclass(frozen=True)
class PinField:
    """Cushion-pin holes on a square grid: pitch and diameter in mm, and the region that has them.

    clearance: how far a pin may stand from the middle of its hole, mm.  hole: the middle of one hole
    (bolster axes, mm); None: whole cells of the grid stand in the middle of the region.
    """

    pitch: float
    diameter: float
    region: Rectangle
    clearance: float = USUAL_PIN_CLEARANCE
    hole: tuple[float, float] | None = None


# The bolt that goes into a T-slot, mm, by the width of its throat, mm.  22 to 42: BS 2485, the ISO 299
# series (published); the others: the same series (from memory).
BOLT_OF_THROAT = ((10.0, 8.0), (12.0, 10.0), (14.0, 12.0), (18.0, 16.0), (22.0, 20.0),
                  (28.0, 24.0), (36.0, 30.0), (42.0, 36.0), (48.0, 42.0), (54.0, 48.0))  # fmt: skip


@dataclass(frozen=True)
class TSlots:
    """T-slots in the bolster or the slide: throat width and pitch in mm, the way they run ("x" or "y"),
    and the place of one slot's centre line across that way (offset, mm).  bolt: diameter, mm; None: usual.
    depth: from the top to the floor of the slot, mm; None: not stated, and the slab not weakened."""

    width: float
    pitch: float
    direction: str
    offset: float
    bolt: float | None = None
    depth: float | None = None

    @property
    def bolt_diameter(self) -> float:
        """Diameter of the bolt, mm: the stated one, else the largest of the series that the throat takes."""
        smallest = BOLT_OF_THROAT[0][1]
        return self.bolt or max((bolt for throat, bolt in BOLT_OF_THROAT if throat <= self.width), default=smallest)

    def nearest_line(self, across: float) -> float:
        """The centre line of the slot nearest to a place across the slots, mm; where slots end is not looked at."""
        return self.offset + self.pitch * round((across - self.offset) / self.pitch)

    def misses(self, x: float, y: float) -> float:
        """How far a place (bolster axes) lies off the nearest centre line, mm."""
        across = x if self.direction == "y" else y
        return abs(across - self.nearest_line(across))

    def turned_by(self, angle: float) -> float:
        """How far a line at an angle from the table's x (rad) is turned out of the slots, 0 to pi/2 rad."""
        away = angle - (0.0 if self.direction == "x" else math.pi / 2)
        return abs((away + math.pi / 2) % math.pi - math.pi / 2)


@dataclass(frozen=True)
class SubPlate:
    """A plate fastened onto the bolster, below the die: its area, thickness in mm, material.

    It is not bonded: both bend as a stack.
    """

    area: Rectangle
    thickness: float
    material: Material

    @property
    def mass(self) -> float:
        """kg."""
        return self.area.area * self.thickness * self.material.density


@dataclass(frozen=True)
class Bolster:
    """The slab on the bed, or the ribbed weldment whose total height is the thickness. Sizes in mm, mass in kg.

    openings: cut-outs of the bolster itself.  dish: how far the middle of its
    top lies below its edges by wear, mm (0: flat).  permitted_mass: of the die that it may
    carry, kg (None: not stated).  moving: it leaves the press with the die on it.  takes: what its top is
    made for that locates a die, "keys" or "cones"; None: not stated, either may be fitted.
    effective_thickness: at which it bends as measured, mm (None: not calibrated, the thickness itself).
    warmth: how much warmer its top is than its underside, K.
    """

    length: float
    width: float
    thickness: float
    mass: float
    material: Material
    openings: tuple[Rectangle, ...] = ()
    pin_field: PinField | None = None
    t_slots: TSlots | None = None
    dish: float = 0.0
    sub_plate: SubPlate | None = None
    permitted_mass: float | None = None
    moving: bool = False
    ribs: RibPattern | None = None
    takes: str | None = None
    effective_thickness: Interval | None = None
    warmth: Interval = EVEN

    @property
    def plan(self) -> Rectangle:
        return Rectangle(0.0, 0.0, self.length, self.width)

    @property
    def as_plate(self) -> Bolster:
        """What of it bends: without wear and permissions, and slots of no stated depth, which weaken nothing."""
        slots = self.t_slots if self.t_slots is not None and self.t_slots.depth else None
        thickness = self.thickness if self.effective_thickness is None else self.effective_thickness.nominal
        return replace(
            self,
            thickness=thickness,
            dish=0.0,
            t_slots=slots,
            permitted_mass=None,
            moving=False,
            takes=None,
            effective_thickness=None,
            warmth=EVEN,
        )

    @property
    def bare(self) -> Bolster:
        """The bolster alone, without a sub-plate on it."""
        plate = self.sub_plate
        return self if plate is None else replace(self, sub_plate=None, mass=self.mass - plate.mass)


@dataclass(frozen=True)
class Slide:
    """The slide's face, centred over the bolster: length and width in mm, its T-slots, the mass in kg
    of the upper half that may hang from it, and what of it bends. None: not stated."""

    length: float | None = None
    width: float | None = None
    t_slots: TSlots | None = None
    permitted_mass: float | None = None
    body: SlideBody | None = None

    @property
    def plan(self) -> Rectangle | None:
        """None where a size is not stated."""
        if self.length is None or self.width is None:
            return None
        return Rectangle(0.0, 0.0, self.length, self.width)


@dataclass(frozen=True)
class ForceAtHeight:
    """The force in N that the slide may give at a height in mm above bottom dead centre."""

    height: float
    force: float


@dataclass(frozen=True)
class HoldDown:
    """One place where the bolster is held down on the bed: point in mm, preload in N, stiffness in N/mm."""

    x: float
    y: float
    preload: float
    stiffness: float


@dataclass(frozen=True)
class SupportPost:
    """A post in the bed opening below the bolster: point in mm, stiffness in N/mm, gap left above it in mm,
    side of its square head in mm.  It only presses."""

    x: float
    y: float
    stiffness: float
    gap: float
    head: float


@dataclass(frozen=True)
class Land:
    """The surface around the bed opening that carries the bolster.

    stiffness: of the bed below the land, N/mm3, per area of land; None where it is to be
    found from the press's allowed deflection.  origin says how it came about.  walls: that bend and sink below
    it besides; None: it rests on walls that stand on the foundation all along.
    """

    stiffness: Interval | None
    origin: str
    walls: SpanningWalls | None = None


@dataclass(frozen=True)
class Bed:
    """Bed opening (bolster axes), land, and hold-downs of the bolster.

    hold_downs: the stated ones.  hold_downs_known False: nobody knows; then no
    hold-down and ``hold_downs`` as assumed make the two ends of a range.
    """

    opening: Rectangle
    land: Land
    hold_downs: tuple[HoldDown, ...] = ()
    hold_downs_known: bool = True
    posts: tuple[SupportPost, ...] = ()


@dataclass(frozen=True)
class Acceptance:
    """The press's allowed table deflection: mm per mm of reference length, at rated
    force spread evenly over loaded_share of the bolster's length and width."""

    slope: float
    loaded_share: float
    reference_length: float
    reference_width: float


@dataclass(frozen=True)
class CushionGuides:
    """The guides that keep the cushion level, all alike.

    number: of them; stiffness: sideways, of one guide over its whole length, N/mm; length: guided length of the
    cushion, mm.
    """

    number: int
    stiffness: float
    length: float

    @property
    def tilt_stiffness(self) -> float:
        """Moment per tilt, N mm/rad: derived, each end of a guide has half its stiffness and half its length as
        lever."""
        return self.number * self.stiffness * self.length**2 / 4


@dataclass(frozen=True)
class Cushion:
    """The die cushion: greatest force in N, in the middle of the press; whether its reaction hangs on the bolster
    (True) or stands on the bed and by-passes the bolster (False).  guides: None: it is taken as guided level."""

    force: float
    hangs_on_bolster: bool = False
    guides: CushionGuides | None = None


@dataclass(frozen=True)
class Calibration:
    """What measurements said of a press: values with 95 % intervals, and where they come from.

    land_stiffness: N/mm3; effective_thickness: of the bolster, mm; wall_stiffness: of walls that span between
    columns, as a multiple of what their drawing gives (None: the bed has none).  correlation: of the logarithms,
    land with thickness, land with walls, thickness with walls.  readings: how many figures were fitted.
    """

    date: str
    source: str
    readings: int
    land_stiffness: Interval
    effective_thickness: Interval
    wall_stiffness: Interval | None = None
    correlation: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Press:
    """A press. rated_force in N; table_slope: out-of-level of the table, rad; side_thrust:
    steady horizontal force as a share of the table force; permitted offset of the force centre in mm.

    shut_height: greatest distance from bolster top to slide face at bottom dead centre, mm, the adjustment
    up; slide_adjustment: by how much it can be made less, mm.  force_over_height: rising in height, not
    rising in force; empty: not stated.  clamps_required: for each half of the die.  clamped_thickness:
    of flange, from the thinnest to the thickest that T-bolts or clamps take, mm.  crane_capacity: kg.
    stroke: of the slide, mm.  described: the press before it was calibrated.  tryout_force: at which dies are tried
    in this press, N; None: the die's own working force.
    """

    name: str
    rated_force: float
    bolster: Bolster
    bed: Bed
    acceptance: Acceptance | None
    cushion: Cushion | None
    friction: Interval
    table_slope: Interval
    permitted_offset: tuple[float, float] | None
    inputs: tuple[StatedInput, ...] = field(default=(), compare=False)
    note: str = field(default="", compare=False)
    shut_height: float | None = None
    slide_adjustment: float | None = None
    slide: Slide | None = None
    force_over_height: tuple[ForceAtHeight, ...] = ()
    clamps_required: int = LEAST_CLAMPS
    clamped_thickness: Interval = USUAL_CLAMPED_THICKNESS
    crane_capacity: float | None = None
    stroke: float | None = None
    strokes_per_year: int | None = None
    calibration: Calibration | None = None
    described: Press | None = field(default=None, compare=False, repr=False)
    tryout_force: float | None = field(default=None, compare=False)

    def calibrated(self, found: Calibration) -> Press:
        """The press with what was measured on it, which goes before its description."""
        day = f" on {found.date}" if found.date else ""
        origin = f"stiffness of the land calibrated{day} with {found.readings} figures: {found.source}"
        land = replace(self.bed.land, origin=origin)
        if land.walls is not None and found.wall_stiffness is not None:
            land = replace(land, walls=replace(land.walls, stiffness=found.wall_stiffness))
        return replace(
            self,
            calibration=found,
            described=self,
            bolster=replace(self.bolster, effective_thickness=found.effective_thickness),
            bed=replace(self.bed, land=land),
        )

    @property
    def uncalibrated(self) -> Press:
        """The press as its file describes it, without what was measured on it."""
        return self if self.described is None else self.described

    @property
    def bare(self) -> Press:
        """The press as its maker delivered it: no wear, no warmth, no sub-plate, no support posts."""
        bolster = replace(self.bolster.bare, dish=0.0, warmth=EVEN)
        return replace(self, bolster=bolster, bed=replace(self.bed, posts=()))

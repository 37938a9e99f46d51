"""A press, as far as a die on its table feels it."""

from __future__ import annotations

from dataclasses import dataclass, field

from deflect.model.material import Material
from deflect.model.values import Interval, Rectangle, StatedInput

# Share of the pitch that must stand between two pin holes: below it no published constants are known to us.
LEAST_LIGAMENT = 0.1


@dataclass(frozen=True)
class PinField:
    """Cushion-pin holes on a square grid: pitch and diameter in mm, and the region that has them."""

    pitch: float
    diameter: float
    region: Rectangle


@dataclass(frozen=True)
class TSlots:
    """T-slots in the bolster: throat width and pitch in mm, the way they run ("x" or "y"),
    and the place of one slot's centre line across that way (offset, mm)."""

    width: float
    pitch: float
    direction: str
    offset: float


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
    """The slab on the bed. Sizes in mm, mass in kg.

    openings: cut-outs of the bolster itself.  dish: how far the middle of its
    top lies below its edges by wear, mm (0: flat).
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

    @property
    def plan(self) -> Rectangle:
        return Rectangle(0.0, 0.0, self.length, self.width)


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
    found from the press's allowed deflection.  origin says how it came about.
    """

    stiffness: Interval | None
    origin: str


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
class Cushion:
    """The die cushion: greatest force in N; whether its reaction hangs on the bolster
    (True) or stands on the bed and by-passes the bolster (False)."""

    force: float
    hangs_on_bolster: bool = False


@dataclass(frozen=True)
class Press:
    """A press. rated_force in N; table_slope: out-of-level of the table, rad; side_thrust:
    steady horizontal force as a share of the table force; permitted offset of the force centre in mm."""

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

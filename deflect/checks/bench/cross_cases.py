"""Plates that a general-purpose structural solver has solved as well: what both are given.  Lengths in mm, forces in N.

They are set up so that both codes solve the same equations: Mindlin plates with a shear correction of 5/6 on springs
that only press; no local give and no thickening, which only the production bodies know.
"""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.values import Rectangle


@dataclass(frozen=True)
class Slab:
    """A plate: middle at (x, y) of ``plan``, thickness, Young's modulus (MPa) and Poisson's ratio."""

    plan: Rectangle
    thickness: float
    youngs_modulus: float
    poisson: float


@dataclass(frozen=True)
class Opened:
    """A thick plate with an opening, simply supported (deflection only) on its left and right edges, under an even
    downward pressure, MPa, on its material."""

    slab: Slab
    opening: Rectangle
    pressure: float
    places: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Bedded:
    """A plate on springs that only press, N/mm3, outside ``bare``; ``force``, N, evenly on ``loaded``."""

    slab: Slab
    bare: Rectangle
    springs: float
    loaded: Rectangle
    force: float
    places: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Stacked:
    """A plate on another that is bedded, with springs between them that only press, N/mm3; ``force`` on ``upper``."""

    below: Bedded
    upper: Slab
    between: float
    gaps: tuple[tuple[float, float], ...]


_TABLE = Rectangle(0, 0, 4000, 2200)
_HOLLOW = Rectangle(0, 0, 3000, 1400)
_STEEL, _IRON = 206_000.0, 110_000.0

OPENED = Opened(
    Slab(Rectangle(0, 0, 2400, 1600), 300, _STEEL, 0.3),
    Rectangle(200, -100, 1000, 600),
    1.0,
    ((-300, -100), (700, -100), (200, -400), (200, 200), (700, -400), (0, -800), (0, 800)),
)
BEDDED = Bedded(
    Slab(_TABLE, 200, _STEEL, 0.3),
    _HOLLOW,
    20.0,
    Rectangle(0, 0, 1600, 800),
    6e6,
    ((0, 0), (800, 400), (1500, 0), (0, 700), (2000, 1100)),
)
# Without Poisson's effect neither plate thickens where it bends, so that what meets are middle planes.  A stiff die
# bridges a table that sags.
STACKED = Stacked(
    Bedded(
        Slab(_TABLE, 200, _STEEL, 0.0),
        _HOLLOW,
        20.0,
        Rectangle(0, 0, 1600, 800),
        6e6,
        ((0, 0), (1500, 0), (0, 700), (2000, 1100)),
    ),
    Slab(Rectangle(0, 0, 2000, 1000), 500, _IRON, 0.0),
    between=100.0,
    gaps=((0, 0), (500, 0), (0, 300)),
)

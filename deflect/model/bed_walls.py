"""Walls of a bed that span between its columns."""

from __future__ import annotations

import math
from dataclasses import dataclass

from deflect.model.material import Material
from deflect.model.values import Interval, Rectangle

_AS_DRAWN = Interval(1.0, 1.0, 1.0)


@dataclass(frozen=True)
class SpanningWalls:
    """Upright walls below the land that span between four columns and stand on nothing in between.

    columns: their middles are the corners of this rectangle, bolster axes, mm.  along_x: thickness of the front
    and of the back wall; along_y: of the left and of the right one, mm (0: none).  height: mm.  foot_stiffness: of
    each column on its foot, N/mm (infinite: rigid).  stiffness: of walls and feet, as a multiple of what their
    sizes give: openings make walls softer, flanges and columns that hold their ends stiffer.
    """

    columns: Rectangle
    along_x: float
    along_y: float
    height: float
    material: Material
    foot_stiffness: float = math.inf
    stiffness: Interval = _AS_DRAWN

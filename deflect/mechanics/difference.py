"""How differently one die stands on two presses: table and face under force, less what a rigid movement explains.

Differences are those of the second press less the first; swapping the two turns every sign.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Flags, Floats, greatest
from deflect.mechanics.footprint import dish_depth, to_table
from deflect.mechanics.solution import read_face
from deflect.mechanics.standing import Standing, State


@dataclass(frozen=True, eq=False)
class Shape:
    """What a die feels and does on one press, at the middles of its patches (n,), mm, die axes.

    table: height of the bolster's top below the die under force, wear included, NaN where there is none; face:
    movement of the working surface under force; in_face: which patches belong to it; points (n, 2); area (n,) mm2.
    """

    points: Floats
    area: Floats
    table: Floats
    face: Floats
    in_face: Flags


@dataclass(frozen=True, eq=False)
class Difference:
    """One field less another after the best rigid fit, mm, NaN where either is unknown or does not count.

    greatest: the value farthest from nothing, with its sign, at a place (x, y) in die axes; rms: weighted by area;
    spread: greatest less least.
    """

    values: Floats
    greatest: float
    at: tuple[float, float]
    rms: float
    spread: float


def shape_of(standing: Standing, state: State) -> Shape:
    """Table and face of one solved state."""
    case, base = standing.case, standing.base
    face = read_face(standing, state)
    table = np.full(standing.bears.size, np.nan)
    places = to_table(case.die.placing, base.patches.centre[standing.bears])
    table[standing.bears] = standing.table_rows @ state.table_motion - dish_depth(case.press.bolster, places)
    return Shape(base.patches.centre, base.patches.area, table, face.movement, face.in_face)


def face_difference(first: Shape, second: Shape) -> Difference:
    """Of the working surface: what bedding-in on the one press leaves wrong on the other."""
    return difference(first.points, first.area, second.face - first.face, first.in_face)


def table_difference(first: Shape, second: Shape) -> Difference:
    """Of the bolster's top below the die."""
    return difference(first.points, first.area, second.table - first.table, np.ones(first.area.size, dtype=bool))


def closure_difference(points: Floats, area: Floats, first: Floats, second: Floats) -> Difference:
    """Of what parts the lower from the upper face (f,), mm; positive: farther apart on the second press."""
    return difference(points, area, second - first, np.ones(area.size, dtype=bool))


def difference(points: Floats, area: Floats, values: Floats, counts: Flags) -> Difference:
    """Fit a rigid movement to ``values`` (n,) at ``points`` (n, 2) where they count, and measure what is left."""
    known = counts & np.isfinite(values)
    left = np.full(values.size, np.nan)
    if not known.any():
        return Difference(left, np.nan, (np.nan, np.nan), np.nan, np.nan)
    plane = np.column_stack([np.ones(int(known.sum())), points[known]])
    fitted = np.linalg.lstsq(plane, values[known], rcond=None)[0]
    left[known] = values[known] - plane @ fitted
    farthest = greatest(np.abs(left))
    weighted = area[known] @ left[known] ** 2 / area[known].sum()
    x, y = points[farthest]
    return Difference(
        left, float(left[farthest]), (float(x), float(y)), float(np.sqrt(weighted)), float(np.ptp(left[known]))
    )

"""Tensor-product meshes of a plate's plan, graded towards the lines that matter."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from skfem import MeshQuad

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats, Integers
from deflect.model.values import Rectangle

# Two lines closer than this are one line, mm: below any shop dimension, above round-off.
SAME_LINE = 1e-3
# Meshes that a process keeps.
_MESHES = 16


def graded_lines(fixed: Iterable[float], size: float, fine: Iterable[float] = (), fine_size: float = 0.0) -> Floats:
    """Grid lines through every ``fixed`` coordinate, no farther apart than ``size`` (mm).

    Next to each coordinate in ``fine`` the spacing starts at ``fine_size`` and
    doubles outwards until it reaches ``size``.  Returns sorted coordinates (n,).
    """
    ends = _distinct(fixed)
    low, high = ends[0], ends[-1]
    lines = list(ends)
    for centre in fine:
        offset, step = 0.0, fine_size
        while step < size:
            offset += step
            lines += [x for x in (centre - offset, centre + offset) if low < x < high]
            step *= 2
    # A grading line crowding a fixed one would make a sliver of an element.
    crowd = 0.5 * fine_size
    lines = [x for x in lines if np.abs(ends - x).min() < SAME_LINE or np.abs(ends - x).min() > crowd]
    kept = _distinct(lines)
    parts = [np.linspace(a, b, int(np.ceil((b - a) / size - 1e-9)) + 1)[:-1] for a, b in itertools.pairwise(kept)]
    return np.append(np.concatenate(parts), kept[-1])


def _distinct(values: Iterable[float]) -> Floats:
    ordered = np.sort(np.asarray(list(values), dtype=float))
    return np.asarray(ordered[np.append(True, np.diff(ordered) > SAME_LINE)])


@dataclass(frozen=True, eq=False)
class PlanMesh:
    """A tensor grid of quadrilaterals with voids.

    x, y: grid lines, mm; filled (nx, ny): which cells are material.
    """

    x: Floats
    y: Floats
    filled: Flags

    @staticmethod
    def with_openings(x: Floats, y: Floats, openings: Iterable[Rectangle]) -> PlanMesh:
        """All cells of the grid except those whose centre lies in an opening."""
        cx, cy = 0.5 * (x[:-1] + x[1:]), 0.5 * (y[:-1] + y[1:])
        filled = np.ones((cx.size, cy.size), dtype=bool)
        for opening in openings:
            filled &= ~inside(opening, cx[:, None], cy[None, :])
        return _one_mesh(x.tobytes(), y.tobytes(), filled.tobytes())

    @cached_property
    def element_of_cell(self) -> Integers:
        """Element number of each cell (nx, ny); -1 where there is no material."""
        number = np.full(self.filled.shape, -1, dtype=np.int64)
        number[self.filled] = np.arange(int(self.filled.sum()))
        return number

    @cached_property
    def quads(self) -> MeshQuad:
        """The same as a scikit-fem mesh; element order follows ``element_of_cell``."""
        _nx, ny = self.filled.shape
        i, j = np.nonzero(self.filled)
        corner = [(i + a) * (ny + 1) + (j + b) for a, b in ((0, 0), (1, 0), (1, 1), (0, 1))]
        used, numbered = np.unique(np.stack(corner), return_inverse=True)
        gx, gy = np.meshgrid(self.x, self.y, indexing="ij")
        points = np.stack([gx.ravel()[used], gy.ravel()[used]])
        return MeshQuad(points, np.ascontiguousarray(numbered.reshape(4, -1)))

    @cached_property
    def cells(self) -> tuple[Floats, Floats, Floats, Floats]:
        """Left, front, length and width of each element, mm, each (elements,)."""
        i, j = np.nonzero(self.filled)
        return self.x[i], self.y[j], np.diff(self.x)[i], np.diff(self.y)[j]

    def has(self, points: Floats) -> Flags:
        """Which ``points`` (m, 2), all within the outer edges, lie in a cell of material (m,)."""
        return np.asarray(self.filled[_interval(self.x, points[:, 0], -1), _interval(self.y, points[:, 1], -1)])

    def locate(self, points: Floats) -> Located:
        """Where ``points`` (m, 2) lie: once inside an element, and in every adjoining one on a grid line.

        Raises MechanicsFailed where there is no material.
        """
        low, high = np.array([self.x[0], self.y[0]]), np.array([self.x[-1], self.y[-1]])
        if ((points < low - _OFF_EDGE) | (points > high + _OFF_EDGE)).any():
            raise MechanicsFailed(_OFF)
        sides = [
            (_interval(self.x, points[:, 0], a), _interval(self.y, points[:, 1], b)) for a in (-1, 1) for b in (-1, 1)
        ]
        found = np.stack([self.element_of_cell[i, j] for i, j in sides])
        for k in range(1, len(sides)):
            found[k][(found[:k] == found[k]).any(axis=0)] = -1
        count = (found >= 0).sum(axis=0)
        if (count == 0).any():
            raise MechanicsFailed(_OFF)
        side, point = np.nonzero(found >= 0)
        cell_x, cell_y = (np.stack([s[axis] for s in sides])[side, point] for axis in (0, 1))
        local = np.stack(
            [
                (points[point, 0] - self.x[cell_x]) / np.diff(self.x)[cell_x],
                (points[point, 1] - self.y[cell_y]) / np.diff(self.y)[cell_y],
            ]
        )
        return Located(point, found[side, point], np.clip(local, 0.0, 1.0), 1.0 / count[point])


@dataclass(frozen=True, eq=False)
class Located:
    """Points found in elements, an entry (k,) for each element that a point touches.

    point: number of the point; element; local (2, k): place in the element's unit square; weight: the
    entries of one point share it evenly, so that what jumps between elements is read as their mean.
    """

    point: Integers
    element: Integers
    local: Floats
    weight: Floats


@lru_cache(maxsize=_MESHES)
def _one_mesh(x: bytes, y: bytes, filled: bytes) -> PlanMesh:
    """Meshes that are alike are one: what depends on the mesh alone is made once, whatever the plate's thickness."""
    lines_x, lines_y = np.frombuffer(x), np.frombuffer(y)
    return PlanMesh(lines_x, lines_y, np.frombuffer(filled, dtype=bool).reshape(lines_x.size - 1, lines_y.size - 1))


_OFF = (
    "a clamp, hold-down, support post or force acts where the bolster or the die base has no material: "
    "check its place against the cut-outs"
)
# A point so far outside is off the plate, mm; nearer ones are round-off and belong to the edge.
_OFF_EDGE = 1e-3
# A point so near to a grid line lies on it, mm.
_ON_LINE = 1e-6


def _interval(lines: Floats, values: Floats, side: int) -> Integers:
    """Interval of each value; of a value on a line the one below (side -1) or above it (side 1)."""
    return np.clip(np.searchsorted(lines, values + side * _ON_LINE, side="right") - 1, 0, lines.size - 2)


def inside(area: Rectangle, x: Floats, y: Floats) -> Flags:
    """Which points lie in ``area``."""
    return (x > area.left) & (x < area.right) & (y > area.front) & (y < area.back)

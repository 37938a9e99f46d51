"""Tensor-product meshes of a plate's plan, graded towards the lines that matter."""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from skfem import MeshQuad

from deflect.mechanics.arrays import Flags, Floats, Integers
from deflect.model.values import Rectangle

# Two lines closer than this are one line, mm: below any shop dimension, above round-off.
SAME_LINE = 1e-3


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
        return PlanMesh(x, y, filled)

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
        points = np.stack([gx.ravel(), gy.ravel()])[:, used]
        return MeshQuad(points, numbered.reshape(4, -1))

    @cached_property
    def cells(self) -> tuple[Floats, Floats, Floats, Floats]:
        """Left, front, length and width of each element, mm, each (elements,)."""
        i, j = np.nonzero(self.filled)
        return self.x[i], self.y[j], np.diff(self.x)[i], np.diff(self.y)[j]

    def locate(self, points: Floats) -> tuple[Integers, Floats]:
        """Element and reference coordinates (2, m) of ``points`` (m, 2).

        A point on the rim between material and void belongs to the material.
        Raises ValueError where there is no material.
        """
        i = self._interval(self.x, points[:, 0])
        j = self._interval(self.y, points[:, 1])
        element = self.element_of_cell[i, j]
        if (element < 0).any():
            nudge = 1e-6
            for dx, dy in ((-nudge, 0), (nudge, 0), (0, -nudge), (0, nudge)):
                lost = element < 0
                i[lost] = self._interval(self.x, points[lost, 0] + dx)
                j[lost] = self._interval(self.y, points[lost, 1] + dy)
                element = self.element_of_cell[i, j]
            if (element < 0).any():
                raise ValueError("a point lies off the plate's material")
        local = np.stack(
            [
                (points[:, 0] - self.x[i]) / (self.x[i + 1] - self.x[i]),
                (points[:, 1] - self.y[j]) / (self.y[j + 1] - self.y[j]),
            ]
        )
        return element, local

    @staticmethod
    def _interval(lines: Floats, values: Floats) -> Integers:
        return np.clip(np.searchsorted(lines, values, side="right") - 1, 0, lines.size - 2)


def inside(area: Rectangle, x: Floats, y: Floats) -> Flags:
    """Which points lie in ``area``."""
    return (x > area.left) & (x < area.right) & (y > area.front) & (y < area.back)

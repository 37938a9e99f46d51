"""Forces on a plan as points with weights, and areas as patches with quadrature points."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import scipy.sparse as sparse

from deflect.mechanics.arrays import Floats, Sparse
from deflect.model.force import Line, Patch, Pattern, Ring
from deflect.model.values import Rectangle

# An area of force is laid out on sub-rectangles no larger than this, mm, with 2 x 2 Gauss points:
# a quarter of the usual element, so that the element's own shape functions are integrated well.
_SPREAD = 50.0
# Pieces of a line of force, mm.
_PIECE = 25.0
# Patterns whose points are remembered: those of a few dies, each asked for by every solution.
_PATTERNS = 64
_GAUSS2 = np.array([-0.5, 0.5]) / np.sqrt(3.0)


@dataclass(frozen=True, eq=False)
class PointForces:
    """Downward forces (m,) in N at points (m, 2) in mm."""

    points: Floats
    force: Floats

    @property
    def centre(self) -> Floats:
        """Where their resultant acts (2,)."""
        return np.asarray(self.force @ self.points / self.force.sum())


def rectangle_points(area: Rectangle, spread: float = _SPREAD) -> tuple[Floats, Floats]:
    """Gauss points (m, 2) over a rectangle and the area (m,) that each stands for."""
    x, wx = _axis(area.left, area.right, spread)
    y, wy = _axis(area.front, area.back, spread)
    gx, gy = np.meshgrid(x, y, indexing="ij")
    return np.column_stack([gx.ravel(), gy.ravel()]), np.outer(wx, wy).ravel()


def _axis(low: float, high: float, spread: float) -> tuple[Floats, Floats]:
    pieces = max(1, int(np.ceil((high - low) / spread - 1e-9)))
    step = (high - low) / pieces
    middle = low + step * (np.arange(pieces) + 0.5)
    return (middle[:, None] + step * _GAUSS2).ravel(), np.full(2 * pieces, step / 2)


def ring_parts(outer: Rectangle, inner: Rectangle) -> list[Rectangle]:
    """The ring between two rectangles as up to four rectangles."""
    middle = 0.5 * (inner.front + inner.back)
    parts = [
        Rectangle(0.5 * (outer.left + inner.left), middle, inner.left - outer.left, inner.width),
        Rectangle(0.5 * (inner.right + outer.right), middle, outer.right - inner.right, inner.width),
        Rectangle(outer.x, 0.5 * (outer.front + inner.front), outer.length, inner.front - outer.front),
        Rectangle(outer.x, 0.5 * (inner.back + outer.back), outer.length, outer.back - inner.back),
    ]
    return [p for p in parts if p.length > 0 and p.width > 0]


def pattern_forces(patterns: Sequence[Pattern], total: float) -> PointForces:
    """The force patterns of a die, together ``total`` N, as downward point forces."""
    points: list[Floats] = []
    forces: list[Floats] = []
    for pattern in patterns:
        place, weight = _pattern_points(pattern)
        points.append(place)
        forces.append(weight * (pattern.share * total / weight.sum()))
    return PointForces(np.concatenate(points), np.concatenate(forces))


@lru_cache(maxsize=_PATTERNS)
def _pattern_points(pattern: Pattern) -> tuple[Floats, Floats]:
    match pattern:
        case Patch():
            return rectangle_points(pattern.area)
        case Ring():
            parts = [rectangle_points(p) for p in ring_parts(pattern.outer, pattern.inner)]
            return np.concatenate([p for p, _ in parts]), np.concatenate([w for _, w in parts])
        case Line():
            return _line_points(pattern.points)


def _line_points(corners: Sequence[tuple[float, float]]) -> tuple[Floats, Floats]:
    points, weights = [], []
    for start, end in itertools.pairwise(corners):
        a, b = np.asarray(start), np.asarray(end)
        length = float(np.hypot(*(b - a)))
        if length == 0.0:
            continue  # a point given twice
        along, weight = _axis(0.0, length, _PIECE)
        points.append(a + along[:, None] * (b - a) / length)
        weights.append(weight)
    return np.concatenate(points), np.concatenate(weights)


@dataclass(frozen=True, eq=False)
class Patches:
    """Rectangular patches that cover an area evenly.

    centre (n, 2), length and width (n,) in mm, area (n,) in mm2.
    """

    centre: Floats
    length: Floats
    width: Floats

    @property
    def area(self) -> Floats:
        return self.length * self.width

    def quadrature(self, points_a_side: int) -> tuple[Floats, Sparse]:
        """Gauss points (n q, 2) and the averaging matrix (n, n q) over each patch."""
        nodes, weights = np.polynomial.legendre.leggauss(points_a_side)
        gx, gy = np.meshgrid(nodes / 2, nodes / 2, indexing="ij")
        w = np.outer(weights, weights).ravel() / 4
        x = self.centre[:, :1] + self.length[:, None] * gx.ravel()
        y = self.centre[:, 1:] + self.width[:, None] * gy.ravel()
        n, q = x.shape
        rows = np.repeat(np.arange(n), q)
        average = sparse.csr_array((np.tile(w, n), (rows, np.arange(n * q))), shape=(n, n * q))
        return np.column_stack([x.ravel(), y.ravel()]), average

    def overlap(self, area: Rectangle) -> Floats:
        """Share of each patch (n,) that lies in ``area``."""
        x, y = self.centre.T
        along = np.minimum(x + self.length / 2, area.right) - np.maximum(x - self.length / 2, area.left)
        across = np.minimum(y + self.width / 2, area.back) - np.maximum(y - self.width / 2, area.front)
        return np.asarray(np.maximum(along, 0.0) * np.maximum(across, 0.0) / self.area)


def patch_grid(x: Floats, y: Floats) -> Patches:
    """Patches between the grid lines x (nx + 1,) and y (ny + 1,), row-major in x."""
    gx, gy = np.meshgrid(0.5 * (x[:-1] + x[1:]), 0.5 * (y[:-1] + y[1:]), indexing="ij")
    length, width = np.meshgrid(np.diff(x), np.diff(y), indexing="ij")
    return Patches(np.column_stack([gx.ravel(), gy.ravel()]), length.ravel(), width.ravel())

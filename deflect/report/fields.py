"""Fields over table and die as VTU files, for those who want to look further; units in the field names."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from scipy.spatial import Delaunay

from deflect.findings import Analysis
from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.footprint import to_table
from deflect.mechanics.solution import TOUCHING
from deflect.model.values import Rectangle


def write_table(analysis: Analysis, path: Path) -> None:
    """The table's top: its movement under force, in bolster axes."""
    import meshio

    solution = analysis.solution
    points = solution.table_points
    movement = solution.table_movement
    triangles = _triangles(points, analysis.case.press.bolster.openings)
    mesh = meshio.Mesh(
        _raised(points, 0.0),
        [("triangle", triangles)],
        point_data={"movement_mm": movement, "displacement_mm": _upward(movement)},
    )
    meshio.write(path, mesh, file_format="vtu")


def write_die(analysis: Analysis, path: Path) -> None:
    """The die base's patches, underside (layer 0) and face (layer 1), in bolster axes.

    A field that belongs to one layer is NaN on the other.
    """
    import meshio

    solution, placing = analysis.solution, analysis.case.die.placing
    nx, ny = solution.grid
    plan = to_table(placing, solution.outline.reshape(-1, 2))
    thickness = analysis.case.die.base.thickness
    quads = _quads(nx, ny)
    none = np.full(nx * ny, np.nan)
    on_face = np.where(solution.face.in_face, 1.0, np.nan)
    contact = np.where(solution.bears, (np.nan_to_num(solution.gap) < TOUCHING).astype(float), np.nan)
    fields = {
        "layer": (np.zeros(nx * ny), np.ones(nx * ny)),
        "gap_mm": (solution.gap, none),
        "pressure_MPa": (solution.pressure, none),
        "contact": (contact, none),
        "face_movement_mm": (none, solution.face.movement),
        "face_error_mm": (none, analysis.face.error * on_face),
    }
    mesh = meshio.Mesh(
        np.vstack([_raised(plan, 0.0), _raised(plan, thickness)]),
        [("quad", np.vstack([quads, quads + len(plan)]))],
        cell_data={name: [np.concatenate(layers)] for name, layers in fields.items()},
    )
    meshio.write(path, mesh, file_format="vtu")


def _raised(points: Floats, height: float) -> Floats:
    return np.column_stack([points, np.full(len(points), height)])


def _upward(movement: Floats) -> Floats:
    return np.column_stack([np.zeros((len(movement), 2)), movement])


def _quads(nx: int, ny: int) -> Integers:
    """Corners of each patch, counted like the patches (row-major in x)."""
    first = (np.arange(nx)[:, None] * (ny + 1) + np.arange(ny)).ravel()
    return np.column_stack([first, first + ny + 1, first + ny + 2, first + 1])


def _triangles(points: Floats, openings: tuple[Rectangle, ...]) -> Integers:
    """Triangles between the points, none over a cut-out of the bolster."""
    triangles = np.asarray(Delaunay(points).simplices, dtype=np.int64)
    x, y = points[triangles].mean(axis=1).T
    kept = np.ones(len(triangles), dtype=bool)
    for hole in openings:
        kept &= ~((x > hole.left) & (x < hole.right) & (y > hole.front) & (y < hole.back))
    return triangles[kept]

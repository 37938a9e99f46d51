"""Small plates, loads and readings; lengths in mm, forces in N."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from skfem import CellBasis

from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.loads import rectangle_points
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.plate import Plate, edge_unknowns, factorise
from deflect.mechanics.sections import PlateSection, solid_section
from deflect.model.material import Material
from deflect.model.values import Rectangle

SIDE = 1000.0
YOUNG = 200_000.0
ALL_SIDES = ("left", "right", "front", "back")


def slab(thickness: float, poisson: float = 0.3) -> PlateSection:
    """A solid section of an invented material, 1 kg/m2 per mm of thickness."""
    return solid_section(thickness, Material("check", YOUNG, poisson, 1e-6, 100.0))


def rigidity(thickness: float, poisson: float = 0.3) -> float:
    """Bending stiffness D of a slab, N mm, by its own formula: so that a wrong section cannot cancel out."""
    return YOUNG * thickness**3 / (12 * (1 - poisson**2))


def rectangle(section: PlateSection, length: float, width: float, nx: int, ny: int) -> Plate:
    """A plate centred on the origin with nx by ny equal elements."""
    x, y = np.linspace(-length / 2, length / 2, nx + 1), np.linspace(-width / 2, width / 2, ny + 1)
    return Plate.uniform(PlanMesh.with_openings(x, y, ()), section)


def even_pressure(plate: Plate, pressure: float = 1.0) -> Floats:
    """Load vector of a downward pressure, MPa, over the whole plate."""
    return plate.own_weight() * (pressure / plate.sections[0].mass)


def patch_force(plate: Plate, area: Rectangle, total: float = 1.0, spread: float = 10.0) -> Floats:
    """Load vector of a downward force, N, spread evenly over ``area``."""
    points, weight = rectangle_points(area, spread)
    load: Floats = plate.at(points).deflection.T @ (-weight * (total / weight.sum()))
    return load


def point_force(plate: Plate, x: float, y: float, force: float = 1.0) -> Floats:
    """Load vector of a downward force, N, at one point."""
    load: Floats = plate.at(np.array([(x, y)])).deflection.T @ np.array([-force])
    return load


def held(plate: Plate, kind: str, sides: Sequence[str] = ALL_SIDES) -> Integers:
    return edge_unknowns(plate, sides, kind)


def bend(plate: Plate, load: Floats, fixed: Integers) -> Floats:
    """Unknowns (N,) under ``load`` with the ``fixed`` unknowns at zero."""
    free = np.setdiff1d(np.arange(load.size), fixed)
    motion = np.zeros(load.size)
    motion[free] = factorise(plate.stiffness, free).solve(load[free])
    return motion


def sinking(plate: Plate, motion: Floats, x: float = 0.0, y: float = 0.0) -> float:
    """Downward deflection at a point, mm."""
    return -float((plate.at(np.array([(x, y)])).deflection @ motion)[0])


def moments(plate: Plate, motion: Floats, x: float = 0.0, y: float = 0.0) -> Floats:
    """Moments mx, my, mxy per width, N, positive where the plate sags: the mean over the elements that meet there."""
    step = 1e-6 * SIDE
    limit_x, limit_y = plate.mesh.x[-1], plate.mesh.y[-1]
    around = np.array([(x + i * step, y + j * step) for i in (-1, 1) for j in (-1, 1)])
    around = np.clip(around, (-limit_x, -limit_y), (limit_x, limit_y))
    curvature = np.array([(row @ motion).mean() for row in plate.at(around).curvature])
    return np.asarray(plate.sections[0].bending @ curvature)


def pressure_on(basis: CellBasis, pressure: float = 1.0) -> Floats:
    """Load vector of a downward pressure on a mesh of any shape."""
    load = np.zeros(basis.N)
    for dofs, (deflection, _, _) in zip(basis.dofs.element_dofs, basis.basis, strict=True):
        np.add.at(load, dofs, -pressure * (np.asarray(deflection) * basis.dx).sum(axis=1))
    return load


def component_of(basis: CellBasis) -> Integers:
    """What each unknown of a basis is: 0 deflection, 1 and 2 rotations."""
    component = np.empty(basis.N, dtype=np.int64)
    for row, dofs in enumerate(basis.dofs.element_dofs):
        component[dofs] = row % 3
    return component


def observed_rate(error_of: Callable[[int], float], coarse: int, fine: int) -> float:
    """Order of convergence between two numbers of elements a side."""
    return float(np.log(error_of(coarse) / error_of(fine)) / np.log(fine / coarse))

"""Quadrilateral meshes that are no tensor grids, and the plate element on them; lengths in mm."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from skfem import CellBasis, MeshQuad, MeshQuad2

from deflect.checks.bench.plates import SIDE, component_of, pressure_on
from deflect.mechanics.arrays import Flags, Floats, Integers, Sparse
from deflect.mechanics.element import ElementQuadMITC9
from deflect.mechanics.plate import assemble_stiffness, factorise, simple_basis
from deflect.mechanics.sections import PlateSection


@dataclass(frozen=True, eq=False)
class FreePlate:
    """One section on a mesh of any shape, with the production element, stiffness and factor."""

    mesh: MeshQuad | MeshQuad2
    section: PlateSection

    @cached_property
    def basis(self) -> CellBasis:
        return simple_basis(self.mesh)

    @cached_property
    def component(self) -> Integers:
        """What each unknown is: 0 deflection, 1 and 2 rotations."""
        return component_of(self.basis)

    @cached_property
    def stiffness(self) -> Sparse:
        cells = self.mesh.nelements
        return assemble_stiffness(
            self.basis,
            np.broadcast_to(self.section.bending, (cells, 3, 3)),
            np.broadcast_to(self.section.shear, (cells, 2, 2)),
        )

    def pressure(self) -> Floats:
        """Load vector of a downward pressure of 1 MPa."""
        return pressure_on(self.basis)

    def bend(self, load: Floats, fixed: Flags) -> Floats:
        """Unknowns (N,) with the ``fixed`` ones (N,) at zero."""
        free = np.flatnonzero(~fixed)
        motion = np.zeros(self.basis.N)
        motion[free] = factorise(self.stiffness, free).solve(load[free])
        return motion

    def rim(self, where: Callable[[Floats], Flags]) -> Flags:
        """Unknowns (N,) on the facets whose middles satisfy ``where``."""
        on = np.zeros(self.basis.N, dtype=bool)
        on[self.basis.get_dofs(self.mesh.facets_satisfying(where, boundaries_only=True)).all()] = True
        return on

    def nearest(self, x: float, y: float) -> int:
        """The deflection unknown next to a place."""
        deflections = np.flatnonzero(self.component == 0)
        place = self.basis.doflocs[:, deflections]
        return int(deflections[np.hypot(place[0] - x, place[1] - y).argmin()])

    def moments(self, motion: Floats, x: float, y: float) -> Floats:
        """Moments mx, my, mxy per width, N, positive where the plate sags, at the node of the mesh next to a place:
        the mean over the elements that meet there."""
        corners = np.array([[0.0, 1.0, 1.0, 0.0], [0.0, 0.0, 1.0, 1.0]])
        node = int(np.hypot(self.mesh.p[0] - x, self.mesh.p[1] - y).argmin())
        cells = np.flatnonzero((self.mesh.t == node).any(axis=0))
        place = self.mesh.mapping().F(corners, cells)
        here = np.hypot(place[0] - self.mesh.p[0, node], place[1] - self.mesh.p[1, node]).argmin(axis=1)
        read = CellBasis(self.mesh, ElementQuadMITC9(), quadrature=(corners, np.ones(4)), elements=cells)
        curvature = np.zeros((3, cells.size, 4))
        for dofs, (_, rotation, _) in zip(read.element_dofs, read.basis, strict=True):
            slope = rotation.grad * motion[dofs][:, None]
            curvature += np.stack([slope[0, 0], slope[1, 1], slope[0, 1] + slope[1, 0]])
        return np.asarray(self.section.bending @ curvature[:, np.arange(cells.size), here].mean(axis=1))


def everywhere(middles: Floats) -> Flags:
    """The whole boundary."""
    return np.ones(middles.shape[1:], dtype=bool)


def distorted(elements: int, share: float = 0.25, seed: int = 1) -> MeshQuad:
    """A square from -SIDE/2 to SIDE/2 whose inner nodes are moved by up to ``share`` of the element size."""
    line = np.linspace(-SIDE / 2, SIDE / 2, elements + 1)
    mesh = MeshQuad.init_tensor(line, line)
    inner = mesh.interior_nodes()
    points = mesh.p.copy()
    points[:, inner] += np.random.default_rng(seed).uniform(-share, share, (2, inner.size)) * SIDE / elements
    return MeshQuad(points, mesh.t)


def disc(radius: float, elements: int) -> MeshQuad:
    """A square grid pulled onto a disc: squares stay squares in the middle, rings at the rim, which is a polygon."""
    line = np.linspace(-1, 1, elements + 1)
    mesh = MeshQuad.init_tensor(line, line)
    x, y = mesh.p
    ring = np.maximum(np.abs(x), np.abs(y))
    round_off = np.maximum(np.hypot(x, y), 1e-30)
    pull = ring * (ring / round_off) + (1 - ring)
    return MeshQuad(np.ascontiguousarray(radius * mesh.p * pull), mesh.t)


def sector(inner: float, outer: float, across: int, around: int, even: bool = False) -> MeshQuad2:
    """A quarter of an annulus with curved sides; radii grow by equal ratios, so that elements keep their shape,
    or by equal steps where ``even``."""
    flat = MeshQuad2.from_mesh(MeshQuad.init_tensor(np.linspace(0, 1, across + 1), np.linspace(0, 1, around + 1)))
    share, angle = flat.doflocs[0], np.pi / 2 * flat.doflocs[1]
    radius = inner + share * (outer - inner) if even else inner * (outer / inner) ** share
    return MeshQuad2(np.stack([radius * np.cos(angle), radius * np.sin(angle)]), flat.t)


def rhombus(side: float, angle: float, elements: int) -> MeshQuad:
    """A rhombus with one side along x; ``angle`` between its sides, rad."""
    line = np.linspace(-side / 2, side / 2, elements + 1)
    mesh = MeshQuad.init_tensor(line, line)
    u, v = mesh.p
    return MeshQuad(np.stack([u + v * np.cos(angle), v * np.sin(angle)]), mesh.t)

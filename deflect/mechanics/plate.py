"""A Reissner-Mindlin plate: its stiffness, its loads, and what can be read off it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TypeVar

import numpy as np
import scipy.sparse as sparse
from scipy.sparse.linalg import SuperLU, splu
from skfem import CellBasis, ElementQuad2, MeshQuad

from deflect.mechanics.arrays import Floats, Integers, Sparse
from deflect.mechanics.blocks import BlockFactor
from deflect.mechanics.element import ElementQuadMITC9
from deflect.mechanics.mesh import SAME_LINE, Located, PlanMesh
from deflect.mechanics.sections import PlateSection

# Three Gauss points a side integrate the element's stiffness exactly on a rectangle.
_ORDER = 5
_SCALAR = ElementQuad2()
# A section warps under shear: with the parabolic shear stress of a homogeneous plate its faces move sideways by
# (h/2) w' - V/2G where Reissner's mean rotation gives (h/2) (w' - 6V/5Gh), hence by the mean rotation and a sixth of
# the shear strain (derived; E. Reissner, J. Appl. Mech. 12 (1945) A69).
_FACE_SHEAR = 1.0 / 6.0
# Loads that are answered together: all at once would hold several copies of the whole answer.
_AT_ONCE = 1024
# Sets of points whose rows a plate keeps: what one solution reads, and a few more.
_KEPT = 16
# Meshes of which a process keeps what plates on them share.
_READERS = 16
_Rows = TypeVar("_Rows")


@dataclass(frozen=True, eq=False)
class MeshRows:
    """Sparse rows (points, unknowns) that read any plate on a mesh at points; each is made when it is asked for.

    found: points in elements; dofs (27, k): unknowns of these; value (9, k) and slope (9, 2, k), 1/mm: of the nodes'
    functions, weighed.
    """

    found: Located
    dofs: Integers
    value: Floats
    slope: Floats
    shape: tuple[int, int]

    def rows(self, *weighed: tuple[Floats, int]) -> Sparse:
        """Rows that sum components of each node, 0 deflection, 1 and 2 rotations, each weighed by entries (9, k)."""
        entries = np.concatenate([weight.ravel() for weight, _ in weighed])
        unknowns = np.concatenate([self.dofs[component::3].ravel() for _, component in weighed])
        points = np.tile(self.found.point, sum(len(weight) for weight, _ in weighed))
        return sparse.csr_array((entries, (points, unknowns)), shape=self.shape)

    @cached_property
    def deflection(self) -> Sparse:
        return self.rows((self.value, 0))

    @cached_property
    def rotation_x(self) -> Sparse:
        return self.rows((self.value, 1))

    @cached_property
    def rotation_y(self) -> Sparse:
        return self.rows((self.value, 2))

    @cached_property
    def face_x(self) -> Sparse:
        return self.rows(((1.0 - _FACE_SHEAR) * self.value, 1), (_FACE_SHEAR * self.slope[:, 0], 0))

    @cached_property
    def face_y(self) -> Sparse:
        return self.rows(((1.0 - _FACE_SHEAR) * self.value, 2), (_FACE_SHEAR * self.slope[:, 1], 0))

    @cached_property
    def curvature(self) -> tuple[Sparse, Sparse, Sparse]:
        along_x, along_y = self.slope[:, 0], self.slope[:, 1]
        return self.rows((along_x, 1)), self.rows((along_y, 2)), self.rows((along_y, 1), (along_x, 2))


class _MeshReader:
    """What plates on one mesh share: the element's functions, and rows at points; those read last are kept."""

    def __init__(self, mesh: PlanMesh) -> None:
        self.mesh = mesh
        self.basis = CellBasis(mesh.quads, ElementQuadMITC9(), intorder=_ORDER)
        self._read: dict[bytes, MeshRows] = {}

    def at(self, points: Floats) -> MeshRows:
        return _kept(self._read, points, self._rows_at)

    def _rows_at(self, points: Floats) -> MeshRows:
        found = self.mesh.locate(points)
        _, _, dx, dy = self.mesh.cells
        value = np.empty((9, found.point.size))
        slope = np.empty((9, 2, found.point.size))
        for node in range(9):
            value[node], slope[node] = _SCALAR.lbasis(found.local, node)
        value *= found.weight
        slope[:, 0] *= found.weight / dx[found.element]
        slope[:, 1] *= found.weight / dy[found.element]
        dofs = self.basis.dofs.element_dofs[:, found.element]
        return MeshRows(found, dofs, value, slope, (len(points), self.basis.N))


def _kept(read: dict[bytes, _Rows], points: Floats, make: Callable[[Floats], _Rows]) -> _Rows:
    """What was made for these points, or is made now; the oldest goes where too many are kept."""
    key = points.tobytes()
    if key not in read:
        if len(read) >= _KEPT:
            read.pop(next(iter(read)), None)
        read[key] = make(points)
    return read[key]


@lru_cache(maxsize=_READERS)
def _reader_of(mesh: PlanMesh) -> _MeshReader:
    return _MeshReader(mesh)


@dataclass(frozen=True, eq=False)
class PointRows:
    """Sparse rows (points, unknowns) that read a plate's state at points.

    deflection, surface: mm (surface: of either face, with the Poisson thickening);
    rotation_x, rotation_y: rad; face_x, face_y: rad, times the distance from the middle plane = sideways movement of
    either face; curvature: three of them, kx, ky, 2 kxy in 1/mm.
    thickening (k,): of the section at each of ``on_mesh.found``, mm2.
    """

    on_mesh: MeshRows
    thickening: Floats

    @property
    def deflection(self) -> Sparse:
        return self.on_mesh.deflection

    @cached_property
    def surface(self) -> Sparse:
        slope = self.on_mesh.slope * self.thickening
        return self.on_mesh.rows((self.on_mesh.value, 0), (slope[:, 0], 1), (slope[:, 1], 2))

    @property
    def rotation_x(self) -> Sparse:
        return self.on_mesh.rotation_x

    @property
    def rotation_y(self) -> Sparse:
        return self.on_mesh.rotation_y

    @property
    def face_x(self) -> Sparse:
        return self.on_mesh.face_x

    @property
    def face_y(self) -> Sparse:
        return self.on_mesh.face_y

    @property
    def curvature(self) -> tuple[Sparse, Sparse, Sparse]:
        return self.on_mesh.curvature


@dataclass(frozen=True, eq=False)
class Plate:
    """A plate on a plan mesh; ``kind`` (elements,) says which of ``sections`` each element has."""

    mesh: PlanMesh
    sections: tuple[PlateSection, ...]
    kind: Integers

    @staticmethod
    def uniform(mesh: PlanMesh, section: PlateSection) -> Plate:
        return Plate(mesh, (section,), np.zeros(int(mesh.filled.sum()), dtype=np.int64))

    @property
    def basis(self) -> CellBasis:
        return _reader_of(self.mesh).basis

    @cached_property
    def stiffness(self) -> Sparse:
        """Stiffness matrix (N, N), singular by three rigid motions."""
        bending = np.stack([s.bending for s in self.sections])[self.kind]
        shear = np.stack([s.shear for s in self.sections])[self.kind]
        return assemble_stiffness(self.basis, bending, shear)

    @cached_property
    def rigid(self) -> Floats:
        """Rigid motions (N, 3): sinking by 1, tilt along x and along y by 1 rad about the origin."""
        modes = np.zeros((self.basis.N, 3))
        place, component = self.basis.doflocs, self.component
        modes[component == 0] = np.stack([np.ones(self.basis.N), *place]).T[component == 0]
        modes[component == 1, 1] = 1.0
        modes[component == 2, 2] = 1.0
        return modes

    @cached_property
    def component(self) -> Integers:
        """What each unknown is (N,): 0 deflection, 1 and 2 rotations."""
        component = np.empty(self.basis.N, dtype=np.int64)
        for row, dofs in enumerate(self.basis.dofs.element_dofs):
            component[dofs] = row % 3
        return component

    @cached_property
    def pins(self) -> Integers:
        """Three deflections, far apart, whose holding stops every rigid motion."""
        x, y = self.basis.doflocs
        dofs = np.flatnonzero(self.component == 0)
        corners = [np.argmin(sx * x[dofs] + sy * y[dofs]) for sx, sy in ((1, 1), (-1, 1.01), (1.02, -1))]
        return dofs[corners]

    @cached_property
    def factor(self) -> BlockFactor:
        """Factor of the stiffness with the pins held: one block for each row of elements across the longer way."""
        way = 0 if self.mesh.x.size >= self.mesh.y.size else 1
        lines = (self.mesh.x, self.mesh.y)[way]
        # Nodes on the line between two rows belong to the row above it, those of the last line to the last row.
        row = np.searchsorted(lines, self.basis.doflocs[way, self.free] + SAME_LINE, side="right") - 1
        return BlockFactor.of(self.stiffness[self.free][:, self.free], np.minimum(row, lines.size - 2))

    @cached_property
    def free(self) -> Integers:
        return np.setdiff1d(np.arange(self.basis.N), self.pins)

    def respond(self, rows: Sparse) -> Floats:
        """Displacements (N, n) under unit loads on each of ``rows`` (n, N), pins held.

        The pins carry nothing once all loads on the plate are in balance.
        """
        answer = np.zeros((self.basis.N, rows.shape[0]))
        held = rows[:, self.free]
        for start in range(0, rows.shape[0], _AT_ONCE):
            some = slice(start, start + _AT_ONCE)
            answer[self.free, some] = self.factor.solve(held[some].T.toarray(order="C"))
        return answer

    def at(self, points: Floats) -> PointRows:
        """Rows that read the plate at ``points`` (m, 2); those read last are kept: one case reads them often."""
        return _kept(self._read, points, self._rows_at)

    @cached_property
    def _read(self) -> dict[bytes, PointRows]:
        return {}

    def _rows_at(self, points: Floats) -> PointRows:
        rows = _reader_of(self.mesh).at(points)
        thickening = np.array([s.thickening for s in self.sections])[self.kind[rows.found.element]]
        return PointRows(rows, thickening)

    def section_at(self, points: Floats, read: Callable[[PlateSection], float]) -> Floats:
        """One figure of the section at each point (m,)."""
        found = self.mesh.locate(points)
        here = np.array([read(s) for s in self.sections])[self.kind[found.element]]
        return np.asarray(np.bincount(found.point, weights=found.weight * here, minlength=len(points)), dtype=float)

    def own_weight(self) -> Floats:
        """Load vector (N,) of the plate's own mass, kg, downward; times the acceleration of gravity: N."""
        mass = np.array([s.mass for s in self.sections])[self.kind]
        load = np.zeros(self.basis.N)
        for dofs, (deflection, _, _) in zip(self.basis.dofs.element_dofs, self.basis.basis, strict=True):
            np.add.at(load, dofs, -mass * (np.asarray(deflection) * self.basis.dx).sum(axis=1))
        return load


def assemble_stiffness(basis: CellBasis, bending: Floats, shear: Floats) -> Sparse:
    """Stiffness matrix from element-wise ``bending`` (elements, 3, 3) and ``shear`` (elements, 2, 2).

    Any scikit-fem quadrilateral mesh will do, distorted ones too.
    """
    elements, points = basis.dx.shape
    strain = np.zeros((elements, points, 5, basis.Nbfun))
    for i, (_, rotation, gamma) in enumerate(basis.basis):
        slope = rotation.grad
        strain[..., 0, i] = slope[0, 0]
        strain[..., 1, i] = slope[1, 1]
        strain[..., 2, i] = slope[0, 1] + slope[1, 0]
        strain[..., 3, i] = gamma[0]
        strain[..., 4, i] = gamma[1]
    law = np.zeros((elements, 5, 5))
    law[:, :3, :3], law[:, 3:, 3:] = bending, shear
    stress = (law[:, None] @ strain) * basis.dx[..., None, None]
    flat = (elements, 5 * points, basis.Nbfun)
    blocks = strain.reshape(flat).transpose(0, 2, 1) @ stress.reshape(flat)
    dofs = basis.dofs.element_dofs.T
    row = np.broadcast_to(dofs[:, :, None], blocks.shape)
    column = np.broadcast_to(dofs[:, None, :], blocks.shape)
    entries = (blocks.ravel(), (row.ravel(), column.ravel()))
    return sparse.coo_array(entries, shape=(basis.N, basis.N)).tocsc()


def bending_stress(plate: Plate, motion: Floats, points: Floats) -> float:
    """Greatest von Mises stress of plate bending at the outer fibres over ``points``, MPa."""
    read = plate.at(points)
    curvature = np.stack([row @ motion for row in read.curvature])
    worst = 0.0
    found = plate.mesh.locate(points)
    for kind, section in enumerate(plate.sections):
        here = np.unique(found.point[plate.kind[found.element] == kind])
        if here.size == 0:
            continue
        for fibre in section.fibres:
            sx, sy, txy = fibre @ curvature[:, here]
            worst = max(worst, float(np.sqrt(sx**2 - sx * sy + sy**2 + 3 * txy**2).max()) / section.ligament)
    return worst


def factorise(stiffness: Sparse, free: Integers) -> SuperLU:
    """Sparse factor of the symmetric positive definite block of the ``free`` unknowns."""
    block = stiffness[free][:, free].tocsc()
    return splu(block, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})


def simple_basis(mesh: MeshQuad) -> CellBasis:
    """The plate element on a mesh of one's own, for checks."""
    return CellBasis(mesh, ElementQuadMITC9(), intorder=_ORDER)


def edge_unknowns(plate: Plate, sides: Sequence[str], kind: str) -> Integers:
    """Unknowns held on the outer ``sides`` ("left", "right", "front", "back").

    kind "hard": deflection and the rotation along the edge; "soft": deflection; "clamped": all three.
    """
    x, y = plate.basis.doflocs
    place = {"left": x - x.min(), "right": x.max() - x, "front": y - y.min(), "back": y.max() - y}
    held: list[Integers] = []
    for side in sides:
        along = 2 if side in ("left", "right") else 1
        wanted = {"soft": (0,), "hard": (0, along), "clamped": (0, 1, 2)}[kind]
        on_side = place[side] < 1e-9 * max(np.ptp(x), np.ptp(y))
        held.append(np.flatnonzero(on_side & np.isin(plate.component, wanted)))
    return np.unique(np.concatenate(held))

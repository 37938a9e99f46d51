"""A slab as a three-dimensional solid of quadratic hexahedra: its stiffness, its answers, and what is read off it.

The mesh is the plan of a plate, extruded in layers.  What lies inside the slab is no concern of the contact:
the *motion* of a solid is the displacement of its two faces, in every node there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import scipy.sparse as sparse
from scipy.sparse.linalg import SuperLU
from skfem import Dofs, ElementHex2, MeshHex
from skfem.quadrature import get_quadrature

from deflect.mechanics.arrays import Floats, Integers, Sparse
from deflect.mechanics.mesh import Located, PlanMesh
from deflect.mechanics.plate import factorise
from deflect.model.material import Material

_ELEMENT = ElementHex2()
_NODES = 27
# Where the element's own order puts the corners of a box; so its axes are the box's.
_CORNERS = np.asarray(_ELEMENT.doflocs)[:8].astype(np.int64)
# Three Gauss points a side integrate the stiffness of a box exactly.
_ORDER = 5
# Loads answered at a time: they pass through the whole inside of the solid.
_AT_A_TIME = 100
_GAUSS2 = 0.5 + np.array([-0.5, 0.5]) / np.sqrt(3.0)
# A force at a point (clamp, hold-down) presses on a pad of this side, mm: foot of a clamp, washer or T-nut (ours).
PAD = 100.0
# A node this near to a face, mm, lies on it.
_ON_FACE = 1e-6


@dataclass(frozen=True, eq=False)
class Matter:
    """What fills an element.

    law (6, 6): stresses xx, yy, zz, xy, yz, xz from strains, MPa; density: kg/mm3; ligament: share of the
    pitch between holes, by which a smeared stress is raised (solid: 1).
    """

    law: Floats
    density: float
    ligament: float = 1.0

    @property
    def face_law(self) -> Floats:
        """Stresses xx, yy, xy of a face free of pressure from its strains (3, 3), MPa."""
        compliance = np.linalg.inv(self.law)
        plane = [0, 1, 3]
        return np.asarray(np.linalg.inv(compliance[np.ix_(plane, plane)]))


@dataclass(frozen=True)
class Orthotropy:
    """A square array of holes along z, smeared: shares of E along the pitch, of G in plan and of the area, and
    the Poisson's ratio along the pitch."""

    modulus: float
    shear: float
    area: float
    poisson: float


def solid_matter(material: Material) -> Matter:
    """The plain material."""
    return Matter(elastic_law(material, Orthotropy(1.0, 1.0, 1.0, material.poisson_ratio)), material.density)


def elastic_law(material: Material, holes: Orthotropy) -> Floats:
    """Elastic law (6, 6) of a material with holes along z.

    Along the holes the ligaments carry side by side: the modulus and the shear across the thickness are shares of
    the area, and the contraction in plan is that of the material, exactly (derived: a uniform stress along z
    leaves the holes' walls free of stress).
    """
    e, nu = material.youngs_modulus, material.poisson_ratio
    along, across = e * holes.modulus, e * holes.area
    compliance = np.zeros((6, 6))
    compliance[:3, :3] = [
        [1 / along, -holes.poisson / along, -nu / across],
        [-holes.poisson / along, 1 / along, -nu / across],
        [-nu / across, -nu / across, 1 / across],
    ]
    shear = material.shear_modulus
    compliance[[3, 4, 5], [3, 4, 5]] = 1 / (shear * np.array([holes.shear, holes.area, holes.area]))
    return np.asarray(np.linalg.inv(compliance))


@dataclass(frozen=True, eq=False)
class FaceRows:
    """Sparse rows (points, motions) that read a solid at points of one face.

    surface: the face's rise, mm; deflection: the same over the pad that a force at a point presses on;
    rotation_x, rotation_y: of the line between the two faces, rad; along: how the face moves along x and y, mm;
    strain: xx, yy, xy of the face.
    """

    surface: Sparse
    rotation_x: Sparse
    rotation_y: Sparse
    along: tuple[Sparse, Sparse]
    strain: tuple[Sparse, Sparse, Sparse]
    read_pads: Callable[[], Sparse]

    @cached_property
    def deflection(self) -> Sparse:
        return self.read_pads()


@dataclass(frozen=True, eq=False)
class Solid:
    """A slab on a plan mesh, extruded through ``layers`` (heights, mm, from the underside up).

    kind (plan elements,) says which of ``matter`` each column of elements has.
    """

    mesh: PlanMesh
    layers: Floats
    matter: tuple[Matter, ...]
    kind: Integers

    @property
    def thickness(self) -> float:
        return float(self.layers[-1] - self.layers[0])

    @property
    def _count(self) -> int:
        return self.layers.size - 1

    @cached_property
    def hexahedra(self) -> MeshHex:
        """The solid as a scikit-fem mesh; columns follow the plan's elements, layers within them rise."""
        i, j = np.nonzero(self.mesh.filled)
        below = np.tile(np.arange(self._count), i.size)
        i, j = np.repeat(i, self._count), np.repeat(j, self._count)
        ny, nz = self.mesh.y.size, self.layers.size
        corners = [((i + a) * ny + j + b) * nz + below + c for a, b, c in _CORNERS]
        used, numbered = np.unique(np.stack(corners), return_inverse=True)
        grid = np.meshgrid(self.mesh.x, self.mesh.y, self.layers, indexing="ij")
        places = np.ascontiguousarray(np.stack([g.ravel() for g in grid])[:, used])
        return MeshHex(places, np.ascontiguousarray(numbered.reshape(8, -1)))

    @cached_property
    def _node_of(self) -> Integers:
        """Nodes of each element (27, elements)."""
        return np.asarray(Dofs(self.hexahedra, _ELEMENT).element_dofs, dtype=np.int64)

    @cached_property
    def places(self) -> Floats:
        """Where the nodes are (3, nodes), mm."""
        left, front, length, width = (np.repeat(v, self._count) for v in self.mesh.cells)
        columns = left.size // self._count
        low, height = np.tile(self.layers[:-1], columns), np.tile(np.diff(self.layers), columns)
        local = np.asarray(_ELEMENT.doflocs)
        places = np.empty((3, self.nodes))
        for axis, (start, size) in enumerate(((left, length), (front, width), (low, height))):
            places[axis, self._node_of] = start + local[:, axis, None] * size
        return places

    @cached_property
    def nodes(self) -> int:
        return int(self._node_of.max()) + 1

    @property
    def unknowns(self) -> int:
        """Displacements in all nodes."""
        return 3 * self.nodes

    @cached_property
    def _on_faces(self) -> Integers:
        """Unknowns of the nodes on either face, in order."""
        z = self.places[2]
        nodes = np.flatnonzero((z < self.layers[0] + _ON_FACE) | (z > self.layers[-1] - _ON_FACE))
        return (3 * nodes[:, None] + np.arange(3)).ravel()

    @property
    def motions(self) -> int:
        """Size of a motion: displacements x, y, z of every node on the faces."""
        return int(self._on_faces.size)

    @cached_property
    def rigid(self) -> Floats:
        """Rigid motions (motions, 3): sinking by 1, tilt along x and along y by 1 rad about the origin."""
        x, y, z = self.places[:, self._on_faces[::3] // 3]
        modes = np.zeros((self.motions, 3))
        modes[2::3] = np.stack([np.ones(x.size), x, y], axis=1)
        modes[0::3, 1] = -z
        modes[1::3, 2] = -z
        return modes

    @property
    def stiffness(self) -> Sparse:
        """Stiffness matrix (unknowns, unknowns), singular by six rigid motions; made anew, for it is large."""
        _, _, length, width = (np.repeat(v, self._count) for v in self.mesh.cells)
        kind = np.repeat(self.kind, self._count).astype(float)
        height = np.tile(np.diff(self.layers), kind.size // self._count)
        # Boxes alike in size and matter have one stiffness; a thousandth of a micrometre makes no difference.
        shapes, which = np.unique(np.round([length, width, height, kind], 6), axis=1, return_inverse=True)
        alike = np.stack([_box_stiffness(self.matter[int(m)].law, np.array(size)) for *size, m in shapes.T])
        unknown = (3 * self._node_of.T[:, :, None] + np.arange(3)).reshape(kind.size, -1).astype(np.int32)
        shape = (kind.size, 3 * _NODES, 3 * _NODES)
        row = np.broadcast_to(unknown[:, :, None], shape).ravel()
        column = np.broadcast_to(unknown[:, None, :], shape).ravel()
        entries = (alike[which.ravel()].ravel(), (row, column))
        return sparse.coo_array(entries, shape=(self.unknowns, self.unknowns)).tocsc()

    @cached_property
    def pins(self) -> Integers:
        """Six displacements of three corners of the underside whose holding stops every rigid motion."""
        x, y, z = self.places
        low = np.flatnonzero(z < self.layers[0] + _ON_FACE)
        a, b, c = (low[np.argmin(sx * x[low] + sy * y[low])] for sx, sy in ((1, 1), (-1, 1.01), (1.02, -1)))
        return np.array([3 * a, 3 * a + 1, 3 * a + 2, 3 * b + 1, 3 * b + 2, 3 * c + 2])

    @cached_property
    def factor(self) -> SuperLU:
        """Factor of the stiffness with the pins held."""
        return factorise(self.stiffness, self._free)

    @cached_property
    def _free(self) -> Integers:
        return np.setdiff1d(np.arange(self.unknowns), self.pins)

    def respond(self, rows: Sparse) -> Floats:
        """Motions (motions, n) under unit loads on each of ``rows`` (n, motions), pins held.

        The pins carry nothing once all loads on the solid are in balance; no load acts along the plan.
        """
        spread = sparse.csr_array(rows).tocoo()
        full = sparse.csr_array(
            (spread.data, (spread.row, self._on_faces[spread.col])), shape=(rows.shape[0], self.unknowns)
        )
        loads = full[:, self._free]
        answer = np.zeros((self.motions, rows.shape[0]))
        whole = np.zeros((self.unknowns, min(_AT_A_TIME, rows.shape[0])))
        for first in range(0, rows.shape[0], _AT_A_TIME):
            part = loads[first : first + _AT_A_TIME].toarray()
            count = len(part)
            whole[self._free, :count] = self.factor.solve(np.ascontiguousarray(part.T))
            answer[:, first : first + count] = whole[self._on_faces, :count]
        return answer

    def top(self, points: Floats) -> FaceRows:
        """Rows that read the upper face at ``points`` (m, 2)."""
        return self._face(points, 1.0)

    def underside(self, points: Floats) -> FaceRows:
        """Rows that read the lower face at ``points`` (m, 2)."""
        return self._face(points, 0.0)

    def _face(self, points: Floats, height: float) -> FaceRows:
        found = self.mesh.locate(points)
        here, beyond = self._rows(found, len(points), height), self._rows(found, len(points), 1.0 - height)
        lean = (1.0 if height == 0.0 else -1.0) / self.thickness
        return FaceRows(
            surface=here[0][2],
            rotation_x=lean * (here[0][0] - beyond[0][0]),
            rotation_y=lean * (here[0][1] - beyond[0][1]),
            along=(here[0][0], here[0][1]),
            strain=(here[1][0], here[2][1], here[2][0] + here[1][1]),
            read_pads=lambda: self._pads(points, height),
        )

    def _pads(self, points: Floats, height: float) -> Sparse:
        """Rows (points, motions): mean rise of a face over a pad around each point, as far as there is material."""
        steps = PAD * np.array([-1.0, 0.0, 1.0]) / 3
        around = points[:, None, :] + np.stack(np.meshgrid(steps, steps), axis=-1).reshape(1, -1, 2)
        pieces = around.shape[1]
        low, high = (np.array([lines[end] for lines in (self.mesh.x, self.mesh.y)]) for end in (0, -1))
        around = np.clip(around, low, high).reshape(-1, 2)
        around = np.where(self.mesh.has(around)[:, None], around, np.repeat(points, pieces, axis=0))
        mean = sparse.kron(sparse.eye_array(len(points)), np.full((1, pieces), 1 / pieces))
        return (mean @ self._rows(self.mesh.locate(around), len(around), height)[0][2]).tocsr()

    def _rows(self, found: Located, points: int, height: float) -> tuple[tuple[Sparse, Sparse, Sparse], ...]:
        """Rows that read x, y and z of a face: the value, its slope along x, and along y."""
        layer = self._count - 1 if height == 1.0 else 0
        nodes = self._node_of[:, found.element * self._count + layer]
        number = np.full(self.unknowns, -1, dtype=np.int64)
        number[self._on_faces] = np.arange(self.motions)
        _, _, length, width = self.mesh.cells
        local = np.vstack([found.local, np.full(found.point.size, height)])
        entries: list[tuple[Floats, ...]] = []
        for k in range(_NODES):
            value, slope = _ELEMENT.lbasis(local, k)
            weight = found.weight
            entries.append(
                (value * weight, slope[0] * weight / length[found.element], slope[1] * weight / width[found.element])
            )
        on_face = np.asarray(_ELEMENT.doflocs)[:, 2] == height
        read = np.array(entries)[on_face]
        row = np.broadcast_to(found.point, nodes[on_face].shape).ravel()
        shape = (points, self.motions)

        def rows(which: int, component: int) -> Sparse:
            column = number[3 * nodes[on_face] + component].ravel()
            return sparse.csr_array((read[:, which].ravel(), (row, column)), shape=shape)

        return tuple((rows(which, 0), rows(which, 1), rows(which, 2)) for which in range(3))

    def face_stress(self, motion: Floats, points: Floats) -> float:
        """Greatest von Mises stress in either face over ``points`` (m, 2), MPa, from the face's own strains."""
        found = self.mesh.locate(points)
        kind = np.empty(len(points), dtype=np.int64)
        kind[found.point] = self.kind[found.element]
        worst = 0.0
        for read in (self.top(points), self.underside(points)):
            strain = np.stack([row @ motion for row in read.strain])
            for number, matter in enumerate(self.matter):
                sx, sy, sxy = matter.face_law @ strain[:, kind == number]
                mises = np.sqrt(sx**2 - sx * sy + sy**2 + 3 * sxy**2) / matter.ligament
                worst = max(worst, float(mises.max(initial=0.0)))
        return worst

    def own_weight(self) -> Floats:
        """Load (motions,) of the solid's own mass, kg, downward, half of it on either face."""
        left, front, length, width = self.mesh.cells
        share = np.array([m.density for m in self.matter])[self.kind] * length * width * self.thickness / 4
        load = np.zeros(self.motions)
        for a in _GAUSS2:
            for b in _GAUSS2:
                points = np.column_stack([left + a * length, front + b * width])
                for read in (self.top(points), self.underside(points)):
                    load -= 0.5 * (read.surface.T @ share)
        return load


def _box_stiffness(law: Floats, size: Floats) -> Floats:
    """Stiffness (81, 81) of a box of edges ``size`` (3,) mm."""
    places, weights = get_quadrature(_ELEMENT.refdom, _ORDER)
    slope = np.stack([_ELEMENT.lbasis(places, k)[1] for k in range(_NODES)]) / size[:, None]
    x, y, z = np.moveaxis(slope, 1, 0)
    none = np.zeros_like(x)
    # Strains xx, yy, zz, xy, yz, xz of displacements along x, y and z.
    strain = np.array([[x, none, none], [none, y, none], [none, none, z], [y, x, none], [none, z, y], [z, none, x]])
    kinds, components, nodes, points = strain.shape
    strain = strain.transpose(3, 0, 2, 1).reshape(points, kinds, nodes * components)
    return np.asarray(np.einsum("qai,ab,qbj,q->ij", strain, law, strain, weights * size.prod(), optimize=True))

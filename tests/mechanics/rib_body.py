"""A whole ribbed casting in solid elements and as a plate: bent between two walls, and twisted at its corners.

A quarter of the body is solved: mirrored in both middle planes for bending, turned over in both for twist.  What holds
it and what twists it is spread over the height of its walls, so that no foot or edge is squashed.
The numbers that the test holds are printed by running this file.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import scipy.sparse as sparse
from rib_cell import lines, solid
from skfem import MeshHex, condense, solve

from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.layout import base_layout
from deflect.mechanics.mesh import PlanMesh, graded_lines
from deflect.mechanics.plate import Plate, factorise
from deflect.model.die import DieBase
from deflect.model.material import Material
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.values import Rectangle

IRON = Material("iron", 174_000.0, 0.275, 7.2e-6, 100.0)
# Six bays along x and four along y: ribs cross in the middle.
PATTERN = RibPattern(60.0, 0.0, 50.0, Ribs(250.0, 40.0), Ribs(250.0, 40.0))
OPEN = DieBase(1550.0, 1050.0, 350.0, IRON, ribs=PATTERN)
CLOSED = DieBase(1550.0, 1050.0, 350.0, IRON, ribs=RibPattern(60.0, 40.0, 50.0, Ribs(250.0, 40.0), Ribs(250.0, 40.0)))
# Open below, with two bays across and with six.
FEW = DieBase(1550.0, 1050.0, 350.0, IRON, ribs=RibPattern(60.0, 0.0, 50.0, Ribs(500.0, 40.0), Ribs(375.0, 40.0)))
MANY = DieBase(2550.0, 1550.0, 350.0, IRON, ribs=PATTERN)
# Closed below with as few; open with walls twice as thick as its ribs; shallow, with a thick skin; deep.
FEW_CLOSED = DieBase(
    1550.0, 1050.0, 350.0, IRON, ribs=RibPattern(60.0, 40.0, 50.0, Ribs(500.0, 40.0), Ribs(375.0, 40.0))
)
THICK_WALLS = DieBase(
    1080.0, 1080.0, 350.0, IRON, ribs=RibPattern(60.0, 0.0, 80.0, Ribs(250.0, 40.0), Ribs(250.0, 40.0))
)
SHALLOW = DieBase(1850.0, 1250.0, 250.0, IRON, ribs=RibPattern(70.0, 0.0, 50.0, Ribs(300.0, 30.0), Ribs(300.0, 30.0)))
DEEP = DieBase(2060.0, 1260.0, 500.0, IRON, ribs=RibPattern(50.0, 0.0, 60.0, Ribs(300.0, 40.0), Ribs(333.0, 50.0)))
# Solid in the middle over two bays each way, and over four along.
PADDED, LONG_PAD, PADDED_BOX = (
    replace(base, ribs=replace(base.ribs, pads=(Rectangle(0.0, 0.0, length, 500.0),)))
    for base, length in ((OPEN, 500.0), (OPEN, 1000.0), (CLOSED, 1000.0))
    if base.ribs is not None
)
BODIES = {
    "open": OPEN,
    "closed": CLOSED,
    "few": FEW,
    "many": MANY,
    "few, closed": FEW_CLOSED,
    "thick walls": THICK_WALLS,
    "shallow": SHALLOW,
    "deep": DEEP,
}
WITH_PADS = {"padded": PADDED, "long pad": LONG_PAD, "padded, closed": PADDED_BOX}
# Where smearing reaches its limits: walls three times as thick as the ribs; those with two bays; deep and thin; welded
# of thin plates; ribs less than three thicknesses apart.
_WIDE, _FEW = Ribs(250.0, 40.0), Ribs(400.0, 40.0)
_DEEP, _THIN, _CLOSE = Ribs(350.0, 30.0), Ribs(200.0, 15.0), Ribs(150.0, 60.0)
STEEL = Material("steel", 206_000.0, 0.3, 7.85e-6, 100.0)
BEYOND = {
    "walls of three ribs": DieBase(1120.0, 1120.0, 350.0, IRON, ribs=RibPattern(60.0, 0.0, 120.0, _WIDE, _WIDE)),
    "and two bays": DieBase(920.0, 920.0, 350.0, IRON, ribs=RibPattern(60.0, 0.0, 120.0, _FEW, _FEW)),
    "and two bays, closed": DieBase(920.0, 920.0, 350.0, IRON, ribs=RibPattern(60.0, 40.0, 120.0, _FEW, _FEW)),
    "deep, thin": DieBase(1440.0, 1440.0, 700.0, IRON, ribs=RibPattern(40.0, 0.0, 40.0, _DEEP, _DEEP)),
    "thin plates": DieBase(815.0, 815.0, 300.0, STEEL, ribs=RibPattern(15.0, 0.0, 15.0, _THIN, _THIN)),
    "close ribs": DieBase(660.0, 660.0, 300.0, IRON, ribs=RibPattern(50.0, 0.0, 60.0, _CLOSE, _CLOSE)),
}
FORCE = 1e6  # N, on the whole plan for bending, on each corner for twist


@dataclass(frozen=True)
class Moved:
    """Sinking of the middle against the faces that are held (mm), rise of a corner under twist (mm)."""

    bent: float
    twisted: float


def _half(ribs: Ribs, across: float, wall: float) -> Floats:
    """Grid lines from the middle to the outer edge, with lines at every face of rib and wall."""
    bays = ribs.bays(across, wall)
    bay = (across - wall) / bays
    stretches: list[tuple[float, int]] = []
    for k in range(bays // 2):
        last = k == bays // 2 - 1
        stretches += [
            (ribs.thickness / 2, 1),
            (bay - ribs.thickness / 2 - (wall if last else ribs.thickness) / 2, 3),
            ((wall if last else ribs.thickness) / 2, 1),
        ]
    return lines(*stretches, (wall / 2, 1))


def _mesh(base: DieBase) -> MeshHex:
    ribs = base.ribs
    assert ribs is not None
    assert ribs.along_x is not None
    assert ribs.along_y is not None
    core = base.thickness - ribs.top - ribs.bottom
    z = lines(*(s for s in ((ribs.bottom, 1), (core, 4), (ribs.top, 2)) if s[0] > 0))
    mesh = MeshHex.init_tensor(
        _half(ribs.along_y, base.length, ribs.walls), _half(ribs.along_x, base.width, ribs.walls), z
    )
    x, y, z = mesh.p[:, mesh.t].mean(axis=1)

    def stands(at: Floats, way: str) -> Flags:
        strips = ribs.rib_strips(base.plan, way)
        return np.any([np.abs(at - middle) < thick / 2 for middle, thick in strips], axis=0)

    skin = (z < ribs.bottom) | (z > base.thickness - ribs.top)
    pads = [(np.abs(x - p.x) < p.length / 2) & (np.abs(y - p.y) < p.width / 2) for p in ribs.pads]
    return mesh.restrict(np.flatnonzero(np.any([skin, stands(x, "y"), stands(y, "x"), *pads], axis=0)))


def in_solids(base: DieBase) -> Moved:
    """The body in solid elements."""
    mesh = _mesh(base)
    basis, stiffness, way = solid(mesh, base.material)
    x, y, z = basis.doflocs
    wall = base.ribs.walls if base.ribs is not None else 0.0
    end = np.isclose(x, base.length / 2) & (way == 2)
    middle_x, middle_y, middle = np.isclose(x, 0), np.isclose(y, 0), np.isclose(z, base.thickness / 2, atol=40.0)
    # Pressure over the plan, put onto the nodes of the top by what their shape functions make of it.
    top = basis.mesh.facets_satisfying(lambda p: np.isclose(p[2], base.thickness))
    face = basis.boundary(top)
    load = np.zeros(basis.N)
    for dofs, fields in zip(face.dofs.element_dofs[:, face.tind], face.basis, strict=True):
        np.add.at(load, dofs, (np.asarray(fields[0])[2] * face.dx).sum(axis=1))
    load *= FORCE / 4 / load.sum() * -1.0
    fixed = end | (middle_x & (way == 0)) | (middle_y & (way == 1))
    motion = solve(*condense(stiffness, load, D=np.flatnonzero(fixed)))
    here = middle_x & middle_y & (way == 2) & middle
    bent = -float(motion[here].mean())
    corner = np.zeros(basis.N)
    at = np.isclose(x, (base.length - wall) / 2) & np.isclose(y, (base.width - wall) / 2) & (way == 2)
    corner[at] = FORCE / at.sum()
    fixed = (middle_x & (way > 0)) | (middle_y & (way != 1))
    motion = solve(*condense(stiffness, corner, D=np.flatnonzero(fixed)))
    return Moved(bent, float(motion[at].mean()))


def as_plate(base: DieBase) -> Moved:
    """The body as the plate that the adviser makes of it, elements of 125 mm."""
    layout = base_layout(base)
    x, y = (graded_lines([*at, 0.0], 125.0) for at in layout.lines(base.plan))
    mesh = PlanMesh.with_openings(x, y, ())
    plate = Plate(mesh, layout.sections, layout.kinds(mesh))
    assert base.ribs is not None
    edge_x, edge_y = (base.length - base.ribs.walls) / 2, (base.width - base.ribs.walls) / 2
    place = plate.basis.doflocs
    # Even pressure is the weight of a plate that weighs the same everywhere.
    load = Plate(mesh, tuple(replace(s, mass=1.0) for s in plate.sections), plate.kind).own_weight()
    load *= FORCE / -load.sum()
    free = np.flatnonzero(~((plate.component == 0) & np.isclose(np.abs(place[0]), base.length / 2)))
    motion = np.zeros(plate.basis.N)
    motion[free] = factorise(plate.stiffness, free).solve(load[free])
    bent = -float((plate.at(np.zeros((1, 2))).deflection @ motion)[0])
    corners = np.array([(sx * edge_x, sy * edge_y) for sx in (-1, 1) for sy in (-1, 1)])
    rows = plate.at(corners).deflection
    forces = rows.T @ (FORCE * np.sign(corners.prod(axis=1)))
    answer = plate.respond(sparse.csr_array(forces[None, :]))[:, 0]
    rise = rows @ answer * np.sign(corners.prod(axis=1))
    return Moved(bent, float(rise.mean()))


if __name__ == "__main__":
    for name, base in (BODIES | WITH_PADS | BEYOND).items():
        print(name, "solids", in_solids(base), "plate", as_plate(base))  # noqa: T201

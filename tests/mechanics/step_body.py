"""A slab with a step or a pocket in its top, in solid elements and as a plate: bent between two ends, and twisted.

A quarter of the body is solved, as in rib_body.py.  The numbers that the test holds are printed by running this file.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import scipy.sparse as sparse
from rib_body import FORCE, IRON, Moved
from rib_cell import lines, solid
from skfem import MeshHex, condense, solve

from deflect.mechanics.layout import base_layout
from deflect.mechanics.mesh import PlanMesh, graded_lines
from deflect.mechanics.plate import Plate, factorise
from deflect.model.die import DieBase, Step
from deflect.model.values import Rectangle

SIZE = 70.0  # mm, elements in plan


def stepped(length: float, width: float, thickness: float, step: tuple[float, float, float]) -> DieBase:
    """A slab with a step in its middle: its length, width and thickness."""
    area = Rectangle(0.0, 0.0, step[0], step[1])
    return DieBase(length, width, thickness, IRON, steps=(Step(area, step[2]),))


BODIES = {
    "step": stepped(2000.0, 1200.0, 250.0, (1000.0, 600.0, 400.0)),
    "step all across": stepped(2000.0, 1200.0, 250.0, (1000.0, 1200.0, 400.0)),
    "step all along": stepped(2000.0, 1200.0, 250.0, (2000.0, 600.0, 400.0)),
    "low step": stepped(2000.0, 1200.0, 250.0, (1000.0, 600.0, 320.0)),
    "small high step": stepped(2000.0, 1200.0, 250.0, (500.0, 400.0, 450.0)),
    "square": stepped(1500.0, 1500.0, 300.0, (700.0, 700.0, 450.0)),
    "large": stepped(2500.0, 1400.0, 350.0, (1600.0, 600.0, 500.0)),
    "pocket": stepped(2000.0, 1200.0, 400.0, (1000.0, 600.0, 300.0)),
    "channel across": stepped(2000.0, 1200.0, 400.0, (1000.0, 1200.0, 280.0)),
    "channel along": stepped(2000.0, 1200.0, 400.0, (2000.0, 500.0, 280.0)),
    "deep pocket": stepped(2000.0, 1200.0, 300.0, (1000.0, 600.0, 150.0)),
}


def in_solids(base: DieBase) -> Moved:
    """The body in solid elements, the level underside loaded evenly, the ends held over their height."""
    (step,) = base.steps
    a, b = step.area.length / 2, step.area.width / 2
    x, y = (
        lines(*((part, max(1, round(part / SIZE))) for part in (inner, outer - inner) if part > 0))
        for inner, outer in ((a, base.length / 2), (b, base.width / 2))
    )
    low, high = sorted((base.thickness, step.thickness))
    mesh = MeshHex.init_tensor(x, y, lines((low, 4), (high - low, 2)))
    at_x, at_y, at_z = mesh.p[:, mesh.t].mean(axis=1)
    over = (at_x < a) & (at_y < b)
    mesh = mesh.restrict(np.flatnonzero((at_z < low) | (over == (step.thickness > base.thickness))))
    basis, stiffness, way = solid(mesh, base.material)
    x, y, z = basis.doflocs
    middle_x, middle_y, end = np.isclose(x, 0), np.isclose(y, 0), np.isclose(x, base.length / 2)
    face = basis.boundary(basis.mesh.facets_satisfying(lambda p: np.isclose(p[2], 0.0)))
    load = np.zeros(basis.N)
    for dofs, fields in zip(face.dofs.element_dofs[:, face.tind], face.basis, strict=True):
        np.add.at(load, dofs, (np.asarray(fields[0])[2] * face.dx).sum(axis=1))
    load *= -FORCE / 4 / load.sum()
    fixed = (end & (way == 2)) | (middle_x & (way == 0)) | (middle_y & (way == 1))
    motion = solve(*condense(stiffness, load, D=np.flatnonzero(fixed)))
    height = min(base.thickness, step.thickness) / 2
    bent = -float(motion[middle_x & middle_y & (way == 2) & np.isclose(z, height)].mean())
    corner = end & np.isclose(y, base.width / 2) & (way == 2)
    twisting = corner * (FORCE / corner.sum())
    fixed = (middle_x & (way > 0)) | (middle_y & (way != 1))
    motion = solve(*condense(stiffness, twisting, D=np.flatnonzero(fixed)))
    return Moved(bent, float(motion[corner].mean()))


def as_plate(base: DieBase) -> Moved:
    """The body as the plate that the adviser makes of it, elements of 100 mm."""
    layout = base_layout(base)
    x, y = (graded_lines([*at, 0.0], 100.0) for at in layout.lines(base.plan))
    mesh = PlanMesh.with_openings(x, y, ())
    plate = Plate(mesh, layout.sections, layout.kinds(mesh))
    load = Plate(mesh, tuple(replace(s, mass=1.0) for s in plate.sections), plate.kind).own_weight()
    load *= FORCE / -load.sum()
    held = (plate.component == 0) & np.isclose(np.abs(plate.basis.doflocs[0]), base.length / 2)
    free = np.flatnonzero(~held)
    motion = np.zeros(plate.basis.N)
    motion[free] = factorise(plate.stiffness, free).solve(load[free])
    bent = -float((plate.at(np.zeros((1, 2))).deflection @ motion)[0])
    corners = np.array([(x, y) for x in (-base.length / 2, base.length / 2) for y in (-base.width / 2, base.width / 2)])
    rows, signs = plate.at(corners).deflection, np.sign(corners.prod(axis=1))
    answer = plate.respond(sparse.csr_array((rows.T @ (FORCE * signs))[None, :]))[:, 0]
    return Moved(bent, float((rows @ answer * signs).mean()))


if __name__ == "__main__":
    for name, base in BODIES.items():
        print(name, "solids", in_solids(base), "plate", as_plate(base))  # noqa: T201

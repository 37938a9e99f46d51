"""A quarter of a unit cell with a round hole, in plane stress: effective constants of a square pattern, ours."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from skfem import Basis, BilinearForm, ElementQuad2, ElementVector, MeshQuad, MeshQuad2, condense, solve
from skfem.helpers import ddot, sym_grad, trace

from deflect.checks.exact.rectangles import NU
from deflect.mechanics.arrays import Flags, Floats


@lru_cache(maxsize=16)
def cell_constants(efficiency: float, around: int = 24, across: int = 12) -> tuple[float, float, float]:
    """E*/E, nu* and G*/G of a quarter of a cell, pitch 2, in plane stress: the exact figure, to four digits."""
    mesh = _quarter_cell(1.0 - efficiency, around, across)
    basis = Basis(mesh, ElementVector(ElementQuad2()), intorder=6)
    shear, lame = 1 / (2 * (1 + NU)), NU / (1 - NU**2)

    def plane_stress(u: Any, v: Any, _: Any) -> Any:
        return 2 * shear * ddot(sym_grad(u), sym_grad(v)) + lame * trace(sym_grad(u)) * trace(sym_grad(v))

    stiffness = BilinearForm(plane_stress).assemble(basis)
    x, y = basis.doflocs
    along = np.zeros(basis.N, dtype=np.int64)
    for row, dofs in enumerate(basis.dofs.element_dofs):
        along[dofs] = row % 2
    left, right, low, high = (np.abs(p - c) < 1e-9 for p, c in ((x, 0), (x, 1), (y, 0), (y, 1)))

    def energy(moved: Floats, fixed: Flags) -> float:
        motion = solve(*condense(stiffness, x=moved, D=np.flatnonzero(fixed)))
        return float(motion @ stiffness @ motion)

    normal = ((along == 0) & (left | right)) | ((along == 1) & (low | high))
    stretch_x = np.where((along == 0) & right, 1.0, 0.0)
    stretch_y = np.where((along == 1) & high, 1.0, 0.0)
    # Twice the energy of unit strains: c11 for one, 2 c11 + 2 c12 for both.
    c11 = energy(stretch_x, normal)
    c12 = energy(stretch_x + stretch_y, normal) / 2 - c11
    nu = c12 / c11
    tangential = ((along == 1) & (left | right)) | ((along == 0) & (low | high))
    sheared = np.where((along == 1) & right, 0.5, 0.0) + np.where((along == 0) & high, 0.5, 0.0)
    return c11 * (1 - nu**2), nu, energy(sheared, tangential) / shear


def _quarter_cell(radius: float, around: int, across: int) -> MeshQuad2:
    """Quarter of a unit cell [0, 1]^2 without the hole at the origin, curved along the hole, finer towards it."""
    flat = MeshQuad.init_tensor(np.linspace(0, 1, across + 1), np.linspace(0, 1, around + 1))
    mesh = MeshQuad2.from_mesh(flat)
    outward, turn = mesh.doflocs
    outward = outward * (0.4 + 0.6 * outward)
    angle = turn * np.pi / 2
    rim = np.stack([np.cos(angle), np.sin(angle)])
    square = rim / np.abs(rim).max(axis=0)
    return MeshQuad2((1 - outward) * radius * rim + outward * square, mesh.t)

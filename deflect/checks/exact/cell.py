"""A quarter of a unit cell with a round hole: effective constants of a square pattern, ours.

In plane stress, in generalised plane strain (a thick block whose ends stay plane), and bent as a plate with shear.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad2,
    ElementVector,
    Functional,
    LinearForm,
    MeshQuad,
    MeshQuad2,
    condense,
    solve,
)
from skfem.helpers import ddot, grad, sym_grad, trace

from deflect.checks.exact.rectangles import NU
from deflect.mechanics.arrays import Flags, Floats

_AROUND, _ACROSS = 24, 12


@dataclass(frozen=True, eq=False)
class _Cell:
    """A mesh of the cell with some unknowns in each node: which of them each is, and on which side it lies."""

    basis: Basis
    which: Floats
    left: Flags
    right: Flags
    low: Flags
    high: Flags

    @staticmethod
    def of(efficiency: float, unknowns: int, around: int = _AROUND, across: int = _ACROSS) -> _Cell:
        mesh = quarter_cell(1.0 - efficiency, around, across)
        basis = Basis(mesh, ElementVector(ElementQuad2(), unknowns), intorder=6)
        which = np.zeros(basis.N)
        for row, dofs in enumerate(basis.dofs.element_dofs):
            which[dofs] = row % unknowns
        x, y = basis.doflocs
        return _Cell(basis, which, *(np.abs(p - c) < 1e-9 for p, c in ((x, 0), (x, 1), (y, 0), (y, 1))))


@lru_cache(maxsize=16)
def cell_constants(efficiency: float) -> tuple[float, float, float]:
    """E*/E, nu* and G*/G of a quarter of a cell, pitch 2, in plane stress: the exact figure, to four digits."""
    cell = _Cell.of(efficiency, 2)
    shear, lame = 1 / (2 * (1 + NU)), NU / (1 - NU**2)

    def plane_stress(u: Any, v: Any, _: Any) -> Any:
        return 2 * shear * ddot(sym_grad(u), sym_grad(v)) + lame * trace(sym_grad(u)) * trace(sym_grad(v))

    stiffness = BilinearForm(plane_stress).assemble(cell.basis)
    along, left, right, low, high = cell.which, cell.left, cell.right, cell.low, cell.high

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


@lru_cache(maxsize=16)
def thick_cell_compliance(efficiency: float) -> Floats:
    """Compliance (3, 3) along x, y and the hole of a cell in generalised plane strain, E = 1.

    Along the hole every point stretches alike; sides are free on the mean.
    """
    cell = _Cell.of(efficiency, 2)
    shear, lame = 1 / (2 * (1 + NU)), NU / ((1 + NU) * (1 - 2 * NU))

    def plane_strain(u: Any, v: Any, _: Any) -> Any:
        return 2 * shear * ddot(sym_grad(u), sym_grad(v)) + lame * trace(sym_grad(u)) * trace(sym_grad(v))

    stiffness = BilinearForm(plane_strain).assemble(cell.basis)
    pushed = LinearForm(lambda v, _: lame * trace(sym_grad(v))).assemble(cell.basis)
    area = Functional(lambda w: 1.0 + 0.0 * w.x[0]).assemble(cell.basis)
    normal = ((cell.which == 0) & (cell.left | cell.right)) | ((cell.which == 1) & (cell.low | cell.high))
    fixed = np.flatnonzero(normal)
    sides = [np.where((cell.which == axis) & end, 1.0, 0.0) for axis, end in ((0, cell.right), (1, cell.high))]
    motions = [solve(*condense(stiffness, x=side, D=fixed)) for side in sides]
    motions.append(solve(*condense(stiffness, -pushed, D=fixed)))
    moved = np.column_stack(motions)
    law = moved.T @ (stiffness @ moved)
    law[2] += pushed @ moved
    law[:, 2] += pushed @ moved
    law[2, 2] += (lame + 2 * shear) * area
    return np.asarray(np.linalg.inv(law))


@lru_cache(maxsize=16)
def bent_cell_modulus(efficiency: float, thickness: float) -> float:
    """E*/E along the pitch of a bent cell, a plate with shear; thickness: over the pitch."""
    cell = _Cell.of(efficiency, 3)
    depth = 2 * thickness
    rigidity, shear = depth**3 / 12 / (1 - NU**2), 5 / 6 * depth / (2 * (1 + NU))

    def plate(u: Any, v: Any, _: Any) -> Any:
        """Of deflection and two rotations, the slope against them."""
        du, dv = grad(u), grad(v)
        bent = du[1, 0] * dv[1, 0] + du[2, 1] * dv[2, 1] + NU * (du[1, 0] * dv[2, 1] + du[2, 1] * dv[1, 0])
        twisted = (1 - NU) / 2 * (du[1, 1] + du[2, 0]) * (dv[1, 1] + dv[2, 0])
        sheared = (du[0, 0] + u[1]) * (dv[0, 0] + v[1]) + (du[0, 1] + u[2]) * (dv[0, 1] + v[2])
        return rigidity * (bent + twisted) + shear * sheared

    stiffness = BilinearForm(plate).assemble(cell.basis)
    fixed = ((cell.which == 1) & (cell.left | cell.right)) | ((cell.which == 2) & (cell.low | cell.high))
    fixed |= (cell.which == 0) & cell.right & cell.high
    turn_x = np.where((cell.which == 1) & cell.right, 1.0, 0.0)
    turn_y = np.where((cell.which == 2) & cell.high, 1.0, 0.0)

    def energy(turned: Floats) -> float:
        motion = solve(*condense(stiffness, x=turned, D=np.flatnonzero(fixed)))
        return float(motion @ stiffness @ motion)

    d11 = energy(turn_x)
    nu = energy(turn_x + turn_y) / 2 / d11 - 1
    return d11 * (1 - nu**2) / (depth**3 / 12)


def quarter_cell(radius: float, around: int = _AROUND, across: int = _ACROSS) -> MeshQuad2:
    """Quarter of a unit cell [0, 1]^2 without the hole at the origin, curved along the hole, finer towards it."""
    flat = MeshQuad.init_tensor(np.linspace(0, 1, across + 1), np.linspace(0, 1, around + 1))
    mesh = MeshQuad2.from_mesh(flat)
    outward, turn = mesh.doflocs
    outward = outward * (0.4 + 0.6 * outward)
    angle = turn * np.pi / 2
    rim = np.stack([np.cos(angle), np.sin(angle)])
    square = rim / np.abs(rim).max(axis=0)
    return MeshQuad2((1 - outward) * radius * rim + outward * square, mesh.t)

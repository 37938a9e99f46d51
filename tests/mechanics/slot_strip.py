"""A strip across T-slots in plane elements (plane strain), the reference of the slotted slab."""

from __future__ import annotations

import itertools
from typing import Any

import numpy as np
from skfem import Basis, BilinearForm, ElementQuad2, ElementVector, MeshQuad, condense, solve
from skfem.helpers import ddot, sym_grad, trace

from deflect.mechanics.sections import SlotForm
from deflect.mechanics.sections.slotted import HEAD_HEIGHT
from deflect.model.material import Material


def bending_across(thickness: float, slots: SlotForm, material: Material, size: float = 3.0) -> float:
    """Bending stiffness per width across the slots, N mm, of half a pitch whose ends stay plane."""
    floor = thickness - slots.depth
    roof = floor + HEAD_HEIGHT * slots.width

    def lines(*at: float) -> Any:
        parts = [np.linspace(a, b, max(2, round((b - a) / size)) + 1)[:-1] for a, b in itertools.pairwise(at)]
        return np.append(np.concatenate(parts), at[-1])

    mesh = MeshQuad.init_tensor(
        lines(0.0, slots.width / 2, slots.head_width / 2, slots.pitch / 2), lines(0.0, floor, roof, thickness)
    )
    x, z = mesh.p[:, mesh.t].mean(axis=1)
    hollow = (z > floor) & ((x < slots.width / 2) | ((x < slots.head_width / 2) & (z < roof)))
    basis = Basis(mesh.restrict(np.flatnonzero(~hollow)), ElementVector(ElementQuad2()), intorder=4)
    g, nu = material.shear_modulus, material.poisson_ratio
    lame = material.youngs_modulus * nu / ((1 + nu) * (1 - 2 * nu))

    def elastic(u: Any, v: Any, _: Any) -> Any:
        return 2 * g * ddot(sym_grad(u), sym_grad(v)) + lame * trace(sym_grad(u)) * trace(sym_grad(v))

    stiffness = BilinearForm(elastic).assemble(basis)
    way = np.zeros(basis.N, dtype=np.int64)
    for row, dofs in enumerate(basis.dofs.element_dofs):
        way[dofs] = row % 2
    x, z = basis.doflocs
    fixed = (way == 0) & (np.isclose(x, 0) | np.isclose(x, slots.pitch / 2))
    fixed[np.flatnonzero((way == 1) & np.isclose(x, 0) & np.isclose(z, 0))] = True
    stretch = np.where(way == 0, x, 0.0)
    found = [solve(*condense(stiffness, x=state, D=np.flatnonzero(fixed))) for state in (stretch, z * stretch)]
    motions = np.array(found)
    energy = motions @ (stiffness @ motions.T) / (slots.pitch / 2)
    return float(energy[1, 1] - energy[0, 1] ** 2 / energy[0, 0])

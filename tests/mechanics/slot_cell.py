"""A cell of a T-slotted slab in solid elements (27 nodes), the reference of the slotted section.

Half a pitch between planes that stay plane in even bending and even twist; along the slots nothing changes, so that a
single element is enough there.
"""

from __future__ import annotations

import itertools

import numpy as np
from rib_cell import Cell, filled, solid
from rib_cell import lines as stretches
from skfem import MeshHex, condense, solve

from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.sections import SlotForm
from deflect.model.material import Material

ALONG = 30.0  # mm, any


def bending_of(thickness: float, slots: SlotForm, material: Material, size: float = 8.0) -> Floats:
    """Bending stiffness (3, 3) about the neutral planes, N mm: mx, my, mxy from kx, ky, 2 kxy; slots along y."""
    z = thickness - slots.depth
    levels = [0.0, z, *(z := z + height for _, height in slots.cuts)]
    edges = [0.0, slots.width / 2, slots.head_width / 2, slots.pitch / 2]

    def lines(at: list[float]) -> Floats:
        parts = [np.linspace(a, b, max(2, round((b - a) / size)) + 1)[:-1] for a, b in itertools.pairwise(at)]
        return np.append(np.concatenate(parts), at[-1])

    mesh = MeshHex.init_tensor(lines(edges), np.array([0.0, ALONG]), lines(levels))
    x, _, z_middle = mesh.p[:, mesh.t].mean(axis=1)
    hollow = np.zeros(x.size, dtype=bool)
    for (width, _), low, high in zip(slots.cuts, levels[1:-1], levels[2:], strict=True):
        hollow |= (x < width / 2) & (z_middle > low) & (z_middle < high)
    basis, stiffness, way = solid(mesh.restrict(np.flatnonzero(~hollow)), material)
    x, y, height = basis.doflocs
    across = np.isclose(x, 0) | np.isclose(x, slots.pitch / 2)
    along = np.isclose(y, 0) | np.isclose(y, ALONG)

    def energies(fixed: Flags, states: list[Floats]) -> Floats:
        motions = np.array([solve(*condense(stiffness, x=state, D=np.flatnonzero(fixed))) for state in states])
        return np.asarray(motions @ (stiffness @ motions.T)) / (slots.pitch / 2 * ALONG)

    ex, ey = np.where(way == 0, x, 0.0), np.where(way == 1, y, 0.0)
    normal = (across & (way == 0)) | (along & (way == 1))
    normal[np.flatnonzero((way == 2) & np.isclose(x, 0) & np.isclose(y, 0) & np.isclose(height, 0))[0]] = True
    bent = energies(normal, [ex, ey, height * ex, height * ey])
    shear = np.where(way == 0, y / 2, 0.0) + np.where(way == 1, x / 2, 0.0)
    twist = height * shear + np.where(way == 2, -x * y / 2, 0.0)
    twisted = energies((across & (way > 0)) | (along & (way != 1)), [shear, twist])
    bending = np.zeros((3, 3))
    bending[:2, :2] = bent[2:, 2:] - bent[:2, 2:].T @ np.linalg.solve(bent[:2, :2], bent[:2, 2:])
    bending[2, 2] = twisted[1, 1] - twisted[0, 1] ** 2 / twisted[0, 0]
    return bending


def slotted_quarter(cell: Cell, slots: SlotForm) -> MeshHex:
    """A quarter of a ribbed cell with a T-slot along y in its top skin, in the middle of the bay."""
    middle, floor = cell.pitch[1] / 2, cell.height - slots.depth
    edges = [0.0, cell.rib[1] / 2, middle - slots.head_width / 2, middle - slots.width / 2, middle]
    levels = sorted({0.0, cell.bottom, cell.height - cell.top, floor, floor + slots.cuts[0][1], cell.height})
    x, z = (
        stretches(*((b - a, max(2, round((b - a) / size))) for a, b in itertools.pairwise(at)))
        for at, size in ((edges, 25.0), (levels, 60.0))
    )
    y = stretches((cell.rib[0] / 2, 1), ((cell.pitch[0] - cell.rib[0]) / 2, 4))
    mesh = filled(cell, MeshHex.init_tensor(x, y, z), lambda x, y: (x, y))
    x, _, z = mesh.p[:, mesh.t].mean(axis=1)
    hollow, low = np.zeros(x.size, dtype=bool), floor
    for width, height in slots.cuts:
        hollow |= (middle - x < width / 2) & (z > low) & (z < low + height)
        low += height
    return mesh.restrict(np.flatnonzero(~hollow))

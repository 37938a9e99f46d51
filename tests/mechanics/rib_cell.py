"""Cells of ribbed bodies in solid elements (27 nodes), the three-dimensional reference of the ribbed section.

A quarter of a cell between the middles of ribs and bays.  The planes that bound it stay plane in even bending
and even twist of an endless field of cells, so that the cell is exact but for its discretisation.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from skfem import Basis, BilinearForm, ElementHex2, ElementVector, MeshHex, condense, solve
from skfem.helpers import ddot, sym_grad, trace

from deflect.mechanics.arrays import Flags, Floats, Integers
from deflect.model.material import Material


@dataclass(frozen=True)
class Cell:
    """Pitch of the ribs along x and along y, their thickness, top and bottom skin, total height, mm."""

    pitch: tuple[float, float]
    rib: tuple[float, float]
    top: float
    bottom: float
    height: float


def lines(*stretches: tuple[float, int]) -> Floats:
    """Grid lines from zero over stretches of a length with a number of elements."""
    edges = np.cumsum([0.0, *(length for length, _ in stretches)])
    parts = [np.linspace(a, b, n + 1)[:-1] for a, b, (_, n) in zip(edges[:-1], edges[1:], stretches, strict=True)]
    return np.append(np.concatenate(parts), edges[-1])


def heights(cell: Cell) -> Floats:
    core = cell.height - cell.top - cell.bottom
    return lines(*(s for s in ((cell.bottom, 2), (core, 5), (cell.top, 2)) if s[0] > 0))


def quarter(cell: Cell) -> MeshHex:
    """A quarter of a cell: ribs at x = 0 (it runs along y) and y = 0 (it runs along x)."""
    x = lines((cell.rib[1] / 2, 1), ((cell.pitch[1] - cell.rib[1]) / 2, 4))
    y = lines((cell.rib[0] / 2, 1), ((cell.pitch[0] - cell.rib[0]) / 2, 4))
    return filled(cell, MeshHex.init_tensor(x, y, heights(cell)), lambda x, y: (x, y))


def one_way_quarter(cell: Cell) -> MeshHex:
    """A quarter of a cell whose ribs run along y alone, of any length."""
    x = lines((cell.rib[1] / 2, 2), ((cell.pitch[1] - cell.rib[1]) / 2, 6))
    mesh = MeshHex.init_tensor(x, np.array([0.0, 30.0]), heights(cell))
    return filled(replace(cell, rib=(0.0, cell.rib[1])), mesh, lambda x, y: (x, y))


def filled(cell: Cell, mesh: MeshHex, folded: Any) -> MeshHex:
    """The elements that are material; ``folded`` maps a place in plan into the quarter of the cell."""
    x, y, z = mesh.p[:, mesh.t].mean(axis=1)
    x, y = folded(x, y)
    skin = (z < cell.bottom) | (z > cell.height - cell.top)
    return mesh.restrict(np.flatnonzero(skin | (x < cell.rib[1] / 2) | (y < cell.rib[0] / 2)))


def solid(mesh: MeshHex, material: Material) -> tuple[Basis, Any, Integers]:
    """Basis, stiffness, and which way each unknown moves."""
    basis = Basis(mesh, ElementVector(ElementHex2()), intorder=4)
    shear = material.shear_modulus
    nu = material.poisson_ratio
    lame = material.youngs_modulus * nu / ((1 + nu) * (1 - 2 * nu))

    def elastic(u: Any, v: Any, _: Any) -> Any:
        return 2 * shear * ddot(sym_grad(u), sym_grad(v)) + lame * trace(sym_grad(u)) * trace(sym_grad(v))

    way = np.zeros(basis.N, dtype=np.int64)
    for row, dofs in enumerate(basis.dofs.element_dofs):
        way[dofs] = row % 3
    return basis, BilinearForm(elastic).assemble(basis), way


def bending_of(cell: Cell, material: Material, mesh: MeshHex | None = None) -> Floats:
    """Bending stiffness (3, 3) about the neutral planes, N mm: mx, my, mxy from kx, ky, 2 kxy; mesh: the quarter."""
    basis, stiffness, way = solid(mesh or quarter(cell), material)
    x, y, z = basis.doflocs
    a, b = x.max(), y.max()
    faces_x, faces_y = (np.isclose(x, 0) | np.isclose(x, a)), (np.isclose(y, 0) | np.isclose(y, b))

    def answers(fixed: Flags, states: list[Floats]) -> Floats:
        motions = []
        for state in states:
            one_up = np.flatnonzero(fixed)
            motions.append(solve(*condense(stiffness, x=state, D=one_up)))
        found = np.array(motions)
        # Four quarters make the cell; energy per area of the plan.
        return np.asarray(found @ (stiffness @ found.T)) / (a * b)

    ex, ey = np.where(way == 0, x, 0.0), np.where(way == 1, y, 0.0)
    normal = (faces_x & (way == 0)) | (faces_y & (way == 1))
    first = int(np.flatnonzero((way == 2) & np.isclose(x, 0) & np.isclose(y, 0) & np.isclose(z, z.max()))[0])
    normal[first] = True
    energy = answers(normal, [ex, ey, z * ex, z * ey])
    stretch = energy[:2, :2], energy[:2, 2:], energy[2:, 2:]
    # Twist: u = z y / 2, v = z x / 2, w = -x y / 2 for 2 kxy = 1; shear: u = y / 2, v = x / 2.
    tangential = (faces_x & (way > 0)) | (faces_y & (way != 1))
    shear = np.where(way == 0, y / 2, 0.0) + np.where(way == 1, x / 2, 0.0)
    twist = z * shear + np.where(way == 2, -x * y / 2, 0.0)
    twisted = answers(tangential, [shear, twist])
    bending = np.zeros((3, 3))
    bending[:2, :2] = stretch[2] - stretch[1].T @ np.linalg.solve(stretch[0], stretch[1])
    bending[2, 2] = twisted[1, 1] - twisted[0, 1] ** 2 / twisted[0, 0]
    return bending


def strip_give(cell: Cell, material: Material, cells: int) -> float:
    """Sinking per force and width, mm2/N, of a strip of cells along x that is clamped at one end.

    The strip is one cell wide between planes that stay plane; its free end is a rib along y that is pressed
    down as a whole.
    """
    p, q = cell.pitch[1], cell.pitch[0]
    b, clear = cell.rib[1] / 2, (p - cell.rib[1]) / 2
    one = ((b, 1), (clear, 3), (clear, 3), (b, 1))
    x = lines(*(one * cells))
    y = lines((cell.rib[0] / 2, 1), ((q - cell.rib[0]) / 2, 3))
    plain = MeshHex.init_tensor(x, y, heights(cell))
    mesh = filled(cell, plain, lambda x, y: (np.abs((x + p / 2) % p - p / 2), y))
    basis, stiffness, way = solid(mesh, material)
    x, y, _ = basis.doflocs
    start, end = np.isclose(x, 0), np.isclose(x, cells * p)
    side = np.isclose(y, 0) | np.isclose(y, q / 2)
    down = np.where(end & (way == 2), 1.0, 0.0)
    fixed = (start & (way != 1)) | (end & (way == 2)) | (side & (way == 1))
    motion = solve(*condense(stiffness, x=down, D=np.flatnonzero(fixed)))
    return float(q / 2 / (motion @ (stiffness @ motion)))


def leaning(cell: Cell, material: Material, cells: int = 12) -> float:
    """Shear strain per shear force and width, mm/N, of a long box whose ribs run along y alone: of its last cell.

    Both ends are held upright; what the bending of the whole gives is taken off (two skins about their common middle).
    """
    width, pitch, half, clear = 30.0, cell.pitch[1], cell.rib[1] / 2, (cell.pitch[1] - cell.rib[1]) / 2
    plane = material.youngs_modulus / (1 - material.poisson_ratio**2)
    apart = cell.height - (cell.top + cell.bottom) / 2
    rigidity = plane * cell.top * cell.bottom / (cell.top + cell.bottom) * apart**2
    rigidity += plane * (cell.top**3 + cell.bottom**3) / 12

    def give(count: int) -> float:
        x = lines(*(((half, 1), (clear, 3), (clear, 3), (half, 1)) * count))
        plain = MeshHex.init_tensor(x, np.array([0.0, width]), heights(cell))
        own = replace(cell, rib=(0.0, cell.rib[1]))
        mesh = filled(own, plain, lambda x, y: (np.abs((x + pitch / 2) % pitch - pitch / 2), y))
        basis, stiffness, way = solid(mesh, material)
        x, y, _ = basis.doflocs
        start, end = np.isclose(x, 0), np.isclose(x, count * pitch)
        side = np.isclose(y, 0) | np.isclose(y, width)
        down = np.where(end & (way == 2), 1.0, 0.0)
        fixed = ((start | end) & (way != 1)) | (side & (way == 1))
        motion = solve(*condense(stiffness, x=down, D=np.flatnonzero(fixed)))
        return width / float(motion @ (stiffness @ motion)) - (count * pitch) ** 3 / (12 * rigidity)

    return (give(cells) - give(cells - 1)) / pitch

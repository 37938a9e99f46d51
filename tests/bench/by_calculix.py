"""The block under a patch, solved by a general-purpose three-dimensional solver with contact: CalculiX.

A quarter of a steel slab of 4000 x 2200 x 200 mm, fast on its land around an opening of 3000 x 1400 mm, with an iron
block of 2800 x 1400 x 300 mm on it and 10 MN on the middle 1600 x 800 mm of the block.  Hexahedra of 20 nodes with
reduced integration, surface-to-surface contact without friction; elements fine along the edge of the opening.

CalculiX is free software (GPL), packaged by Debian as ``calculix-ccx``; it is called as a program of its own.
"""

from __future__ import annotations

import itertools
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.mesh import graded_lines

PROGRAM = "ccx"
# Size of the elements away from the opening's edge, and along it, mm; layers through slab and block.
SIZE, FINE, SLAB_LAYERS, BLOCK_LAYERS = 100.0, 12.5, 3, 2
PRESSURE = 10e6 / (1600.0 * 800.0)  # MPa
# Penalty of the contact, MPa/mm: 0.01 mm of overlap would be 10 GPa, so that what overlaps here is some nanometres.
PENALTY = 1e6


def installed() -> bool:
    return shutil.which(PROGRAM) is not None


@dataclass(frozen=True)
class Brick:
    """A block of hexahedra with 20 nodes each: nodes (n, 3) mm, elements (e, 20) numbers from 0."""

    nodes: Floats
    elements: Integers

    @staticmethod
    def of(x: Floats, y: Floats, z: Floats) -> Brick:
        """On grid lines; nodes in the middle of edges, none in the middle of faces."""
        lines = [np.sort(np.append(line, 0.5 * (line[1:] + line[:-1]))) for line in (x, y, z)]
        sizes = tuple(line.size for line in lines)
        number = np.arange(int(np.prod(sizes))).reshape(sizes)
        i, j, k = (2 * v.ravel() for v in np.meshgrid(*(np.arange(n.size - 1) for n in (x, y, z)), indexing="ij"))
        corner = [(0, 0, 0), (2, 0, 0), (2, 2, 0), (0, 2, 0), (0, 0, 2), (2, 0, 2), (2, 2, 2), (0, 2, 2)]
        middle = [(1, 0, 0), (2, 1, 0), (1, 2, 0), (0, 1, 0), (1, 0, 2), (2, 1, 2), (1, 2, 2), (0, 1, 2)]
        upright = [(0, 0, 1), (2, 0, 1), (2, 2, 1), (0, 2, 1)]
        elements = np.stack([number[i + a, j + b, k + c] for a, b, c in (*corner, *middle, *upright)], axis=1)
        used, numbered = np.unique(elements, return_inverse=True)
        places = np.stack([v.ravel() for v in np.meshgrid(*lines, indexing="ij")], axis=1)
        return Brick(places[used], numbered.reshape(elements.shape))


def _numbers(values: Integers) -> str:
    rows = [", ".join(str(v) for v in values[k : k + 12]) for k in range(0, len(values), 12)]
    return ",\n".join(rows)


def deck(size: float = SIZE, fine: float = FINE) -> tuple[str, int]:
    """The input file, and the number of the node at the middle of the slab's top."""
    x = graded_lines((0.0, 800.0, 1400.0, 1500.0, 2000.0), size, (1500.0,), fine)
    y = graded_lines((0.0, 400.0, 700.0, 1100.0), size, (700.0,), fine)
    slab = Brick.of(x, y, np.linspace(-200.0, 0.0, SLAB_LAYERS + 1))
    block = Brick.of(x[x <= 1400.0], y[y <= 700.0], np.linspace(0.0, 300.0, BLOCK_LAYERS + 1))
    nodes = np.vstack([slab.nodes, block.nodes])
    offset = len(slab.nodes)
    bodies = {"SLAB": slab.elements + 1, "BLOCK": block.elements + offset + 1}
    lines = ["*NODE"]
    lines += [f"{k + 1}, {p[0]:.9g}, {p[1]:.9g}, {p[2]:.9g}" for k, p in enumerate(nodes)]
    first = 1
    numbers: dict[str, Integers] = {}
    for name, elements in bodies.items():
        numbers[name] = np.arange(first, first + len(elements))
        first += len(elements)
        lines.append(f"*ELEMENT, TYPE=C3D20R, ELSET={name}")
        for one, of in zip(numbers[name], elements, strict=True):
            row = [str(v) for v in (one, *of)]
            lines += [", ".join(row[:11]) + ",", ", ".join(row[11:])]
    px, py, pz = nodes.T
    ids = np.arange(1, len(nodes) + 1)
    in_slab = ids <= offset
    land = in_slab & (pz < -199.9) & ((px > 1499.9) | (py > 699.9))
    for name, on in {"LAND": land, "MIDX": px < 1e-6, "MIDY": py < 1e-6}.items():
        lines += [f"*NSET, NSET={name}", _numbers(ids[on])]
    centre = [np.mean(nodes[of[:, :8] - 1], axis=1) for of in bodies.values()]
    top_slab = numbers["SLAB"][centre[0][:, 2] > -200.0 / SLAB_LAYERS]
    low_block = numbers["BLOCK"][centre[1][:, 2] < 300.0 / BLOCK_LAYERS]
    loaded = numbers["BLOCK"][
        (centre[1][:, 2] > 300.0 - 300.0 / BLOCK_LAYERS) & (centre[1][:, 0] < 800.0) & (centre[1][:, 1] < 400.0)
    ]
    # Faces of a hexahedron in CalculiX: S1 is its underside, S2 its top.
    lines += ["*SURFACE, NAME=TOPSLAB, TYPE=ELEMENT", *(f"{one}, S2" for one in top_slab)]
    lines += ["*SURFACE, NAME=LOWBLOCK, TYPE=ELEMENT", *(f"{one}, S1" for one in low_block)]
    for name, modulus, ratio in (("STEEL", 206e3, 0.3), ("IRON", 110e3, 0.27)):
        lines += [f"*MATERIAL, NAME={name}", "*ELASTIC", f"{modulus}, {ratio}"]
    lines += ["*SOLID SECTION, ELSET=SLAB, MATERIAL=STEEL", "*SOLID SECTION, ELSET=BLOCK, MATERIAL=IRON"]
    lines += ["*SURFACE INTERACTION, NAME=TOUCH", "*SURFACE BEHAVIOR, PRESSURE-OVERCLOSURE=LINEAR", f"{PENALTY}, 0.1"]
    lines += ["*CONTACT PAIR, INTERACTION=TOUCH, TYPE=SURFACE TO SURFACE", "LOWBLOCK, TOPSLAB"]
    lines += ["*BOUNDARY", "LAND, 3, 3", "MIDX, 1, 1", "MIDY, 2, 2"]
    middle = int(ids[in_slab & (np.hypot(px, py) < 1e-6) & (np.abs(pz) < 1e-6)][0])
    lines += ["*NSET, NSET=MIDDLE", str(middle)]
    lines += ["*STEP, INC=100", "*STATIC", "1., 1."]
    lines += ["*DLOAD", *(f"{one}, P2, {PRESSURE}" for one in loaded)]
    lines += ["*NODE PRINT, NSET=MIDDLE", "U", "*END STEP", ""]
    return "\n".join(lines), middle


def sag(folder: Path, size: float = SIZE, fine: float = FINE) -> float:
    """How far the middle of the slab's top goes down, mm (positive), by CalculiX."""
    text, middle = deck(size, fine)
    (folder / "block.inp").write_text(text, encoding="ascii")
    done = subprocess.run([PROGRAM, "block"], cwd=folder, capture_output=True, text=True, check=False)
    printed = (folder / "block.dat").read_text(encoding="ascii") if (folder / "block.dat").exists() else ""
    rows = (line.split() for line in printed.splitlines())
    found = [float(row[3]) for row in rows if len(row) == 4 and row[0] == str(middle)]
    if done.returncode != 0 or not found:
        raise RuntimeError(f"CalculiX did not solve it:\n{done.stdout[-2000:]}{done.stderr[-2000:]}")
    return -found[-1]


def refinements() -> list[tuple[float, float]]:
    """Sizes and fine sizes, mm, from coarse to fine."""
    return list(itertools.product((200.0, 100.0), (25.0, 12.5)))

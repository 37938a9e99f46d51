"""Plates and strips in contact with springs, floors and each other: the production contact on ports of our own."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np
import scipy.sparse as sparse

from deflect.checks.bench.plates import rectangle, slab
from deflect.mechanics.arrays import Flags, Floats, Sparse
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.loads import Patches, patch_grid
from deflect.mechanics.plate import Plate


@dataclass(frozen=True, eq=False)
class Grounded:
    """A solved plate: contact, unknowns (N,) and deflection of its ports upwards (n,)."""

    solved: ContactSolution
    motion: Floats
    height: Floats


def ground(
    plate: Plate,
    rows: Sparse,
    load: Floats,
    layer: Floats,
    gap: Floats,
    bilateral: Flags,
    modes: Floats | None = None,
    answer: Floats | None = None,
) -> Grounded:
    """Put a free plate on ports that read ``rows`` (n, N), each with a compliance ``layer`` (n,) mm/N below it.

    modes: rigid motions (N, m) that are free; all three where None.  answer (N, n): to unit forces on the
    ports, where it is known already.
    """
    rigid = plate.rigid if modes is None else modes
    answer = plate.respond(rows) if answer is None else answer
    unheld = plate.respond(sparse.csr_array(load[None, :]))[:, 0]
    compliance = rows @ answer
    compliance = (compliance + compliance.T) / 2 + np.diag(layer)
    solved = solve_contact(compliance, rows @ rigid, gap + rows @ unheld, -(rigid.T @ load), bilateral)
    motion = answer @ solved.force + unheld + rigid @ solved.rigid
    return Grounded(solved, motion, rows @ motion)


def bedding(plate: Plate, cells_a_side: int = 1) -> tuple[Patches, Sparse]:
    """Patches below every element (``cells_a_side`` squared each) and the rows of their mean deflection."""

    def refined(lines: Floats) -> Floats:
        parts = [np.linspace(a, b, cells_a_side + 1)[:-1] for a, b in itertools.pairwise(lines)]
        return np.append(np.concatenate(parts), lines[-1])

    patches = patch_grid(refined(plate.mesh.x), refined(plate.mesh.y))
    points, average = patches.quadrature(3)
    return patches, (average @ plate.at(points).deflection).tocsr()


def on_springs(plate: Plate, load: Floats, stiffness: float, tension: bool, cells_a_side: int = 1) -> Grounded:
    """A plate on a bed of ``stiffness`` N/mm3 all over, which pulls as well where ``tension``."""
    patches, rows = bedding(plate, cells_a_side)
    n = patches.area.size
    return ground(plate, rows, load, 1 / (stiffness * patches.area), np.zeros(n), np.full(n, tension))


def strip(length: float, width: float, thickness: float, elements: int, poisson: float = 0.0) -> Plate:
    """A strip one element wide; without Poisson's ratio it is a beam."""
    return rectangle(slab(thickness, poisson), length, width, elements, 1)


def across(plate: Plate, places: Floats) -> Sparse:
    """Rows that read the mean deflection across a strip at each x of ``places``."""
    nodes, weights = np.polynomial.legendre.leggauss(3)
    half = plate.mesh.y[-1]
    points = np.array([(x, half * y) for x in places for y in nodes])
    average = sparse.kron(sparse.eye_array(len(places)), weights[None, :] / 2)
    return (average @ plate.at(points).deflection).tocsr()


def held_contact(compliance: Floats, gap: Floats, load: float) -> ContactSolution:
    """Contact of a body that is held: its supports stand on a frame, the last contact, which carries the rest of
    ``load`` (N) and hardly moves.  compliance (n, n) with the supports at rest; gap (n,) under the load alone."""
    n = gap.size
    layer = 1e-6 * float(np.diag(compliance).max())
    whole = layer * np.eye(n + 1)
    whole[:n, :n] += compliance
    whole[n, n] = 1e-6 * layer
    bilateral = np.append(np.zeros(n, dtype=bool), True)
    # From contacts that overlap under the load alone: from all of them the active set cycles for long.
    start = np.append(gap < 0, True)
    return solve_contact(whole, np.ones((n + 1, 1)), np.append(gap, 0.0), np.array([load]), bilateral, start)

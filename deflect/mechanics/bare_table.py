"""The table alone under test forces: what dials on it read, for any stiffness of land, bolster and walls.

The bolster's answer between ports, forces and dials is condensed at three thicknesses and interpolated in between, so
that a fit never factorises a plate.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import scipy.sparse as sparse

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Sparse, symmetric
from deflect.mechanics.bed_walls import bed_answer
from deflect.mechanics.body import condense_table, hold_down_rows, on_material, post_rows
from deflect.mechanics.contact import solve_contact
from deflect.mechanics.contract import TableBody
from deflect.mechanics.loads import pattern_forces
from deflect.mechanics.support import LAND_GIVE, land_compliance
from deflect.model.force import Pattern
from deflect.model.press import Press

# Thicknesses at which the answer is condensed, as multiples of the bolster's own: between them it goes with the
# third power but for shear, and movements come out within 0.1 % (ours).
_NODES = (0.85, 1.0, 1.15)
_LOG_NODES = np.log(np.array(_NODES))


@dataclass(frozen=True)
class Stiffness:
    """What a calibration may find: land, N/mm3; bolster: effective thickness as a multiple of its own; walls: as a
    multiple of their usual stiffness; force: true force as a multiple of the one that was read."""

    land: float
    bolster: float = 1.0
    walls: float = 1.0
    force: float = 1.0


@dataclass(frozen=True, eq=False)
class BareTable:
    """The table of a press with its ports, test forces and points to read.

    answers (3, m, m): movement along each row by unit loads on each, bolster held by its pins, at three thicknesses,
    times the thickness' third power; rigid (m, 3).  Rows in order: land, hold-downs, posts, the bolster's weight,
    forces, points.  walls: of the bed below land and hold-downs, mm/N.
    """

    press: Press
    land_area: Floats
    land_squeeze: float
    answers: Floats
    rigid: Floats
    walls: Floats | None
    forces: int

    @property
    def ports(self) -> int:
        bed = self.press.bed
        return self.land_area.size + len(bed.hold_downs) + len(bed.posts)

    def movement(self, stiffness: Stiffness, load: Floats, hold_downs: bool = True) -> Floats:
        """Movement downward (points,), mm, by loads in N on each pattern, from the table under its own weight."""
        return self._heights(stiffness, np.zeros(self.forces), hold_downs) - self._heights(
            stiffness, stiffness.force * load, hold_downs
        )

    def _heights(self, stiffness: Stiffness, load: Floats, hold_downs: bool) -> Floats:
        ports, bed = self.ports, self.press.bed
        answer = self._answer(stiffness.bolster)
        weights = np.concatenate([[1.0], load])
        loaded = slice(ports, ports + weights.size)
        read = slice(ports + weights.size, None)
        lands = self.land_area.size
        compliance = answer[:ports, :ports].copy()
        give = land_compliance(self.land_squeeze, np.inf, LAND_GIVE[1])
        layer = np.concatenate(
            [
                (give + 1.0 / stiffness.land) / self.land_area,
                [1.0 / h.stiffness for h in bed.hold_downs],
                [1.0 / p.stiffness + give / p.head**2 for p in bed.posts],
            ]
        )
        compliance[np.diag_indices(ports)] += layer
        if self.walls is not None:
            below = len(self.walls)
            compliance[:below, :below] += self.walls / stiffness.walls
        held = [-h.preload / h.stiffness for h in bed.hold_downs]
        gap = np.concatenate([np.zeros(lands), held, [p.gap for p in bed.posts]]) + answer[:ports, loaded] @ weights
        used = np.ones(ports, dtype=bool)
        used[lands : lands + len(bed.hold_downs)] = hold_downs
        pick = np.flatnonzero(used)
        resultant = self.rigid[loaded].T @ weights
        solved = solve_contact(compliance[np.ix_(pick, pick)], self.rigid[pick], gap[pick], -resultant)
        elastic = answer[read][:, pick] @ solved.force + answer[read, loaded] @ weights
        return np.asarray(elastic + self.rigid[read] @ solved.rigid)

    def _answer(self, multiple: float) -> Floats:
        """The bolster's answer (m, m) at a multiple of its thickness: Lagrange in the logarithm."""
        at = np.log(multiple)
        weights = [
            np.prod([(at - other) / (node - other) for other in _LOG_NODES if other != node]) for node in _LOG_NODES
        ]
        return np.asarray(np.tensordot(np.array(weights), self.answers, axes=1) / multiple**3)


def bare_table(press: Press, patterns: Sequence[Sequence[Pattern]], points: Floats) -> BareTable:
    """Condense the table of ``press`` for forces on ``patterns`` and readings at ``points`` (n, 2), bolster axes.

    Raises MechanicsFailed where a force or a point has no bolster below it.
    """
    press = press.uncalibrated
    plain = press.bolster.as_plate
    answers, rigid = [], None
    for node in _NODES:
        table = condense_table(replace(plain, thickness=node * plain.thickness), press.bed.opening)
        rows = _rows(table, press, patterns, points)
        answer = rows @ table.respond(rows)
        answers.append(symmetric(answer) * node**3)
        if node == 1.0:
            rigid, land, squeeze = rows @ table.rigid, table.land, table.land_squeeze
    assert rigid is not None, "the bolster's own thickness is one of the nodes"
    return BareTable(
        press=press,
        land_area=land.area,
        land_squeeze=squeeze,
        answers=np.stack(answers),
        rigid=rigid,
        walls=bed_answer(press.bed.land.walls, land.centre, press.bed.hold_downs),
        forces=len(patterns),
    )


def _rows(table: TableBody, press: Press, patterns: Sequence[Sequence[Pattern]], points: Floats) -> Sparse:
    if not on_material(table, points).all():
        raise MechanicsFailed("a dial stands over a cut-out of the bolster or off it: check its place")
    loads = [table.weight_load[None, :]]
    for pattern in patterns:
        forces = pattern_forces(pattern, 1.0)
        on = on_material(table, forces.points)
        if not on.any():
            raise MechanicsFailed("a test force lies over a cut-out of the bolster or off it: check its place")
        weight = forces.force[on] / forces.force[on].sum()
        loads.append((table.top(forces.points[on]).surface.T @ -weight)[None, :])
    ports = [table.land_rows, -hold_down_rows(table, press.bed), post_rows(table, press.bed)]
    surface = table.top(points).surface if len(points) else sparse.csr_array((0, table.motions))
    return sparse.vstack([*ports, *map(sparse.csr_array, loads), surface]).tocsr()

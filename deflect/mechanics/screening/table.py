"""A table condensed for screening: cells of its top, with land and hold-downs eliminated."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.sparse as sparse

from deflect.mechanics.acceptance import reference
from deflect.mechanics.arrays import Flags, Floats, Integers, symmetric
from deflect.mechanics.body import PATCH_POINTS, condense_table, hold_down_rows, on_material, post_rows
from deflect.mechanics.contact import solve_contact
from deflect.mechanics.contract import TableBody
from deflect.mechanics.footprint import Mesh
from deflect.mechanics.screening.cells import CELL, Cells, cells_of
from deflect.mechanics.support import LAND_GIVE, land_compliance
from deflect.model.press import Press

# The reference force presses evenly on this share of the bolster's length and width.
_LOADED = 0.6
# Points along each reference line of the sag.
_LINE = 41


@dataclass(frozen=True, eq=False)
class CondensedTable:
    """Ports: cells (n_g), then land, hold-downs and posts (n_o); n = n_g + n_o.

    Of each of the latter that is ``closed`` (2, n_o) under a reference (at rest; under force) the variable is its
    opening and the answer its force; of each other one the variable is its force and the answer its opening; of a cell
    force and sinking.  answer (2, n, n) to the variables, still (2, n) with none: weight and preload alone;
    rigid (2, 3, n), rigid_still (2, 3): the rigid motions.  sag_of (2, 41, n), sag_rigid (2, 41, 3): heights along
    both reference lines by forces and rigid motions; sag_lines (2, 41) mm: places on them.  breathing_of (2, n_g, n),
    breathing_rigid (2, n_g, 3): of the top's surface at the cells along x and y; squeeze (n_g,) mm/MPa of the upper
    part.  What weight alone does to sag and breathing is there at rest and under force, and is left out of both.
    """

    x: Floats
    y: Floats
    nearest: Integers
    kept: Integers
    closed: Flags
    answer: Floats
    still: Floats
    rigid: Floats
    rigid_still: Floats
    sag_of: Floats
    sag_rigid: Floats
    sag_lines: Floats
    breathing_of: Floats
    breathing_rigid: Floats
    squeeze: Floats

    @property
    def cells(self) -> Cells:
        return Cells(self.x, self.y, self.nearest, self.kept)


def table_content(press: Press, stiffness: float, cell: float = CELL) -> str:
    """All that a condensed table depends on, as text: the same text, the same table."""
    bed, acceptance = press.bed, press.acceptance
    parts = (press.bolster.as_plate, bed.opening, bed.hold_downs, bed.posts, stiffness, press.rated_force, acceptance)
    return f"table {cell:g} {parts!r}"


def condense_top(press: Press, stiffness: float, cell: float = CELL) -> CondensedTable:
    """Condense the table of a press whose land has a ``stiffness`` of so many N/mm3, at the usual gives."""
    bolster, bed = press.bolster.as_plate, press.bed
    # As fine as a check has it: of the table only the bolster's size counts.
    table = condense_table(bolster, bed.opening, _element(press))
    cells, patches = cells_of(bolster, cell)
    points, average = patches.quadrature(PATCH_POINTS)
    on = on_material(table, points)
    inside = points.copy()
    if not on.all():
        inside[~on] = np.repeat(patches.centre, PATCH_POINTS**2, axis=0)[~on]
    top = (average @ table.top(inside).surface).tocsr()
    below = sparse.vstack([table.land_rows, -hold_down_rows(table, bed), post_rows(table, bed)]).tocsr()
    rows = sparse.vstack([-top, below]).tocsr()
    free = table.respond(rows)
    compliance = rows @ free
    compliance = symmetric(compliance)
    n_g, weight = cells.count, table.respond(sparse.csr_array(table.weight_load[None, :]))[:, 0]
    gap = rows @ weight
    gap[n_g:] += np.concatenate(
        [np.zeros(table.land.area.size), [-h.preload / h.stiffness for h in bed.hold_downs], [p.gap for p in bed.posts]]
    )
    compliance[np.arange(n_g, gap.size), np.arange(n_g, gap.size)] += _layer(table, press, stiffness)
    modes, resultant = rows @ table.rigid, table.rigid.T @ table.weight_load
    x, y = patches.centre.T
    loaded = (np.abs(x) <= _LOADED * bolster.length / 2) & (np.abs(y) <= _LOADED * bolster.width / 2)
    closed, pivots = [], []
    for force in (0.0, press.rated_force):
        pushed = np.zeros(gap.size)
        pushed[:n_g][loaded] = force / loaded.sum()
        state = solve_contact(
            compliance[n_g:, n_g:], modes[n_g:], (gap + compliance @ pushed)[n_g:], -resultant - modes.T @ pushed
        )
        closed.append(state.closed)
        pivots.append(_eliminated(compliance, modes, gap, resultant, np.r_[np.zeros(n_g, bool), state.closed]))
    answer, still, rigid, rigid_still = (np.stack(parts) for parts in zip(*pivots, strict=True))
    lines, line_rows = _sag_rows(table, press)
    along = table.breathing(patches.centre)
    return CondensedTable(
        x=cells.x, y=cells.y, nearest=cells.nearest, kept=cells.kept, closed=np.stack(closed),
        answer=answer, still=still, rigid=rigid, rigid_still=rigid_still,
        sag_of=np.stack([r @ free for r in line_rows]),
        sag_rigid=np.stack([r @ table.rigid for r in line_rows]),
        sag_lines=lines,
        breathing_of=np.stack([r @ free for r in along]).astype(np.float32),
        breathing_rigid=np.stack([r @ table.rigid for r in along]),
        squeeze=table.squeeze_at(patches.centre),
    )  # fmt: skip


def _element(press: Press) -> float:
    usual = Mesh()
    grown = np.sqrt(press.bolster.length * press.bolster.width / 14e6)
    return float(usual.element * max(1.0, grown))


def _layer(table: TableBody, press: Press, stiffness: float) -> Floats:
    """What each port of land, hold-down and post gives by itself, mm/N, at the usual gives."""
    land = land_compliance(table.land_squeeze, stiffness, LAND_GIVE[1])
    give = land_compliance(table.land_squeeze, np.inf, LAND_GIVE[1])
    return np.concatenate(
        [
            land / table.land.area,
            [1.0 / h.stiffness for h in press.bed.hold_downs],
            [1.0 / p.stiffness + give / p.head**2 for p in press.bed.posts],
        ]
    )


def _eliminated(
    compliance: Floats, modes: Floats, gap: Floats, resultant: Floats, closed: Flags
) -> tuple[Floats, Floats, Floats, Floats]:
    """Answer (n, n), still (n,), rigid (3, n) and rigid_still (3,) with the closed ports' openings as variables.

    gap = g0 + A f + G a and G' f = -R; the forces of the closed ports and a follow from their openings and all other
    forces, which are put in: a principal pivot.
    """
    n, m = gap.size, modes.shape[1]
    shut, free = np.flatnonzero(closed), np.flatnonzero(~closed)
    k = shut.size
    system = np.zeros((k + m, k + m))
    system[:k, :k] = compliance[np.ix_(shut, shut)]
    system[:k, k:], system[k:, :k] = modes[shut], modes[shut].T
    right = np.zeros((k + m, n + 1))
    right[np.arange(k), shut] = 1.0
    right[:k, free] = -compliance[np.ix_(shut, free)]
    right[k:, free] = -modes[free].T
    right[:k, n], right[k:, n] = -gap[shut], -resultant
    solved = np.linalg.solve(system, right)
    answer = np.zeros((n, n + 1))
    answer[shut] = solved[:k]
    answer[free] = compliance[np.ix_(free, shut)] @ solved[:k] + modes[free] @ solved[k:]
    answer[np.ix_(free, free)] += compliance[np.ix_(free, free)]
    answer[free, n] += gap[free]
    return np.ascontiguousarray(answer[:, :n]), answer[:, n].copy(), solved[k:, :n].copy(), solved[k:, n].copy()


def _sag_rows(table: TableBody, press: Press) -> tuple[Floats, list[sparse.csr_array]]:
    """Places (2, 41) along both reference lines, and rows that read the top's height there."""
    middle = (press.bed.opening.x, press.bed.opening.y)
    lines, rows = [], []
    for axis, extent in enumerate(reference(press)):
        half = (press.bolster.length if axis == 0 else press.bolster.width) / 2
        reach = min(extent / 2, half - abs(middle[axis]))
        points = np.tile(middle, (_LINE, 1)).astype(float)
        points[:, axis] += np.linspace(-reach, reach, _LINE)
        on = points[on_material(table, points)]
        # As many places on the material as there are on the line.
        points = on[np.round(np.linspace(0, len(on) - 1, _LINE)).astype(int)]
        lines.append(points[:, axis])
        rows.append(table.top(points).surface.tocsr())
    return np.array(lines), rows

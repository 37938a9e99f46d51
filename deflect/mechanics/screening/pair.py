"""One die on one table, from condensed bodies: the same unilateral problem as a check solves, on the table's cells."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg.lapack import dpotrf, dtrtrs

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats, Integers, Sparse
from deflect.mechanics.footprint import SLIVER, dish_depth, to_table, turned
from deflect.mechanics.loads import patch_grid, rectangle_points
from deflect.mechanics.mesh import inside
from deflect.mechanics.screening.cells import Cells
from deflect.mechanics.screening.die import CondensedDie
from deflect.mechanics.screening.table import CondensedTable
from deflect.mechanics.solution import SEATED
from deflect.mechanics.stroke import resting_force, share_left
from deflect.mechanics.support import CONTACT_GIVE
from deflect.mechanics.thrust import Drives, Leanings, side_thrust
from deflect.model.case import Case

# Exchanges at most; a gap in mm, or a force as a share of the greatest, below which it is round-off.
_STEPS, _ROUND_OFF = 600, 1e-9
# Breathing between cells is read up to 4 % too small at its peaks (ours): a bound allows for it.
_ALLOWED = 1.05
# Directions of a thrust that is not stated, rad.
_ALL_ROUND = (0.0, np.pi / 2, np.pi, 1.5 * np.pi)


@dataclass(frozen=True, eq=False)
class Start:
    """Patches closed (2, n) and ports below the table that are other than in the reference (n_o,), at rest and under
    force."""

    closed: Flags
    active: tuple[Flags, Flags]


@dataclass(frozen=True)
class Screened:
    """What a screening says; mm, MPa, shares.

    sag: the governing one of x and y, sag_slope mm/mm; gap: greatest below the die; contact_share: gap below a feeler
    gauge; pressure: greatest of a patch; breathing: greatest movement of a patch over the table from rest to full
    force; creep_bound: the extent of that movement over the die, mm, which no creep per stroke exceeds while the side
    thrust stays below what friction holds (no creep itself); may_slide: whether it may not, at the worse ends of the
    ranges.  start: where a like case may start.
    """

    sag: float
    sag_slope: float
    gap: float
    contact_share: float
    pressure: float
    breathing: float
    creep_bound: float
    may_slide: bool
    start: Start


@dataclass(frozen=True, eq=False)
class _Under:
    """The table below a die with its ports eliminated as at rest (0) or under force (1), see ``CondensedTable``.

    compliance (n_c, n_c): of die and table at the patches, their layer included; across (n_c, n_o): sinking of the
    patches by the variables below; still (n_c,), below (n_o,): what is there without the die's forces; cells (k, k),
    cells_across (k, n_o), cells_still (k,): the same at the cells under the die; own (n_g,): forces of clamps and
    cushion on the cells, N; sign (n_o,): of an answer below to a force above.
    """

    compliance: Floats
    across: Floats
    still: Floats
    below: Floats
    ports: Floats
    cells: Floats
    cells_across: Floats
    cells_still: Floats
    own: Floats
    sign: Floats


@dataclass(frozen=True, eq=False)
class _Placed:
    """A condensed die laid on a condensed table; n_c of the n patches bear, at ``pick``.

    on_table (n, 2): middles of the patches, and corners (c, 2), bolster axes; below (k,): the cells under them;
    weights (n_c, k), corner_weights (c, k): how they take part in those; initial (n,): gap before any force;
    own_layer (n_c, n_c): compliance of the die and of the contact's layer; clamps (n_g,): their pull on the cells, N.
    """

    case: Case
    table: CondensedTable
    die: CondensedDie
    bears: Flags
    pick: Integers
    area: Floats
    places: Floats
    corners: Floats
    below: Integers
    weights: Sparse
    corner_weights: Sparse
    initial: Floats
    own_layer: Floats
    clamps: Floats


def screen(case: Case, table: CondensedTable, die: CondensedDie, start: Start | None = None) -> Screened:
    """Solve a die on a table at rest and under its force; start: of a like case, for a first guess.

    Raises MechanicsFailed where the die is not held by the table.
    """
    placed = _placed(case, table, die)
    rest = _solve(placed, 0, 0.0, start)
    full = _solve(placed, 1, 1.0, start)
    return _read(placed, rest, full)


def _placed(case: Case, table: CondensedTable, die: CondensedDie) -> _Placed:
    placing, bolster = case.die.placing, case.press.bolster
    patches = patch_grid(die.lines_x, die.lines_y)
    on_table = to_table(placing, die.points)
    weight = np.tile(die.point_share, patches.area.size)
    x, y = on_table.T
    supported = (np.abs(x) <= bolster.length / 2 + 1e-6) & (np.abs(y) <= bolster.width / 2 + 1e-6)
    for hole in bolster.openings:
        supported &= ~((x > hole.left) & (x < hole.right) & (y > hole.front) & (y < hole.back))
    if bolster.sub_plate is not None:
        supported &= inside(bolster.sub_plate.area, x, y)
    average = weight.reshape(patches.area.size, -1)
    bears, share = die.bearing > SLIVER, die.bearing
    if not supported.all():
        on = average * supported.reshape(average.shape)
        support = on.sum(axis=1)
        share = die.bearing * support
        bears = share > SLIVER
        weight = (on / np.maximum(support, SLIVER)[:, None]).ravel()
    pick = np.flatnonzero(bears)
    if not pick.size:
        raise MechanicsFailed("next to nothing of the base stands on the bolster: check its place and the cut-outs")
    cells = table.cells
    groups = np.repeat(np.arange(patches.area.size), average.shape[1])
    weights = cells.gathered(on_table, groups, weight, patches.area.size)
    if pick.size < bears.size:
        weights = weights[pick]
    corner_weights = cells.weights(corners := to_table(placing, die.corners))
    below = np.unique(np.concatenate([weights.indices, corner_weights.indices]))
    area = (patches.area * share)[pick]
    squeeze = weights @ table.squeeze + die.squeeze[pick]
    initial = np.zeros(patches.area.size)
    if bolster.dish:
        initial = (average * dish_depth(bolster, on_table).reshape(average.shape)).sum(axis=1)
    for shim in (*placing.shims, *placing.dirt):
        initial = initial - shim.thickness * patches.overlap(shim.area)
    own = die.own if pick.size == bears.size else die.own[np.ix_(pick, pick)]
    layered = own.copy()
    layered[np.diag_indices(pick.size)] += CONTACT_GIVE[1] * squeeze / area
    return _Placed(
        case, table, die, bears, pick, area, to_table(placing, patches.centre[pick]), corners, below,
        weights[:, below], corner_weights[:, below], initial[pick], layered, _of_clamps(case, cells),
    )  # fmt: skip


def _under(placed: _Placed, pivot: int, share: float) -> _Under:
    table, below, n_g = placed.table, placed.below, placed.table.squeeze.size
    answer = table.answer[pivot]
    there = answer.take(below, 0)
    cells, across = there.take(below, 1), np.ascontiguousarray(there[:, n_g:])
    own = placed.clamps + _of_cushion(placed.case, table.cells, share)
    still = table.still[pivot]
    if own.any():
        still = still + answer[:, :n_g] @ own
    half = placed.weights @ cells
    return _Under(
        compliance=placed.own_layer + placed.weights @ half.T,
        across=placed.weights @ across,
        still=placed.weights @ still[below],
        below=still[n_g:],
        ports=answer[n_g:, n_g:],
        cells=cells,
        cells_across=across,
        cells_still=still[below],
        own=own,
        sign=np.where(table.closed[pivot], -1.0, 1.0),
    )


def _of_clamps(case: Case, cells: Cells) -> Floats:
    """Downward forces on the cells (n_g,) of the clamps, which pull the table up, N."""
    clamps = case.die.placing.clamps
    if not clamps:
        return np.zeros(cells.count)
    places = to_table(case.die.placing, np.array([(c.x, c.y) for c in clamps]))
    return np.asarray(cells.weights(places).T @ -np.array([c.force for c in clamps]))


def _of_cushion(case: Case, cells: Cells, share: float) -> Floats:
    """Downward forces on the cells (n_g,) of a share of a hung cushion's force, N."""
    bolster = case.press.bolster
    if not (case.cushion_hangs and case.die.cushion_force > 0 and share > 0):
        return np.zeros(cells.count)
    region = case.press.bed.opening if bolster.pin_field is None else bolster.pin_field.region
    points, weight = rectangle_points(region)
    return np.asarray(cells.weights(points).T @ (weight * (share * case.die.cushion_force / weight.sum())))


@dataclass(frozen=True, eq=False)
class _Solved:
    """force (n_c,), gap (n_c,) of the patches; rigid (3,): of the die; table_force (n,), table_rigid (3,): of the
    table; moved (n_o,): variables below; closed (n_c,), active (n_o,); load: on the die, N."""

    force: Floats
    gap: Floats
    rigid: Floats
    table_force: Floats
    table_rigid: Floats
    moved: Floats
    closed: Flags
    active: Flags
    load: float
    under: _Under


def _solve(placed: _Placed, pivot: int, share: float, start: Start | None) -> _Solved:
    """The active set over patches and over the ports below the table, pivoted: every variable and every answer >= 0."""
    table, die, pick = placed.table, placed.die, placed.pick
    under = _under(placed, pivot, share)
    load = share * placed.case.base_force
    gap = placed.initial + (die.constant + load * die.working)[pick] + under.still
    modes, resultant = die.modes[pick], die.constant_resultant + load * die.working_resultant
    closed, active = np.ones(pick.size, dtype=bool), np.zeros(under.below.size, dtype=bool)
    if start is not None:
        closed = start.closed[pivot][pick]
        if start.active[pivot].size == active.size:
            active = start.active[pivot].copy()
    shut_ports = table.closed[pivot]
    seen: set[bytes] = set()
    single = False
    for _ in range(_STEPS):
        found = _solve_set(under, gap, modes, resultant, closed, active)
        if found is None:
            if closed.all():
                raise MechanicsFailed("the die is not held against tipping by any set of contacts")
            closed = np.ones_like(closed)
            continue
        pressed, rigid, moved = found
        index = np.flatnonzero(active)
        room = gap + under.compliance @ pressed + under.across[:, index] @ moved[index] + modes @ rigid
        answer = under.below + under.sign * (under.across.T @ pressed) + under.ports[:, index] @ moved[index]
        pull = _ROUND_OFF * max(np.abs(answer[shut_ports]).max(initial=0.0), 1.0)
        strongest = _ROUND_OFF * np.abs(pressed).max()
        wrong = np.where(closed, pressed < -strongest, room < -_ROUND_OFF)
        least = np.where(shut_ports, pull, _ROUND_OFF)
        wrong_below = np.where(active, moved < -np.where(shut_ports, _ROUND_OFF, pull), answer < -least)
        if not (wrong.any() or wrong_below.any()):
            cells = under.own.copy()
            cells[placed.below] += placed.weights.T @ pressed
            variables = np.concatenate([cells, moved])
            forces = np.concatenate([cells, np.where(shut_ports, np.where(active, 0.0, answer), moved)])
            turned_by = table.rigid[pivot] @ variables + table.rigid_still[pivot]
            room[closed] = 0.0
            return _Solved(pressed, room, rigid, forces, turned_by, moved, closed, active, load, under)
        key = np.packbits(np.concatenate([closed, active])).tobytes()
        single = single or key in seen
        seen.add(key)
        if single:  # the least index alone, which does not cycle
            both, first = np.concatenate([closed, active]), np.flatnonzero(np.concatenate([wrong, wrong_below]))[0]
            both[first] = ~both[first]
            closed, active = both[: closed.size], both[closed.size :]
        else:
            closed, active = closed ^ wrong, active ^ wrong_below
    raise MechanicsFailed("contact did not settle")


def _solve_set(
    under: _Under, gap: Floats, modes: Floats, resultant: Floats, closed: Flags, active: Flags
) -> tuple[Floats, Floats, Floats] | None:
    """Forces (n_c,), rigid motions (3,) and variables below (n_o,) for given sets; None where they hold nothing."""
    shut, on = np.flatnonzero(closed), np.flatnonzero(active)
    if shut.size < modes.shape[1]:
        return None
    # It is symmetric: its transpose is the same in the order that LAPACK overwrites without a copy.
    square = under.compliance.take(shut, 0).take(shut, 1).T
    factor, fault = dpotrf(square, lower=True, overwrite_a=True, clean=False)
    if fault != 0:
        raise MechanicsFailed("the contact compliance is not positive definite")
    held, rigid = modes[shut], modes.shape[1]
    right = np.empty((shut.size, rigid + on.size + 1), order="F")
    right[:, :rigid], right[:, rigid:-1], right[:, -1] = held, under.across.take(shut, 0).take(on, 1), gap[shut]
    forward, _ = dtrtrs(factor, right, lower=True, overwrite_b=True)
    sign = np.concatenate([np.ones(rigid), under.sign[on]])[:, None]
    product = sign * (forward[:, :-1].T @ forward)
    small = -product[:, :-1]
    small[rigid:, rigid:] += under.ports[np.ix_(on, on)]
    wanted = np.concatenate([-resultant, -under.below[on]]) + product[:, -1]
    scale = np.concatenate([1.0 / np.maximum(np.abs(held).max(axis=0), 1e-300), np.ones(on.size)])
    try:
        other = scale * np.linalg.solve(small * scale, wanted)
    except np.linalg.LinAlgError:
        return None
    pressed = np.zeros(closed.size)
    pressed[shut] = -dtrtrs(factor, forward[:, -1] + forward[:, :-1] @ other, lower=True, trans=1)[0]
    moved = np.zeros(active.size)
    moved[on] = other[rigid:]
    return pressed, other[:rigid], moved


def _read(placed: _Placed, rest: _Solved, full: _Solved) -> Screened:
    table, area = placed.table, placed.area
    change, turn = full.table_force - rest.table_force, full.table_rigid - rest.table_rigid
    height = table.sag_of @ change + table.sag_rigid @ turn
    depth, length = [], []
    for line, place in zip(height, table.sag_lines, strict=True):
        chord = np.interp(place, place[[0, -1]], line[[0, -1]])
        depth.append(float(np.max(chord - line)))
        length.append(float(place[-1] - place[0]))
    governing = 0 if depth[0] / length[0] >= depth[1] / length[1] else 1
    moved = _breathing(placed, rest, full)
    everywhere = np.zeros((2, placed.bears.size), dtype=bool)
    everywhere[:, placed.pick] = rest.closed, full.closed
    return Screened(
        sag=depth[governing],
        sag_slope=depth[governing] / length[governing],
        gap=max(float(full.gap.max(initial=0.0)), _corner_gap(placed, full)),
        contact_share=float(area[full.gap < SEATED].sum() / area.sum()),
        pressure=float((full.force / area).max()),
        breathing=float(np.hypot(*moved).max()),
        creep_bound=_ALLOWED * float(np.hypot(*np.ptp(moved, axis=1))),
        may_slide=may_slide(placed.case, placed.die.leaning),
        start=Start(everywhere, (rest.active, full.active)),
    )


def _breathing(placed: _Placed, rest: _Solved, full: _Solved) -> Floats:
    """How far the die's underside moves over the table's top from rest to the full force (2, n_c), bolster axes, mm."""
    table, die, case = placed.table, placed.die, placed.case
    change = (full.table_force - rest.table_force).astype(np.float32)
    on_cells = table.breathing_of @ change + table.breathing_rigid @ (full.table_rigid - rest.table_rigid)
    of_table = table.cells.weights(placed.places) @ on_cells.T
    force = np.zeros(placed.bears.size, dtype=np.float32)
    force[placed.pick] = full.force - rest.force
    material = case.press.bolster.material
    ratio = 0.0 if case.press.bolster.ribs is not None else material.poisson_ratio
    spread = (1 + ratio) * ratio / material.youngs_modulus
    of_die = die.breathing_own @ force + die.breathing_modes @ (full.rigid - rest.rigid)
    of_die = of_die + (full.load - rest.load) * die.breathing_working + spread * (die.spread @ force)
    return np.asarray((of_table + turned(case.die.placing, of_die[:, placed.pick].T)).T)


def _corner_gap(placed: _Placed, full: _Solved) -> float:
    """Greatest gap at corners of patches all of whose neighbours bear nothing or are open, mm."""
    die, case, under = placed.die, placed.case, full.under
    nx, ny = die.lines_x.size - 1, die.lines_y.size - 1
    open_patch = ~placed.bears
    open_patch[placed.pick] = full.gap > 0
    open_patch = np.pad(open_patch.reshape(nx, ny), 1, constant_values=True)
    touch = np.pad(placed.bears.reshape(nx, ny), 1)
    around = [(slice(a, a + nx + 1), slice(b, b + ny + 1)) for a in (0, 1) for b in (0, 1)]
    at = np.logical_and.reduce([open_patch[c] for c in around]) & np.logical_or.reduce([touch[c] for c in around])
    plan = case.press.bolster.plan
    on_table = placed.corners
    at = at.ravel() & (np.abs(on_table[:, 0]) <= plan.right + 1e-6) & (np.abs(on_table[:, 1]) <= plan.back + 1e-6)
    if not at.any():
        return 0.0
    force = np.zeros(placed.bears.size, dtype=np.float32)
    force[placed.pick] = full.force
    under_die = die.corner_own @ force + die.corner_modes @ full.rigid + die.corner_constant
    under_die = under_die + full.load * die.corner_working
    index = np.flatnonzero(full.active)
    sunk = under.cells @ (placed.weights.T @ full.force) + under.cells_across[:, index] @ full.moved[index]
    gap = under_die + placed.corner_weights @ (sunk + under.cells_still) + dish_depth(case.press.bolster, on_table)
    for shim in (*case.die.placing.shims, *case.die.placing.dirt):
        gap -= shim.thickness * inside(shim.area, *die.corners.T)
    return float(gap[at].max(initial=0.0))


def may_slide(case: Case, leaning: Floats) -> bool:
    """Whether the side thrust may pass what friction holds, at the worse ends of the ranges: at rest, under the whole
    force, or as the slide begins to rise.  leaning (4, 2): of the die, see ``one_sided``."""
    die, press = case.die, case.press
    rest, force = resting_force(case), case.base_force
    leanings = Leanings.placed(die, *leaning)
    ways = _ALL_ROUND if die.thrust_direction is None else (die.thrust_direction,)
    for working, returning in ((0.0, 0.0), (force, 0.0), (0.0, force * share_left(case))):
        held = rest + working + returning
        for way in ways:
            drives = Drives(
                friction=press.friction.low, slope=press.table_slope.high, side_thrust=die.side_thrust.high,
                cutting=die.cutting_thrust.high, offset=die.offset_thrust.high, direction=way, tangential_give=1.0,
                joint=1.0,
            )  # fmt: skip
            if np.hypot(*side_thrust(drives, leanings, held, working, returning)[:2]) >= press.friction.low * held:
                return True
    return False

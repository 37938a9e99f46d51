"""One die on one table, from condensed bodies: the same unilateral problem as a check solves, on the table's cells."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.linalg as linalg
import scipy.sparse as sparse

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats, Sparse
from deflect.mechanics.body import PATCH_POINTS
from deflect.mechanics.footprint import SLIVER, dish_depth, to_table, turned
from deflect.mechanics.loads import Patches, patch_grid, rectangle_points
from deflect.mechanics.mesh import inside
from deflect.mechanics.screening.die import CondensedDie
from deflect.mechanics.screening.table import CondensedTable
from deflect.mechanics.solution import SEATED
from deflect.mechanics.support import CONTACT_GIVE
from deflect.mechanics.thrust import Drives, Leanings, side_thrust
from deflect.model.case import Case

_STEPS, _ROUND_OFF = 60, 1e-9


@dataclass(frozen=True)
class Screened:
    """What a screening says; mm, MPa, shares.

    sag: the governing one of x and y, sag_slope mm/mm; gap: greatest below the die; contact_share: gap below a feeler
    gauge; pressure: greatest of a patch; breathing: greatest movement of a patch over the table from rest to full
    force; breathing_range: the extent of that movement over the die, which no creep per stroke exceeds while the side
    thrust stays below what friction holds; may_slide: whether it may not, at the worse ends of the ranges.
    closed: patches closed at rest and under force (2, n): where a like case may start.
    """

    sag: float
    sag_slope: float
    gap: float
    contact_share: float
    pressure: float
    breathing: float
    breathing_range: float
    may_slide: bool
    closed: Flags


@dataclass(frozen=True, eq=False)
class _Placed:
    """A condensed die laid on a condensed table; n_c patches bear, of the n below it."""

    case: Case
    table: CondensedTable
    die: CondensedDie
    patches: Patches
    bears: Flags
    area: Floats
    weights: Sparse
    compliance: Floats
    across: Floats
    initial: Floats
    on_cells: Floats


def screen(case: Case, table: CondensedTable, die: CondensedDie, start: Flags | None = None) -> Screened:
    """Solve a die on a table at rest and under its force; ``start`` (2, n): patches that may be closed.

    Raises MechanicsFailed where the die is not held by the table.
    """
    placed = _placed(case, table, die)
    rest = _solve(placed, 0.0, None if start is None else start[0])
    full = _solve(placed, 1.0, rest.closed if start is None else start[1])
    return _read(placed, rest, full)


def _placed(case: Case, table: CondensedTable, die: CondensedDie) -> _Placed:
    placing, bolster = case.die.placing, case.press.bolster
    patches = patch_grid(die.lines_x, die.lines_y)
    points, average = patches.quadrature(PATCH_POINTS)
    on_table = to_table(placing, points)
    x, y = on_table.T
    supported = (np.abs(x) <= bolster.length / 2 + 1e-6) & (np.abs(y) <= bolster.width / 2 + 1e-6)
    for hole in bolster.openings:
        supported &= ~((x > hole.left) & (x < hole.right) & (y > hole.front) & (y < hole.back))
    if bolster.sub_plate is not None:
        supported &= inside(bolster.sub_plate.area, x, y)
    bears, share, weight = die.bearing > SLIVER, die.bearing, average
    if not supported.all():
        on = supported.astype(float)
        support = average @ on
        share = die.bearing * support
        bears = share > SLIVER
        weight = sparse.diags_array(1.0 / np.maximum(support, SLIVER)) @ (average @ sparse.diags_array(on))
    pick = np.flatnonzero(bears)
    if not pick.size:
        raise MechanicsFailed("next to nothing of the base stands on the bolster: check its place and the cut-outs")
    cells = table.cells
    weights = (weight.tocsr()[pick] @ cells.weights(on_table)).tocsr()
    below = np.unique(weights.indices)
    narrow = weights[:, below]
    n_g = cells.count
    half = narrow @ table.answer[np.ix_(below, below)]
    compliance = die.own[np.ix_(pick, pick)] + narrow @ half.T
    area = (patches.area * share)[pick]
    squeeze = weights @ table.squeeze + die.squeeze[pick]
    compliance[np.diag_indices(pick.size)] += CONTACT_GIVE[1] * squeeze / area
    initial = np.zeros(patches.area.size)
    if bolster.dish:
        initial = average @ dish_depth(bolster, on_table)
    for shim in (*placing.shims, *placing.dirt):
        initial = initial - shim.thickness * patches.overlap(shim.area)
    return _Placed(
        case, table, die, patches, bears, area, weights, compliance,
        narrow @ table.answer[below, n_g:], initial[pick], _on_cells(case, cells.weights),
    )  # fmt: skip


def _on_cells(case: Case, weights: object) -> Floats:
    """Downward forces on the cells (2, n_g): of the clamps, which pull the table up, and of a hung cushion, N."""
    die, bolster = case.die, case.press.bolster
    assert callable(weights)
    clamps = die.placing.clamps
    places = np.array([(c.x, c.y) for c in clamps]).reshape(-1, 2)
    pulled = weights(to_table(die.placing, places)).T @ -np.array([c.force for c in clamps])
    pushed = np.zeros_like(pulled)
    if case.cushion_hangs and die.cushion_force > 0:
        region = case.press.bed.opening if bolster.pin_field is None else bolster.pin_field.region
        points, weight = rectangle_points(region)
        pushed = weights(points).T @ (weight * (die.cushion_force / weight.sum()))
    return np.stack([pulled, pushed])


@dataclass(frozen=True, eq=False)
class _Solved:
    """Contact forces (n_c,), the die's rigid motions (3,), gaps (n_c,), variables of the table (n,), closed (n,)."""

    force: Floats
    rigid: Floats
    gap: Floats
    variables: Floats
    closed: Flags


def _solve(placed: _Placed, share: float, start: Flags | None) -> _Solved:
    """The active set over patches and over the ports below the table, pivoted: every variable and every answer >= 0."""
    table, die, pick = placed.table, placed.die, np.flatnonzero(placed.bears)
    n_g, force = table.squeeze.size, share * placed.case.base_force
    own = placed.on_cells[0] + share * placed.on_cells[1]
    by_own = table.answer[:, :n_g] @ own if own.any() else np.zeros(table.still.size)
    still = table.still + by_own
    gap = placed.initial + (die.constant + force * die.working)[pick] + placed.weights @ still[:n_g]
    below = still[n_g:]
    modes, resultant = die.modes[pick], die.constant_resultant + force * die.working_resultant
    sign = np.where(table.closed, -1.0, 1.0)
    closed = np.ones(pick.size, dtype=bool) if start is None else start[pick].copy()
    active = np.zeros(below.size, dtype=bool)
    seen: set[bytes] = set()
    single = False
    for _ in range(_STEPS * 10):
        found = _solve_set(placed, gap, below, modes, resultant, closed, active, sign)
        if found is None:
            if closed.all():
                raise MechanicsFailed("the die is not held against tipping by any set of contacts")
            closed = np.ones_like(closed)
            continue
        pressed, rigid, moved = found
        on_cells = placed.weights.T @ pressed
        room = gap + placed.compliance @ pressed + placed.across @ moved + modes @ rigid
        answer = below + table.answer[n_g:, :n_g] @ on_cells
        index = np.flatnonzero(active)
        answer += table.answer[n_g:, n_g + index] @ moved[index]
        wrong = np.where(closed, pressed < -_ROUND_OFF * np.abs(pressed).max(), room < -_ROUND_OFF)
        pull = _ROUND_OFF * max(np.abs(answer[table.closed]).max(initial=0.0), 1.0)
        least = np.where(table.closed, pull, _ROUND_OFF)
        wrong_below = np.where(active, moved < -np.where(table.closed, _ROUND_OFF, pull), answer < -least)
        if not (wrong.any() or wrong_below.any()):
            whole = np.concatenate([on_cells + own, moved])
            everywhere = np.zeros(placed.bears.size, dtype=bool)
            everywhere[pick] = closed
            return _Solved(pressed, rigid, np.where(closed, 0.0, room), whole, everywhere)
        key = np.packbits(np.concatenate([closed, active])).tobytes()
        single = single or key in seen
        seen.add(key)
        if single:  # least index: Murty's rule, which does not cycle
            first = int(np.flatnonzero(np.concatenate([wrong, wrong_below]))[0])
            both = np.concatenate([closed, active])
            both[first] = ~both[first]
            closed, active = both[: closed.size], both[closed.size :]
        else:
            closed, active = closed ^ wrong, active ^ wrong_below
    raise MechanicsFailed("contact did not settle")


def _solve_set(
    placed: _Placed, gap: Floats, below: Floats, modes: Floats, resultant: Floats, closed: Flags, active: Flags,
    sign: Floats,
) -> tuple[Floats, Floats, Floats] | None:  # fmt: skip
    """Forces (n_c,), rigid motions (3,) and variables below (n_o,) for given sets; None where they hold nothing."""
    shut, on = np.flatnonzero(closed), np.flatnonzero(active)
    if shut.size < modes.shape[1]:
        return None
    n_g = placed.table.squeeze.size
    factor = linalg.cho_factor(
        placed.compliance[np.ix_(shut, shut)], lower=True, overwrite_a=True, check_finite=False
    )
    across = placed.across[np.ix_(shut, on)]
    right = np.hstack([modes[shut], across, gap[shut, None]])
    solved = linalg.cho_solve(factor, right, overwrite_b=False, check_finite=False)
    back = np.hstack([modes[shut], across * sign[on]])
    small = -back.T @ solved[:, :-1]
    small[3:, 3:] += placed.table.answer[np.ix_(n_g + on, n_g + on)]
    wanted = np.concatenate([-resultant, -below[on]]) + back.T @ solved[:, -1]
    scale = np.concatenate([1.0 / np.maximum(np.abs(modes[shut]).max(axis=0), 1e-300), np.ones(on.size)])
    try:
        other = scale * np.linalg.solve(small * scale, wanted)
    except np.linalg.LinAlgError:
        return None
    pressed = np.zeros(closed.size)
    pressed[shut] = -(solved[:, -1] + solved[:, :-1] @ other)
    moved = np.zeros(active.size)
    moved[on] = other[3:]
    return pressed, other[:3], moved


def _read(placed: _Placed, rest: _Solved, full: _Solved) -> Screened:
    table, area = placed.table, placed.area
    raw = [_raw(table, one) for one in (rest, full)]
    change, turn = raw[1][0] - raw[0][0], raw[1][1] - raw[0][1]
    height = table.sag_of @ change + table.sag_rigid @ turn
    depth, length = [], []
    for line, place in zip(height, table.sag_lines, strict=True):
        chord = np.interp(place, place[[0, -1]], line[[0, -1]])
        depth.append(float(np.max(chord - line)))
        length.append(float(place[-1] - place[0]))
    governing = 0 if depth[0] / length[0] >= depth[1] / length[1] else 1
    breathing = np.hypot(*(moved := _breathing(placed, full, raw[1]) - _breathing(placed, rest, raw[0])))
    extent = np.ptp(moved, axis=1)
    return Screened(
        sag=depth[governing],
        sag_slope=depth[governing] / length[governing],
        gap=max(float(full.gap.max(initial=0.0)), _corner_gap(placed, full)),
        contact_share=float(area[full.gap < SEATED].sum() / area.sum()),
        pressure=float((full.force / area).max()),
        breathing=float(breathing.max()),
        breathing_range=float(np.hypot(*extent)),
        may_slide=may_slide(placed.case),
        closed=np.stack([rest.closed, full.closed]),
    )


def _raw(table: CondensedTable, solved: _Solved) -> tuple[Floats, Floats]:
    """Forces at all ports of the table (n,) and its rigid motions (3,)."""
    answer = table.answer @ solved.variables + table.still
    force = solved.variables.copy()
    n_g = table.squeeze.size
    force[n_g:][table.closed] = answer[n_g:][table.closed]
    return force, table.rigid @ solved.variables + table.rigid_still


def _breathing(placed: _Placed, solved: _Solved, raw: tuple[Floats, Floats]) -> Floats:
    """How far the die's underside moves over the table's top at its patches (2, n_c), bolster axes, mm; rest's load
    and force are in ``solved``."""
    table, die, case, pick = placed.table, placed.die, placed.case, np.flatnonzero(placed.bears)
    force = np.zeros(placed.bears.size)
    force[pick] = solved.force
    on_cells = table.breathing_of @ raw[0] + table.breathing_rigid @ raw[1] + table.breathing_still
    of_table = placed.weights @ on_cells.T
    material = case.press.bolster.material
    ratio = 0.0 if case.press.bolster.ribs is not None else material.poisson_ratio
    spread = (1 + ratio) * ratio / material.youngs_modulus
    total = float(solved.force.sum() + die.constant_resultant[0])
    of_die = die.breathing_own @ force + die.breathing_modes @ solved.rigid + die.breathing_constant
    of_die = of_die + total * die.breathing_working + spread * (die.spread @ force)
    return np.asarray((of_table + turned(case.die.placing, of_die[:, pick].T)).T)


def _corner_gap(placed: _Placed, full: _Solved) -> float:
    """Greatest gap at corners of patches all of whose neighbours bear and are open, mm."""
    die, case, pick = placed.die, placed.case, np.flatnonzero(placed.bears)
    nx, ny = die.lines_x.size - 1, die.lines_y.size - 1
    open_patch = np.zeros(placed.bears.size, dtype=bool)
    open_patch[pick] = full.gap > 0
    open_patch = np.pad((open_patch | ~placed.bears).reshape(nx, ny), 1, constant_values=True)
    touch = np.pad(placed.bears.reshape(nx, ny), 1)
    corners = [(slice(a, a + nx + 1), slice(b, b + ny + 1)) for a in (0, 1) for b in (0, 1)]
    at = np.logical_and.reduce([open_patch[c] for c in corners]) & np.logical_or.reduce([touch[c] for c in corners])
    index = np.flatnonzero(at.ravel())
    if not index.size:
        return 0.0
    gx, gy = np.meshgrid(die.lines_x, die.lines_y, indexing="ij")
    points = np.column_stack([gx.ravel(), gy.ravel()])[index]
    on_table = to_table(case.die.placing, points)
    force = np.zeros(placed.bears.size)
    force[pick] = full.force
    total = float(full.force.sum() + die.constant_resultant[0])
    under = die.corner_own[index] @ force + die.corner_modes[index] @ full.rigid + die.corner_constant[index]
    under = under + total * die.corner_working[index]
    n_g = placed.table.squeeze.size
    sunk = placed.table.answer[:n_g] @ full.variables + placed.table.still[:n_g]
    gap = under + placed.table.cells.weights(on_table) @ sunk + dish_depth(case.press.bolster, on_table)
    for shim in (*case.die.placing.shims, *case.die.placing.dirt):
        area = shim.area
        gap -= shim.thickness * (
            (points[:, 0] >= area.left) & (points[:, 0] <= area.right)
            & (points[:, 1] >= area.front) & (points[:, 1] <= area.back)
        )  # fmt: skip
    plan = case.press.bolster.plan
    on = (np.abs(on_table[:, 0]) <= plan.right + 1e-6) & (np.abs(on_table[:, 1]) <= plan.back + 1e-6)
    return float(gap[on].max(initial=0.0))


def may_slide(case: Case) -> bool:
    """Whether the side thrust may pass what friction holds, at the worse ends of the ranges: at rest, under the whole
    force, or as the slide begins to rise."""
    from deflect.mechanics.stroke import resting_force, share_left

    die, press = case.die, case.press
    rest, force = resting_force(case), case.base_force
    leanings = Leanings.of(case)
    for working, returning in ((0.0, 0.0), (force, 0.0), (0.0, force * share_left(case))):
        held = rest + working + returning
        for direction in (0.0, np.pi / 2, np.pi, -np.pi / 2) if die.thrust_direction is None else (die.thrust_direction,):
            drives = Drives(
                friction=press.friction.low, slope=press.table_slope.high, side_thrust=die.side_thrust.high,
                cutting=die.cutting_thrust.high, offset=die.offset_thrust.high, direction=direction,
                tangential_give=1.0, joint=1.0,
            )  # fmt: skip
            if np.hypot(*side_thrust(drives, leanings, held, working, returning)[:2]) >= press.friction.low * held:
                return True
    return False

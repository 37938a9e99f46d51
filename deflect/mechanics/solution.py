"""What a solved case says: gaps, sag, face, stresses, and the evidence for them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.acceptance import Sag, measure_sag
from deflect.mechanics.arrays import Flags, Floats, greatest
from deflect.mechanics.body import GRAVITY, on_material
from deflect.mechanics.contract import TableBody
from deflect.mechanics.footprint import dish_depth, from_table, to_table
from deflect.mechanics.loads import Patches
from deflect.mechanics.lying import Lying, lying
from deflect.mechanics.standing import Assumptions, Standing, State
from deflect.mechanics.support import FACE_GIVE, FAR_FACE_GIVE
from deflect.model.case import Case
from deflect.model.force import Line, Patch, Ring
from deflect.model.values import Rectangle

# Contact in the shop's sense: what a feeler gauge of 0.02 mm does not enter, mm (common practice, no source).
SEATED = 0.02
# Contact in the model's sense: below this gap, mm, nothing is left of it but round-off of a drawing.
TOUCHING = 0.001
# Decimals of a place, mm: what is below them is round-off.
_DECIMALS = 6
# A feeler gauge of 0.05 mm must not go in anywhere under a die that is well set, mm; half of its base at least is to
# carry (common practice, no source).
FEELER = 0.05
LEAST_CONTACT = 0.5
# Points along a section of table and die.
_SECTION_POINTS = 121


@dataclass(frozen=True, eq=False)
class Section:
    """Table and die cut along one axis through the die's centre, mm; NaN where there is none.

    along: "x" or "y" of the bolster; place (m,) coordinate on it; table, underside (m,): heights of the
    bolster's top and of the die's underside over the plane of an unworn, unloaded table.
    """

    along: str
    place: Floats
    table: Floats
    underside: Floats


@dataclass(frozen=True, eq=False)
class Face:
    """The die's working surface at the patches' places.

    movement (patches,) mm under force; in_face (patches,) which belong to the face; error (patches,) mm
    after the best rigid fit over the face; error_range: greatest less least error over the face, mm;
    lean (patches, 2): rotation of the base's section beyond that fit, rad.
    """

    movement: Floats
    in_face: Flags
    error: Floats
    error_range: float
    lean: Floats


@dataclass(frozen=True)
class Evidence:
    """Why the numbers can be trusted.

    force_balance, moment_balance: residuals as shares; complementarity: worst violation as a share;
    exchanges: of the active set; unknowns: of both bodies and of the contact.
    """

    force_balance: float
    moment_balance: float
    complementarity: float
    exchanges: int
    plate_unknowns: int
    contact_unknowns: int


@dataclass(frozen=True, eq=False)
class Solution:
    """One die on one table under one force.  Lengths in mm, forces in N, pressures and stresses in MPa.

    patches: over the base's underside, in die axes, grid (nx, ny); bears (patches,).
    force, pressure, gap (patches,): NaN where a patch does not bear.
    outline (nx + 1, ny + 1, 2): the patches' corners in die axes; outline_gap: gap there, NaN off the bearing.
    contact_share: area with a gap below 0.02 mm as a share of the bearing area; touching_share: below 0.001 mm.
    pressure_inside: greatest pressure away from edges of the bearing, where plates and solids are both singular.
    table_points (k, 2), table_movement (k,): the table's top from before the force, in bolster axes.
    closed: ports that are closed at rest and under force, from which a like case may start.
    land_share: share of the land's area that carries; corner_lift: greatest rise of the bolster off its land.
    lying: how the bolster lies on its bed.
    """

    case: Case
    assumptions: Assumptions
    patches: Patches
    grid: tuple[int, int]
    bears: Flags
    force: Floats
    pressure: Floats
    gap: Floats
    outline: Floats
    outline_gap: Floats
    greatest_gap: float
    greatest_gap_at: tuple[float, float]
    centre_gap: float
    contact_share: float
    touching_share: float
    contact_spread: tuple[float, float]
    pressure_inside: float
    sag: Sag
    face: Face
    sections: tuple[Section, Section]
    base_stress: float
    bolster_stress: float
    table_points: Floats
    table_movement: Floats
    land_share: float
    corner_lift: float
    evidence: Evidence
    closed: tuple[Flags, Flags]
    lying: Lying


def solve_like(standing: Standing, assumptions: Assumptions, like: Solution) -> Solution:
    """Solve a standing die from the closed ports of a like one: the same answer, in fewer exchanges."""
    if not np.array_equal(standing.bears, like.bears):
        return solve(standing, assumptions)
    ports = standing.compliance.shape[0]
    # Posts come last: those that the like one has not are taken as closed.
    first, last = (np.pad(c, (0, max(ports - c.size, 0)), constant_values=True)[:ports] for c in like.closed)
    return solve(standing, assumptions, standing.solve(0.0, assumptions, first), standing.solve(1.0, assumptions, last))


def solve(
    standing: Standing, assumptions: Assumptions, rest: State | None = None, full: State | None = None
) -> Solution:
    """Solve a standing die at rest and under its whole force, and read everything off."""
    rest = rest or standing.solve(0.0, assumptions)
    full = full or standing.solve(1.0, assumptions, rest.closed)
    table, base = standing.table, standing.base
    table_motion, base_motion = full.table_motion, full.base_motion
    pick = np.flatnonzero(standing.bears)

    def spread(values: Floats) -> Floats:
        everywhere = np.full(standing.bears.size, np.nan)
        everywhere[pick] = values
        return everywhere

    force = spread(full.contact_force)
    pressure = spread(full.contact_force / standing.contact_area)
    gap = spread(full.gap)
    outline, outline_gap = _outline_gap(standing, table_motion, base_motion)
    greatest, where = _greatest(gap, standing.base.patches.centre, outline, outline_gap)
    area = standing.contact_area
    seated, touching = full.gap < SEATED, full.gap < TOUCHING
    centre = base.patches.centre[pick]
    nearest = int(np.argmin(np.hypot(*centre.T)))
    land_closed = full.land_force > 0
    grid_points = _table_grid(table)
    return Solution(
        case=standing.case,
        assumptions=assumptions,
        patches=base.patches,
        grid=base.grid,
        bears=standing.bears,
        force=force,
        pressure=pressure,
        gap=gap,
        outline=outline,
        outline_gap=outline_gap,
        greatest_gap=greatest,
        greatest_gap_at=where,
        centre_gap=float(full.gap[nearest]),
        contact_share=float(area[seated].sum() / area.sum()),
        touching_share=float(area[touching].sum() / area.sum()),
        contact_spread=_spread_of_contact(centre, full.contact_force, standing.case.die.base.plan),
        pressure_inside=_pressure_inside(standing, pressure),
        sag=measure_sag(table, table_motion - rest.table_motion, standing.case.press),
        face=read_face(standing, full),
        sections=(
            _section(standing, table_motion, base_motion, "x"),
            _section(standing, table_motion, base_motion, "y"),
        ),
        # What a body does by warmth alone strains it, but does not stress it.
        base_stress=base.stress(base_motion - standing.warmed.base, base.patches.centre),
        bolster_stress=table.stress(table_motion - standing.warmed.table, grid_points[: int(table.plan.filled.sum())]),
        table_points=grid_points,
        table_movement=table.top(grid_points).surface @ (table_motion - rest.table_motion),
        land_share=float(table.land.area[land_closed].sum() / table.land.area.sum()),
        corner_lift=float(max(0.0, full.land_gap.max())),
        evidence=_evidence(standing, full),
        closed=(rest.closed, full.closed),
        lying=lying(standing, rest, full),
    )


def read_face(standing: Standing, state: State) -> Face:
    """The die's working surface under force: the base's top over the patches, squeezed by what presses on it."""
    base = standing.base
    squeeze = base.squeeze
    contact_pressure = np.zeros(standing.bears.size)
    contact_pressure[standing.bears] = state.contact_force / base.patches.area[standing.bears]
    movement = base.top(base.patches.centre).surface @ state.base_motion
    movement = movement - squeeze * (FACE_GIVE * state.loads.face_pressure + FAR_FACE_GIVE * contact_pressure)
    in_face = _within(face_area(standing.case), base.patches.centre)
    read = base.top(base.patches.centre)
    rotation = np.column_stack([read.rotation_x @ state.base_motion, read.rotation_y @ state.base_motion])
    return fitted_face(base.patches.centre, movement, in_face, rotation)


def fitted_face(points: Floats, movement: Floats, in_face: Flags, rotation: Floats) -> Face:
    """A movement (m,) and rotation (m, 2) at points (m, 2) less their best rigid fit over the face."""
    plane = np.column_stack([np.ones(len(points)), points])
    fitted = np.linalg.lstsq(plane[in_face], movement[in_face], rcond=None)[0]
    error = movement - plane @ fitted
    return Face(movement, in_face, error, float(np.ptp(error[in_face])), rotation - fitted[1:])


def face_change(now: Face, before: Face, points: Floats) -> Face:
    """What has changed of the face since ``before``; lean is told against the fit of each state."""
    return fitted_face(points, now.movement - before.movement, now.in_face, now.lean - before.lean)


def face_area(case: Case) -> Rectangle:
    """The working surface: the rectangle around all force patterns, in die axes, at least three patches wide."""
    boxes: list[tuple[float, float, float, float]] = []
    for pattern in case.die.patterns:
        match pattern:
            case Patch():
                boxes.append((pattern.area.left, pattern.area.right, pattern.area.front, pattern.area.back))
            case Ring():
                boxes.append((pattern.outer.left, pattern.outer.right, pattern.outer.front, pattern.outer.back))
            case Line():
                xs, ys = zip(*pattern.points, strict=True)
                boxes.append((min(xs), max(xs), min(ys), max(ys)))
    left, right, front, back = (f(v) for f, v in zip((min, max, min, max), zip(*boxes, strict=True), strict=True))
    least = 3 * 100.0
    length, width = max(right - left, least), max(back - front, least)
    return Rectangle((left + right) / 2, (front + back) / 2, length, width)


def _within(area: Rectangle, points: Floats) -> Flags:
    x, y = points.T
    slack = 1e-6
    return np.asarray(
        (x >= area.left - slack) & (x <= area.right + slack) & (y >= area.front - slack) & (y <= area.back + slack)
    )


def _table_grid(table: TableBody) -> Floats:
    """Element centres and nodes of the table's mesh (k, 2)."""
    left, front, length, width = table.plan.cells
    centres = np.column_stack([left + length / 2, front + width / 2])
    return np.vstack([centres, table.plan.quads.p.T])


def _outline_gap(standing: Standing, table_motion: Floats, base_motion: Floats) -> tuple[Floats, Floats]:
    """Corners of the patches (nx + 1, ny + 1, 2) in die axes, and the gap at each, NaN off bearing or table."""
    base, case = standing.base, standing.case
    nx, ny = base.grid
    gx, gy = np.meshgrid(*base.lines, indexing="ij")
    points = np.column_stack([gx.ravel(), gy.ravel()])
    on_table = to_table(case.die.placing, points)
    good = on_material(standing.table, on_table) & _touches_bearing(standing, (nx, ny)).ravel()
    gap = np.full(len(points), np.nan)
    if good.any():
        dish = dish_depth(case.press.bolster, on_table[good])
        underside = base.underside(points[good]).surface @ base_motion
        top = standing.table.top(on_table[good]).surface @ table_motion
        gap[good] = np.maximum(underside - top + dish, 0.0)
    for shim in (*case.die.placing.shims, *case.die.placing.dirt):
        area = shim.area
        under = (np.abs(points[:, 0] - area.x) <= area.length / 2) & (np.abs(points[:, 1] - area.y) <= area.width / 2)
        gap[under] = np.maximum(gap[under] - shim.thickness, 0.0)
    return points.reshape(nx + 1, ny + 1, 2), gap.reshape(nx + 1, ny + 1)


def _touches_bearing(standing: Standing, grid: tuple[int, int]) -> Flags:
    """Which patch corners touch only open patches or none: a corner of a closed patch has no gap to speak of."""
    nx, ny = grid
    bears = standing.bears.reshape(nx, ny)
    near = np.zeros((nx + 1, ny + 1), dtype=bool)
    for a in (0, 1):
        for b in (0, 1):
            near[a : a + nx, b : b + ny] |= bears
    return near


def _greatest(gap: Floats, centre: Floats, outline: Floats, outline_gap: Floats) -> tuple[float, tuple[float, float]]:
    """The greatest gap over patches and their corners, and where (die axes).

    A corner counts only where its patches are open: at a closed patch it would show the squeeze.
    """
    nx, ny = outline_gap.shape[0] - 1, outline_gap.shape[1] - 1
    open_patch = np.where(np.isnan(gap), True, gap > 0).reshape(nx, ny)
    all_open = np.ones((nx + 1, ny + 1), dtype=bool)
    for a in (0, 1):
        for b in (0, 1):
            all_open[a : a + nx, b : b + ny] &= open_patch
    corners = np.where(all_open, outline_gap, np.nan).ravel()
    values = np.concatenate([gap, corners])
    places = np.vstack([centre, outline.reshape(-1, 2)])
    best = greatest(values)
    x, y = np.round(places[best], _DECIMALS).tolist()
    return float(values[best]), (x + 0.0, y + 0.0)


def _spread_of_contact(centre: Floats, force: Floats, plan: Rectangle) -> tuple[float, float]:
    """Extent of the carrying patches along x and y, as shares of the base's length and width."""
    carrying = centre[force > 0]
    if len(carrying) == 0:
        return 0.0, 0.0
    extent = np.ptp(carrying, axis=0)
    return float(extent[0] / plan.length), float(extent[1] / plan.width)


def _pressure_inside(standing: Standing, pressure: Floats) -> float:
    """Greatest pressure over patches all of whose eight neighbours bear too, at least the mean over the bearing."""
    nx, ny = standing.base.grid
    bears = np.zeros((nx + 2, ny + 2), dtype=bool)
    bears[1:-1, 1:-1] = standing.bears.reshape(nx, ny)
    inner = np.ones((nx, ny), dtype=bool)
    for a in range(3):
        for b in range(3):
            inner &= bears[a : a + nx, b : b + ny]
    values = pressure.reshape(nx, ny)[inner]
    mean = np.nansum(pressure[standing.bears] * standing.contact_area) / standing.contact_area.sum()
    return float(max(mean, values.max(initial=0.0)))


def _section(standing: Standing, table_motion: Floats, base_motion: Floats, along: str) -> Section:
    case = standing.case
    bolster, placing = case.press.bolster, case.die.placing
    axis = 0 if along == "x" else 1
    half = (bolster.length if axis == 0 else bolster.width) / 2
    place = np.linspace(-half, half, _SECTION_POINTS)
    points = np.tile([placing.x, placing.y], (place.size, 1)).astype(float)
    points[:, axis] = place
    table = np.full(place.size, np.nan)
    on = on_material(standing.table, points)
    table[on] = standing.table.top(points[on]).surface @ table_motion - dish_depth(bolster, points[on])
    in_die = from_table(placing, points)
    under = _within(case.die.base.plan, in_die)
    underside = np.full(place.size, np.nan)
    if under.any():
        # Where they touch, the layer's give would draw one into the other.
        height = standing.base.underside(in_die[under]).surface @ base_motion
        underside[under] = np.fmax(height, table[under])
    return Section(along, place, table, underside)


def _evidence(standing: Standing, state: State) -> Evidence:
    """Balance of both bodies, from the forces that were found and the loads that were put on."""
    case = standing.case
    clamps = sum(c.force for c in case.die.placing.clamps)
    on_die = case.die.lower.mass * GRAVITY + clamps + case.base_force
    up = float(state.contact_force.sum())
    force_balance = abs(up - on_die) / max(on_die, 1e-9)
    return Evidence(
        force_balance=force_balance,
        moment_balance=state.solved.balance,
        complementarity=state.solved.complementarity,
        exchanges=state.solved.exchanges,
        plate_unknowns=standing.table.unknowns + standing.base.unknowns,
        contact_unknowns=standing.contacts + standing.lands + len(case.press.bed.hold_downs),
    )

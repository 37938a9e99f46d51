"""A die standing on a press table: the coupled bodies, ready to be solved for any force."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import scipy.sparse as sparse

from deflect.mechanics.arrays import Flags, Floats, Sparse
from deflect.mechanics.body import (
    ELEMENT_SIZE,
    GRAVITY,
    PATCH_POINTS,
    PATCH_SIZE,
    Base,
    Table,
    condense_base,
    condense_table,
    hold_down_rows,
)
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.loads import PointForces, pattern_forces, rectangle_points
from deflect.mechanics.support import CONTACT_GIVE, FAR_FACE_GIVE, LAND_GIVE, land_compliance
from deflect.model.case import Case
from deflect.model.die import Placing
from deflect.model.values import Rectangle


@dataclass(frozen=True)
class Assumptions:
    """The figures that are never known exactly, as one solution takes them.

    bed_stiffness: N/mm3 per area of land; hold_downs: whether the assumed or stated ones act;
    land_give, contact_give: local give of the material, see support.py.
    land_pulls: a land that holds the bolster down everywhere: unphysical, for checks only.
    """

    bed_stiffness: float
    hold_downs: bool = True
    land_pulls: bool = False
    land_give: float = LAND_GIVE[1]
    contact_give: float = CONTACT_GIVE[1]


@dataclass(frozen=True, eq=False)
class Mesh:
    """How finely the bodies are meshed, mm."""

    element: float = ELEMENT_SIZE
    patch: float = PATCH_SIZE


@dataclass(frozen=True, eq=False)
class Loads:
    """Loads on both bodies that grow together: load vectors of table (N_t,) and base (N_d,), in N."""

    table: Floats
    base: Floats


@dataclass(frozen=True, eq=False)
class Standing:
    """One die on one table: ports coupled, loads laid out, nothing solved yet.

    Ports in order: contact patches that bear (n_c), land patches (n_l), hold-downs (n_h).
    compliance (n, n): without the layers that depend on assumptions.  modes (n, 6): table's, then base's.
    """

    case: Case
    table: Table
    base: Base
    bears: Flags  # (patches,) which patches of the base take part
    table_rows: Sparse  # (n_c, N_t)
    table_rotation: tuple[Sparse, Sparse]  # (n_c, N_t), about the table's axes, in bolster axes
    table_answer: Floats  # (N_t, n), with the ports' signs
    base_answer: Floats  # (N_d, n_c)
    compliance: Floats
    modes: Floats
    initial_gap: Floats  # (n_c,)
    contact_area: Floats  # (n_c,) mm2 that bears
    contact_squeeze: Floats  # (n_c,) mm/MPa of both bodies together
    constant: _Response
    working: _Response
    face_pressure: Floats  # (patches,) MPa on the base's top under the whole table force

    @property
    def contacts(self) -> int:
        return int(self.bears.sum())

    @property
    def lands(self) -> int:
        return self.table.land.area.size

    def solve(self, share: float, assumptions: Assumptions, start: Flags | None = None) -> State:
        """Contact under weight and clamps and ``share`` of the table force."""
        hold_downs = self.case.press.bed.hold_downs
        layer = np.concatenate(
            [
                assumptions.contact_give * self.contact_squeeze / self.contact_area,
                land_compliance(self.case.press.bolster, assumptions.bed_stiffness, assumptions.land_give)
                / self.table.land.area,
                [1.0 / h.stiffness for h in hold_downs],
            ]
        )
        gap = np.concatenate(
            [self.initial_gap, np.zeros(self.lands), [-h.preload / h.stiffness for h in hold_downs]]
        )
        gap = gap + self.constant.ports + share * self.working.ports
        resultant = -(self.constant.resultant + share * self.working.resultant)
        taking_part = np.ones(gap.size, dtype=bool)
        if not assumptions.hold_downs:
            taking_part[self.contacts + self.lands :] = False
        index = np.flatnonzero(taking_part)
        compliance = self.compliance[np.ix_(index, index)]
        compliance[np.diag_indices(index.size)] += layer[index]
        begin = None if start is None else start[index]
        bilateral = np.zeros(gap.size, dtype=bool)
        bilateral[self.contacts : self.contacts + self.lands] = assumptions.land_pulls
        solved = solve_contact(compliance, self.modes[index], gap[index], resultant, bilateral[index], begin)
        return State(self, share, assumptions, taking_part, solved)

    def coarser(self) -> Standing:
        """The same on meshes and patches of twice the size, for the error estimate."""
        return stand(self.case, Mesh(2 * ELEMENT_SIZE, 2 * PATCH_SIZE))


@dataclass(frozen=True, eq=False)
class _Response:
    """What one group of loads does before contact: displacements, port movements, resultant (6,)."""

    table: Floats
    base: Floats
    ports: Floats
    resultant: Floats


@dataclass(frozen=True, eq=False)
class State:
    """One solved state: forces, gaps and displacements of both bodies."""

    standing: Standing
    share: float
    assumptions: Assumptions
    taking_part: Flags
    solved: ContactSolution

    def _spread(self, values: Floats) -> Floats:
        full = np.zeros(self.taking_part.size)
        full[self.taking_part] = values
        return full

    @property
    def closed(self) -> Flags:
        """Closed ports (n,), as a start for the next solution."""
        full = np.zeros(self.taking_part.size, dtype=bool)
        full[self.taking_part] = self.solved.closed
        return full

    @property
    def contact_force(self) -> Floats:
        """Forces between die base and bolster (n_c,), N."""
        return self.solved.force[: self.standing.contacts]

    @property
    def gap(self) -> Floats:
        """Gaps below the die base (n_c,), mm."""
        return self.solved.gap[: self.standing.contacts]

    @property
    def land_force(self) -> Floats:
        """Forces on the land's patches (n_l,), N."""
        return self.solved.force[self.standing.contacts : self.standing.contacts + self.standing.lands]

    @property
    def table_motion(self) -> Floats:
        """Unknowns of the table's plate (N_t,)."""
        s = self.standing
        force = self._spread(self.solved.force)
        elastic = s.table_answer @ force + s.constant.table + self.share * s.working.table
        return elastic + s.table.plate.rigid @ self.solved.rigid[:3]

    @property
    def base_motion(self) -> Floats:
        """Unknowns of the base's plate (N_d,)."""
        s = self.standing
        elastic = s.base_answer @ self.contact_force + s.constant.base + self.share * s.working.base
        return elastic + s.base.plate.rigid @ self.solved.rigid[3:]


def stand(case: Case, mesh: Mesh | None = None) -> Standing:
    """Stand the die of ``case`` on its press: condense both bodies and couple them."""
    mesh = mesh or Mesh()
    press, die = case.press, case.die
    table = condense_table(press.bolster, press.bed.opening, mesh.element)
    base = condense_base(die.base, mesh.element, mesh.patch)
    points, average = base.patches.quadrature(PATCH_POINTS)
    on_table = to_table(die.placing, points)
    supported = over_material(table, on_table)
    support_share = average @ supported
    share = base.bearing * support_share
    bears = share > 1e-9
    # Points over a cut-out carry nothing: average over the supported ones only.
    weights = sparse.diags_array(1.0 / np.maximum(support_share, 1e-300)) @ average @ sparse.diags_array(supported)
    inner = on_table.copy()
    inner[supported < 0.5] = on_table[supported > 0.5][0]
    read = table.plate.at(inner)
    pick = np.flatnonzero(bears)
    table_rows = (weights @ read.surface).tocsr()[pick]
    rotation = tuple((weights @ r).tocsr()[pick] for r in (read.rotation_x, read.rotation_y))
    base_rows = base.contact_rows[pick]
    area = (base.patches.area * share)[pick]

    hold_rows = hold_down_rows(table, press.bed)
    table_answer = np.hstack([-table.plate.respond(table_rows), table.land_answer, -table.plate.respond(hold_rows)])
    base_answer = base.contact_answer[:, pick]
    signed_rows = sparse.vstack([-table_rows, table.land_rows, -hold_rows]).tocsr()
    n_c = pick.size
    compliance = signed_rows @ table_answer
    compliance[:n_c, :n_c] += base_rows @ base_answer
    compliance = 0.5 * (compliance + compliance.T)
    modes = np.zeros((compliance.shape[0], 6))
    modes[:, :3] = signed_rows @ table.plate.rigid
    modes[:n_c, 3:] = base_rows @ base.plate.rigid

    def response(loads: Loads) -> _Response:
        table_motion, base_motion = _respond_to(table, loads.table), _respond_to(base, loads.base)
        ports = signed_rows @ table_motion
        ports[:n_c] += base_rows @ base_motion
        resultant = np.concatenate([table.plate.rigid.T @ loads.table, base.plate.rigid.T @ loads.base])
        return _Response(table_motion, base_motion, ports, resultant)

    forces = die_forces(case)
    pressure = mean_pressure(base, forces)
    working = response(working_loads(case, table, base, forces))
    # Pressure on the base's top lifts its underside a little against the mean deflection.
    working.ports[:n_c] += FAR_FACE_GIVE * base.plate.sections[0].squeeze * pressure[pick]
    squeeze = np.array([s.squeeze for s in table.plate.section_at(inner)])
    contact_squeeze = (weights @ squeeze)[pick] + base.plate.sections[0].squeeze
    return Standing(
        case=case,
        table=table,
        base=base,
        bears=bears,
        table_rows=table_rows,
        table_rotation=(rotation[0], rotation[1]),
        table_answer=table_answer,
        base_answer=base_answer,
        compliance=compliance,
        modes=modes,
        initial_gap=initial_gap(case, base, on_table, average)[pick],
        contact_area=area,
        contact_squeeze=contact_squeeze,
        constant=response(constant_loads(case, table, base)),
        working=working,
        face_pressure=pressure,
    )


def _respond_to(body: Table | Base, load: Floats) -> Floats:
    return body.plate.respond(sparse.csr_array(load[None, :]))[:, 0]


def to_table(placing: Placing, points: Floats) -> Floats:
    """Points (m, 2) from die axes to bolster axes."""
    c, s = np.cos(placing.rotation), np.sin(placing.rotation)
    return points @ np.array([[c, s], [-s, c]]) + np.array([placing.x, placing.y])


def over_material(table: Table, points: Floats) -> Floats:
    """1 where a point lies over the bolster's material, 0 over a cut-out or beside it (m,)."""
    plan = table.bolster.plan
    x, y = points.T
    slack = 1e-6
    on = (np.abs(x) <= plan.right + slack) & (np.abs(y) <= plan.back + slack)
    for hole in table.bolster.openings:
        on &= ~((x > hole.left) & (x < hole.right) & (y > hole.front) & (y < hole.back))
    return on.astype(float)


def initial_gap(case: Case, base: Base, on_table: Floats, average: Sparse) -> Floats:
    """Gap (patches,) before any force, mm: the table's dish less the shims.

    The dish is taken as a paraboloid that is level with the bolster's edges at its corners.
    """
    bolster = case.press.bolster
    x, y = on_table.T
    bowl = 0.5 * ((2 * x / bolster.length) ** 2 + (2 * y / bolster.width) ** 2)
    gap = np.asarray(average @ (bolster.dish * (1.0 - bowl)))
    for shim in case.die.placing.shims:
        gap = gap - shim.thickness * base.patches.overlap(shim.area)
    return gap


def constant_loads(case: Case, table: Table, base: Base) -> Loads:
    """Weight of bolster and lower die half, and the clamps, which pull the bolster up as they press the die down."""
    die = case.die
    on_table = table.weight_load.copy()
    plan, weight = rectangle_points(die.base.plan)
    on_base = downward(base, PointForces(plan, weight * (die.lower.mass * GRAVITY / weight.sum())))
    if die.placing.clamps:
        places = np.array([(c.x, c.y) for c in die.placing.clamps])
        forces = np.array([c.force for c in die.placing.clamps])
        on_base = on_base + base.plate.at(places).deflection.T @ -forces
        on_table = on_table + table.plate.at(to_table(die.placing, places)).deflection.T @ forces
    return Loads(on_table, on_base)


def die_forces(case: Case) -> PointForces:
    """The force patterns on the die under the whole force, N, in die axes."""
    hung = case.table_force == case.die.working_force
    return pattern_forces(case.die.patterns, case.table_force - (case.die.cushion_force if hung else 0.0))


def mean_pressure(base: Base, forces: PointForces) -> Floats:
    """Mean pressure (patches,) of downward forces on the base's top, MPa."""
    plan, (nx, ny) = base.base.plan, base.grid
    i = np.clip(((forces.points[:, 0] - plan.left) / plan.length * nx).astype(int), 0, nx - 1)
    j = np.clip(((forces.points[:, 1] - plan.front) / plan.width * ny).astype(int), 0, ny - 1)
    return np.bincount(i * ny + j, weights=forces.force, minlength=nx * ny) / base.patches.area


def working_loads(case: Case, table: Table, base: Base, forces: PointForces) -> Loads:
    """The force patterns on the die, and the cushion's pull where it hangs on the bolster."""
    on_table = np.zeros(table.plate.basis.N)
    if case.table_force == case.die.working_force and case.die.cushion_force > 0:
        # The pins lift the blank holder with the force that the hung cushion pulls the bolster down with.
        pulled = table.opening if table.bolster.pin_field is None else table.bolster.pin_field.region
        points, weight = rectangle_points(pulled)
        on = over_material(table, points) > 0.5
        force = weight[on] * (case.die.cushion_force / weight[on].sum())
        on_table = table.plate.at(points[on]).surface.T @ -force
    return Loads(on_table, downward(base, forces))


def downward(base: Base, forces: PointForces) -> Floats:
    """Load vector (N_d,) of downward forces on the die's top."""
    load: Floats = base.plate.at(forces.points).surface.T @ -forces.force
    return load


def with_placing(case: Case, placing: Placing) -> Case:
    """The same case with the die set differently."""
    return replace(case, die=replace(case.die, placing=placing))


def plan_on_table(case: Case) -> Rectangle:
    """The rectangle on the table that encloses the base as placed."""
    corners = np.array([(sx * case.die.base.length / 2, sy * case.die.base.width / 2) for sx in (-1, 1) for sy in (-1, 1)])
    placed = to_table(case.die.placing, corners)
    low, high = placed.min(axis=0), placed.max(axis=0)
    middle, size = (low + high) / 2, high - low
    return Rectangle(float(middle[0]), float(middle[1]), float(size[0]), float(size[1]))

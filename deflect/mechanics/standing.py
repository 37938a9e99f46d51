"""A die standing on a press table: the coupled bodies, ready to be solved for any force."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import scipy.sparse as sparse

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats, Sparse
from deflect.mechanics.body import (
    ELEMENT_SIZE,
    GRAVITY,
    PATCH_POINTS,
    PATCH_SIZE,
    carries,
    condense_base,
    condense_table,
    hold_down_rows,
    on_material,
    post_rows,
)
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.contract import BaseBody, Body, TableBody
from deflect.mechanics.loads import PointForces, pattern_forces, rectangle_points
from deflect.mechanics.support import CONTACT_GIVE, FAR_FACE_GIVE, LAND_GIVE
from deflect.model.case import Case
from deflect.model.die import DieBase, Placing
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster
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


# A force on the die's face reaches the base spread over at least this share of the base's thickness.
_SPREAD_SHARE = 0.5
# Up to these plan areas (mm2) and this length (mm) the usual sizes hold; beyond them they grow (ours).
USUAL_TABLE, USUAL_BASE, LONGEST_BASE = 14e6, 4e6, 6e3
# A patch that bears with less than this share of its area is no contact.
SLIVER = 1e-6
# A footprint is a matter of plan alone; its base is condensed with this stand-in (thickness 1 mm).
FOOTPRINT_MATERIAL = Material("any", 1.0, 0.3, 0.0, 1.0)


@dataclass(frozen=True)
class Mesh:
    """How finely the bodies are meshed, mm."""

    element: float = ELEMENT_SIZE
    patch: float = PATCH_SIZE

    @staticmethod
    def suited(case: Case, coarser: float = 1.0) -> Mesh:
        """The usual sizes, or greater ones for a table or die of unusual size, so that the work stays bounded."""
        bolster, base = case.press.bolster, case.die.base
        grown = max(1.0, np.sqrt(bolster.length * bolster.width / USUAL_TABLE))
        patch = max(1.0, np.sqrt(base.length * base.width / USUAL_BASE), max(base.length, base.width) / LONGEST_BASE)
        return Mesh(coarser * grown * ELEMENT_SIZE, coarser * patch * PATCH_SIZE)


@dataclass(frozen=True, eq=False)
class Loads:
    """Loads on both bodies that grow together: load vectors of table (N_t,) and base (N_d,), in N."""

    table: Floats
    base: Floats


@dataclass(frozen=True, eq=False)
class Standing:
    """One die on one table: ports coupled, loads laid out, nothing solved yet.

    Ports in order: contact patches that bear (n_c), land patches (n_l), hold-downs (n_h), support posts (n_p).
    compliance (n, n): without the layers that depend on assumptions.  modes (n, 6): table's, then base's.
    """

    case: Case
    table: TableBody
    base: BaseBody
    bears: Flags  # (patches,) which patches of the base take part
    table_rows: Sparse  # (n_c, N_t)
    table_breathing: tuple[Sparse, Sparse]  # (n_c, N_t), along the table's axes, mm
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
        hold_downs, posts = self.case.press.bed.hold_downs, self.case.press.bed.posts
        give = assumptions.land_give * self.table.land_squeeze
        land = give + 1.0 / assumptions.bed_stiffness
        layer = np.concatenate(
            [
                assumptions.contact_give * self.contact_squeeze / self.contact_area,
                land / self.table.land.area,
                [1.0 / h.stiffness for h in hold_downs],
                [1.0 / p.stiffness + give / p.head**2 for p in posts],
            ]
        )
        holds = [-h.preload / h.stiffness for h in hold_downs]
        gap = np.concatenate([self.initial_gap, np.zeros(self.lands), holds, [p.gap for p in posts]])
        gap = gap + self.constant.ports + share * self.working.ports
        resultant = -(self.constant.resultant + share * self.working.resultant)
        taking_part = np.ones(gap.size, dtype=bool)
        if not assumptions.hold_downs:
            first = self.contacts + self.lands
            taking_part[first : first + len(hold_downs)] = False
        index = np.flatnonzero(taking_part)
        compliance = self.compliance.copy() if taking_part.all() else self.compliance[np.ix_(index, index)]
        compliance[np.diag_indices(index.size)] += layer[index]
        begin = None if start is None else start[index]
        bilateral = np.zeros(gap.size, dtype=bool)
        bilateral[self.contacts : self.contacts + self.lands] = assumptions.land_pulls
        solved = solve_contact(compliance, self.modes[index], gap[index], resultant, bilateral[index], begin)
        return State(self, share, assumptions, taking_part, solved)


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
        """Motion of the table (N_t,)."""
        s = self.standing
        force = self._spread(self.solved.force)
        elastic = s.table_answer @ force + s.constant.table + self.share * s.working.table
        return elastic + s.table.rigid @ self.solved.rigid[:3]

    @property
    def base_motion(self) -> Floats:
        """Motion of the base (N_d,)."""
        s = self.standing
        elastic = s.base_answer @ self.contact_force + s.constant.base + self.share * s.working.base
        return elastic + s.base.rigid @ self.solved.rigid[3:]


@dataclass(frozen=True, eq=False)
class Footprint:
    """A base's underside on a table: what stays the same whatever stands in it, however thick or loaded.

    on_table (q, 2): quadrature points in bolster axes; average (patches, q); pick (n_c,): patches that bear;
    rows and breathing: of the table under each; answer (N_t, n): the table's response to unit forces on all
    ports, with the ports' signs; signed_rows (n, N_t); compliance (n, n): the table's part of it.
    """

    table: TableBody
    on_table: Floats
    average: Sparse
    bears: Flags
    area: Floats
    rows: Sparse
    breathing: tuple[Sparse, Sparse]
    answer: Floats
    signed_rows: Sparse
    compliance: Floats
    squeeze: Floats


@lru_cache(maxsize=8)
def footprint(bolster: Bolster, opening: Rectangle, base: DieBase, placing: Placing, mesh: Mesh) -> Footprint:
    """Where a base stands on a table.  ``base`` and ``placing`` count only by plan, bearing and place."""
    return lay_footprint(
        condense_table(bolster, opening, mesh.element), condense_base(base, mesh.element, mesh.patch), placing
    )


def lay_footprint(table: TableBody, flat: BaseBody, placing: Placing) -> Footprint:
    """Where a base stands on a table; of the base only plan, patches and bearing count."""
    points, average = flat.patches.quadrature(PATCH_POINTS)
    on_table = to_table(placing, points)
    supported = carries(table, on_table).astype(float)
    support_share = average @ supported
    share = flat.bearing * support_share
    bears = share > SLIVER
    pick = np.flatnonzero(bears)
    # Points over a cut-out carry nothing: average over the supported ones only.
    weights = (average @ sparse.diags_array(supported)).tocsr()[pick]
    weights = sparse.diags_array(1.0 / support_share[pick]) @ weights
    if not (supported > 0.5).any():
        raise MechanicsFailed("next to nothing of the base stands on the bolster: check its place and the cut-outs")
    inner = on_table.copy()
    inner[supported < 0.5] = on_table[supported > 0.5][0]
    rows = (weights @ table.top(inner).surface).tocsr()
    along_x, along_y = table.breathing(inner)
    answer = np.hstack([-table.respond(rows), table.land_answer])
    signed_rows = sparse.vstack([-rows, table.land_rows]).tocsr()
    compliance = signed_rows @ answer
    return Footprint(
        table=table,
        on_table=on_table,
        average=average,
        bears=bears,
        area=(flat.patches.area * share)[pick],
        rows=rows,
        breathing=((weights @ along_x).tocsr(), (weights @ along_y).tocsr()),
        answer=answer,
        signed_rows=signed_rows,
        compliance=0.5 * (compliance + compliance.T),
        squeeze=weights @ table.squeeze_at(inner),
    )


def with_fastenings(foot: Footprint, bed: Bed) -> Footprint:
    """The same footprint with ports at the bed's hold-downs and support posts."""
    more = sparse.vstack([-hold_down_rows(foot.table, bed), post_rows(foot.table, bed)]).tocsr()
    if more.shape[0] == 0:
        return foot
    answer = foot.table.respond(more)
    across, own = foot.signed_rows @ answer, more @ answer
    return replace(
        foot,
        answer=np.hstack([foot.answer, answer]),
        signed_rows=sparse.vstack([foot.signed_rows, more]).tocsr(),
        compliance=np.block([[foot.compliance, across], [across.T, 0.5 * (own + own.T)]]),
    )


def stand(case: Case, mesh: Mesh | None = None) -> Standing:
    """Stand the die of ``case`` on its press: condense both bodies and couple them."""
    mesh = mesh or Mesh.suited(case)
    press, die = case.press, case.die
    place = Placing(die.placing.x, die.placing.y, die.placing.rotation)
    # The base's thickness does not matter to the footprint.
    plan = replace(die.base, thickness=1.0, material=FOOTPRINT_MATERIAL)
    foot = footprint(press.bolster.as_plate, press.bed.opening, plan, place, mesh)
    forces = pattern_forces(die.patterns, case.base_force)
    return couple(case, foot, condense_base(die.base, mesh.element, mesh.patch), forces)


def couple(case: Case, foot: Footprint, base: BaseBody, forces: PointForces) -> Standing:
    """Couple a base to the table that it stands on, and lay out the loads; ``forces``: on the base's top."""
    foot = with_fastenings(foot, case.press.bed)
    table = foot.table
    pick = np.flatnonzero(foot.bears)
    n_c = pick.size
    base_rows = base.contact_rows[pick]
    base_answer = base.contact_answer[:, pick]
    own = base_rows @ base_answer
    compliance = foot.compliance.copy()
    compliance[:n_c, :n_c] += 0.5 * (own + own.T)
    modes = np.zeros((compliance.shape[0], 6))
    modes[:, :3] = foot.signed_rows @ table.rigid
    modes[:n_c, 3:] = base_rows @ base.rigid

    def response(loads: Loads) -> _Response:
        table_motion, base_motion = _respond_to(table, loads.table), _respond_to(base, loads.base)
        ports = foot.signed_rows @ table_motion
        ports[:n_c] += base_rows @ base_motion
        resultant = np.concatenate([table.rigid.T @ loads.table, base.rigid.T @ loads.base])
        return _Response(table_motion, base_motion, ports, resultant)

    pressure = mean_pressure(base, forces)
    working = response(working_loads(case, table, base, forces))
    # Pressure on the base's top lifts its underside a little against the mean deflection.
    working.ports[:n_c] += FAR_FACE_GIVE * base.squeeze * pressure[pick]
    return Standing(
        case=case,
        table=table,
        base=base,
        bears=foot.bears,
        table_rows=foot.rows,
        table_breathing=foot.breathing,
        table_answer=foot.answer,
        base_answer=base_answer,
        compliance=compliance,
        modes=modes,
        initial_gap=initial_gap(case, base, foot.on_table, foot.average)[pick],
        contact_area=foot.area,
        contact_squeeze=foot.squeeze + base.squeeze,
        constant=response(constant_loads(case, table, base)),
        working=working,
        face_pressure=pressure,
    )


def _respond_to(body: Body, load: Floats) -> Floats:
    return body.respond(sparse.csr_array(load[None, :]))[:, 0]


def to_table(placing: Placing, points: Floats) -> Floats:
    """Points (m, 2) from die axes to bolster axes."""
    c, s = np.cos(placing.rotation), np.sin(placing.rotation)
    return np.asarray(points @ np.array([[c, s], [-s, c]]) + np.array([placing.x, placing.y]))


def initial_gap(case: Case, base: BaseBody, on_table: Floats, average: Sparse) -> Floats:
    """Gap (patches,) before any force, mm: the table's dish less the shims, and less the dirt below the base."""
    gap = np.asarray(average @ dish_depth(case.press.bolster, on_table))
    for shim in (*case.die.placing.shims, *case.die.placing.dirt):
        gap = gap - shim.thickness * base.patches.overlap(shim.area)
    return gap


def dish_depth(bolster: Bolster, points: Floats) -> Floats:
    """How far the worn top lies below its edges (m,), mm: deepest in the middle, nothing at all four edges."""
    x, y = points.T
    return np.asarray(bolster.dish * (1.0 - (2 * x / bolster.length) ** 2) * (1.0 - (2 * y / bolster.width) ** 2))


def constant_loads(case: Case, table: TableBody, base: BaseBody) -> Loads:
    """Weight of bolster and lower die half, and the clamps, which pull the bolster up as they press the die down."""
    die = case.die
    on_table = table.weight_load.copy()
    plan, weight = rectangle_points(die.base.plan)
    on_base = downward(base, PointForces(plan, weight * (die.lower.mass * GRAVITY / weight.sum())))
    if die.placing.clamps:
        places = np.array([(c.x, c.y) for c in die.placing.clamps])
        forces = np.array([c.force for c in die.placing.clamps])
        on_base = on_base + base.top(places).deflection.T @ -forces
        on_table = on_table + table.top(to_table(die.placing, places)).deflection.T @ forces
    return Loads(on_table, on_base)


def mean_pressure(base: BaseBody, forces: PointForces) -> Floats:
    """Pressure (patches,) of downward forces on the base's top, MPa, spread over a window of half its thickness.

    A line of force has no pressure of its own: it spreads through the die on its way to the base.
    """
    window = _SPREAD_SHARE * base.base.thickness
    x, y = base.patches.centre.T
    near_x = np.abs(forces.points[None, :, 0] - x[:, None]) <= window / 2
    near_y = np.abs(forces.points[None, :, 1] - y[:, None]) <= window / 2
    plan = base.base.plan
    length = np.minimum(x + window / 2, plan.right) - np.maximum(x - window / 2, plan.left)
    width = np.minimum(y + window / 2, plan.back) - np.maximum(y - window / 2, plan.front)
    return np.asarray((near_x & near_y) @ forces.force / (length * width))


def working_loads(case: Case, table: TableBody, base: BaseBody, forces: PointForces) -> Loads:
    """The force patterns on the die, and the cushion's pull where it hangs on the bolster."""
    on_table = np.zeros(table.motions)
    if case.cushion_hangs and case.die.cushion_force > 0:
        # The pins lift the blank holder with the force that the hung cushion pulls the bolster down with.
        pulled = table.opening if table.bolster.pin_field is None else table.bolster.pin_field.region
        points, weight = rectangle_points(pulled)
        on = on_material(table, points)
        if not on.any():
            raise MechanicsFailed("the hung cushion has no bolster above it to hang from: check the cut-outs")
        force = weight[on] * (case.die.cushion_force / weight[on].sum())
        on_table = table.top(points[on]).surface.T @ -force
    return Loads(on_table, downward(base, forces))


def downward(base: BaseBody, forces: PointForces) -> Floats:
    """Load vector (N_d,) of downward forces on the die's top."""
    load: Floats = base.top(forces.points).surface.T @ -forces.force
    return load


def from_table(placing: Placing, points: Floats) -> Floats:
    """Points (m, 2) from bolster axes to die axes."""
    c, s = np.cos(placing.rotation), np.sin(placing.rotation)
    return np.asarray((points - np.array([placing.x, placing.y])) @ np.array([[c, -s], [s, c]]))

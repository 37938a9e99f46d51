"""A die standing on a press table: the coupled bodies, ready to be solved for any force."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from deflect.mechanics.answers import Answers
from deflect.mechanics.arrays import Flags, Floats, Integers, Sparse
from deflect.mechanics.bed_walls import bed_answer
from deflect.mechanics.body import condense_base
from deflect.mechanics.closed_set import ClosedSets
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.contract import BaseBody, TableBody
from deflect.mechanics.footprint import Footprint, Mesh, footprint_of, initial_gap
from deflect.mechanics.loading import (
    Loads,
    Response,
    constant_loads,
    mean_pressure,
    respond,
    respond_to_each,
    warm_responses,
    working_loads,
)
from deflect.mechanics.loads import PointForces, pattern_forces
from deflect.mechanics.support import CONTACT_GIVE, FAR_FACE_GIVE, LAND_GIVE, land_compliance
from deflect.model.case import Case
from deflect.model.force import Pattern


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
    table_breathing: tuple[Sparse, Sparse]  # (n_c, N_t), along the bolster's axes, mm
    table_answer: Answers  # (N_t, n), with the ports' signs
    base_answer: Floats  # (N_d, n_c)
    compliance: Floats
    modes: Floats
    initial_gap: Floats  # (n_c,)
    contact_area: Floats  # (n_c,) mm2 that bears
    contact_squeeze: Floats  # (n_c,) mm/MPa of both bodies together
    signed_rows: Sparse  # (n, N_t) the ports on the table, with their signs
    base_rows: Sparse  # (n_c, N_d)
    constant: Response
    working: Response  # under the whole table force
    returning: Response  # under what of it still acts as the slide begins to rise
    warm: tuple[Response, Response]  # the bolster's, the base's top warmer by 1 K
    warmed: Response  # what the usual warmth does; it is part of constant
    walls: Floats | None  # (n_l + n_h) squared, mm/N of walls below the land, part of compliance

    @property
    def contacts(self) -> int:
        return int(self.bears.sum())

    @property
    def lands(self) -> int:
        return self.table.land.area.size

    def loads(self, share: float, back: float = 0.0) -> Response:
        """Weight and clamps, ``share`` of the working forces and ``back`` of those that act on the return."""
        total = self.constant + self.working * share
        return total + self.returning * back if back else total

    def response(self, loads: Loads) -> Response:
        """What further loads on the bodies do before contact."""
        return respond(self.table, self.base, self.signed_rows, self.base_rows, loads)

    def responses(self, loads: Sequence[Loads]) -> list[Response]:
        """The same for several loads at once."""
        return respond_to_each(self.table, self.base, self.signed_rows, self.base_rows, loads)

    def pressed(self, loads: Loads, forces: PointForces) -> Response:
        """The same of loads that press by ``forces`` on the base's top: pressure there lifts its underside a little
        against the mean deflection."""
        return _with_pressure(self.response(loads), self.base, np.flatnonzero(self.bears), forces)

    def under_patterns(self, case: Case) -> Standing:
        """The same die on the same table under the force patterns of ``case``, which differs in nothing else."""

        def under(patterns: Sequence[Pattern]) -> Response:
            forces = pattern_forces(patterns, case.base_force)
            return self.pressed(working_loads(case, self.table, self.base, forces), forces)

        working = under(case.die.patterns)
        returning = under(_left_on_return(case)) if case.die.changes_on_return else working
        return replace(self, case=case, working=working, returning=returning)

    def layer(self, assumptions: Assumptions) -> Floats:
        """What each port gives by itself (n,), mm/N: contact, land, hold-downs and posts."""
        press = self.case.press
        squeeze = self.table.land_squeeze
        land = land_compliance(squeeze, assumptions.bed_stiffness, assumptions.land_give)
        give = land_compliance(squeeze, np.inf, assumptions.land_give)
        return np.concatenate(
            [
                assumptions.contact_give * self.contact_squeeze / self.contact_area,
                land / self.table.land.area,
                [1.0 / h.stiffness for h in press.bed.hold_downs],
                [1.0 / p.stiffness + give / p.head**2 for p in press.bed.posts],
            ]
        )

    def coupled(self, assumptions: Assumptions) -> Coupled:
        """The ports with the layers that depend on assumptions; the last ones are kept."""
        kept = self._kept.get(assumptions)
        if kept is None:
            self._kept.clear()
            kept = self._kept[assumptions] = couple(self, assumptions)
        return kept

    @cached_property
    def _kept(self) -> dict[Assumptions, Coupled]:
        return {}

    def solve(self, share: float, assumptions: Assumptions, start: Flags | None = None) -> State:
        """Contact under weight and clamps and ``share`` of the table force."""
        return self.solve_under(self.loads(share), assumptions, start)

    def solve_under(self, loads: Response, assumptions: Assumptions, start: Flags | None = None) -> State:
        """Contact under ``loads``; start (n,): first guess of the closed ports."""
        system = self.coupled(assumptions)
        index = system.index
        solved = solve_contact(
            system.compliance,
            system.modes,
            (system.gap + loads.ports)[index],
            -loads.resultant,
            system.bilateral,
            None if start is None else start[index],
            system.sets,
        )
        return State(self, loads, assumptions, system.taking_part, solved)


@dataclass(frozen=True, eq=False)
class Coupled:
    """The contact problem's constant part: which ports take part (n,), their index (k,), compliance (k, k) mm/N
    with every layer, gap (n,) mm before any load, which of them may pull (k,), and rigid motions (k, 6)."""

    taking_part: Flags
    index: Integers
    compliance: Floats
    gap: Floats
    bilateral: Flags
    modes: Floats

    @cached_property
    def sets(self) -> ClosedSets:
        return ClosedSets(self.compliance, self.modes)


def couple(standing: Standing, assumptions: Assumptions) -> Coupled:
    """Put the layers of contact, land, hold-downs and posts between the bodies."""
    hold_downs, posts = standing.case.press.bed.hold_downs, standing.case.press.bed.posts
    layer = standing.layer(assumptions)
    holds = [-h.preload / h.stiffness for h in hold_downs]
    gap = np.concatenate([standing.initial_gap, np.zeros(standing.lands), holds, [p.gap for p in posts]])
    taking_part = np.ones(gap.size, dtype=bool)
    first = standing.contacts + standing.lands
    if not assumptions.hold_downs:
        taking_part[first : first + len(hold_downs)] = False
    bilateral = np.zeros(gap.size, dtype=bool)
    bilateral[standing.contacts : first] = assumptions.land_pulls
    index = np.flatnonzero(taking_part)
    compliance = standing.compliance.copy() if taking_part.all() else standing.compliance[np.ix_(index, index)]
    compliance[np.diag_indices(index.size)] += layer[index]
    return Coupled(taking_part, index, compliance, gap, bilateral[index], standing.modes[index])


@dataclass(frozen=True, eq=False)
class State:
    """One solved state: forces, gaps and displacements of both bodies under ``loads``."""

    standing: Standing
    loads: Response
    assumptions: Assumptions
    taking_part: Flags
    solved: ContactSolution

    @property
    def force(self) -> Floats:
        """Forces at all ports (n,), N; none where one does not take part."""
        return self._spread(self.solved.force)

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
    def land_gap(self) -> Floats:
        """Gaps between bolster and land (n_l,), mm."""
        return self.solved.gap[self.standing.contacts : self.standing.contacts + self.standing.lands]

    @cached_property
    def table_motion(self) -> Floats:
        """Motion of the table (N_t,)."""
        s = self.standing
        elastic = s.table_answer.under(self.force) + self.loads.table
        return elastic + s.table.rigid @ self.solved.rigid[:3]

    @cached_property
    def base_motion(self) -> Floats:
        """Motion of the base (N_d,)."""
        s = self.standing
        elastic = s.base_answer @ self.contact_force + self.loads.base
        return elastic + s.base.rigid @ self.solved.rigid[3:]


def stand(case: Case, mesh: Mesh | None = None) -> Standing:
    """Stand the die of ``case`` on its press: condense both bodies and couple them."""
    mesh = mesh or Mesh.suited(case)
    base = condense_base(case.die.base, mesh.element, mesh.patch, mesh.narrow_rim)
    return stand_on(case, footprint_of(case, mesh), base, lambda patterns: pattern_forces(patterns, case.base_force))


def stand_on(
    case: Case, foot: Footprint, base: BaseBody, forces_of: Callable[[Sequence[Pattern]], PointForces]
) -> Standing:
    """Couple a base to the table that it stands on, and lay out the loads; ``forces_of``: patterns on its top."""
    table = foot.table
    pick = np.flatnonzero(foot.bears)
    n_c = pick.size
    base_rows = base.contact_rows[pick]
    base_answer = base.contact_answer[:, pick]
    compliance = foot.compliance.copy()
    compliance[:n_c, :n_c] += base.contact_compliance.take(pick, 0).take(pick, 1)
    bed = case.press.bed
    walls = bed_answer(bed.land.walls, table.land.centre, bed.hold_downs)
    if walls is not None:
        below = slice(n_c, n_c + len(walls))
        compliance[below, below] += walls
    modes = np.zeros((compliance.shape[0], 6))
    modes[:, :3] = foot.signed_rows @ table.rigid
    modes[:n_c, 3:] = base_rows @ base.rigid

    pressing = [forces_of(case.die.patterns)]
    if case.die.changes_on_return:
        pressing.append(forces_of(_left_on_return(case)))
    loads = [constant_loads(case, table, base), *(working_loads(case, table, base, forces) for forces in pressing)]
    constant, *pressed = respond_to_each(table, base, foot.signed_rows, base_rows, loads)
    working, *returning = (_with_pressure(r, base, pick, f) for r, f in zip(pressed, pressing, strict=True))
    warm = warm_responses(case, table, base, foot.signed_rows, base_rows)
    warmed = warm[0] * case.press.bolster.warmth.nominal + warm[1] * case.die.warmth.nominal
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
        contact_squeeze=foot.squeeze + base.squeeze_below[pick],
        signed_rows=foot.signed_rows,
        base_rows=base_rows,
        constant=constant + warmed,
        working=working,
        returning=returning[0] if returning else working,
        warm=warm,
        warmed=warmed,
        walls=walls,
    )


def _with_pressure(response: Response, base: BaseBody, pick: Integers, forces: PointForces) -> Response:
    pressure = mean_pressure(base, forces)
    response.ports[: pick.size] += (FAR_FACE_GIVE * base.squeeze_below * pressure)[pick]
    return replace(response, face_pressure=pressure)


def _left_on_return(case: Case) -> tuple[Pattern, ...]:
    return tuple(replace(pattern, share=pattern.share * pattern.on_return) for pattern in case.die.patterns)

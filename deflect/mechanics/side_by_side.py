"""One case solved twice, with plates and with solids: what the plates missed."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from time import perf_counter

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.footprint import to_table
from deflect.mechanics.solid_body import SolidMesh, stand_solid
from deflect.mechanics.solution import Solution, solve
from deflect.mechanics.standing import Assumptions, Standing, State, stand
from deflect.mechanics.support import FACE_GIVE
from deflect.model.case import Case

# What the factor of a stiffness matrix takes per entry: eight bytes for it, four for its place.
_BYTES_AN_ENTRY = 12

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Answer:
    """What one kind of bodies says of a case at its usual values under the whole force; mm and MPa.

    sag_x, sag_y: of the table along x and y; sag_slope: mm/mm; gap_at: die axes; centre_gap: below the middle of the
    base; face: face error, greatest less least; table_centre, base_centre: movement of the bolster's top and of the
    die's face in the middle of the die, up positive, weight included; corner_lift: greatest rise of the bolster off
    its land; unknowns, contact_unknowns: solved for; seconds: that it took; memory: for factors and answers, bytes.
    """

    sag_x: float
    sag_y: float
    sag_slope: float
    greatest_gap: float
    gap_at: tuple[float, float]
    centre_gap: float
    contact_share: float
    face: float
    table_centre: float
    base_centre: float
    corner_lift: float
    base_stress: float
    bolster_stress: float
    unknowns: int
    contact_unknowns: int
    seconds: float
    memory: float


@dataclass(frozen=True)
class SideBySide:
    """The same case with plates and with solids."""

    plate: Answer
    solid: Answer


def side_by_side(
    case: Case, assumptions: Assumptions, progress: Progress = lambda _: None, mesh: SolidMesh | None = None
) -> SideBySide:
    """Solve ``case`` with plates and with solids, under the same assumptions.

    Raises MechanicsFailed where the solids cannot take the case: see ``stand_solid``.
    """
    begun = perf_counter()
    plates = _answer(stand(case), assumptions, begun)
    begun = perf_counter()
    standing = stand_solid(case, mesh, progress)
    progress("solids: contact at rest and under the whole force")
    return SideBySide(plates, _answer(standing, assumptions, begun))


def _answer(standing: Standing, assumptions: Assumptions, begun: float) -> Answer:
    rest = standing.solve(0.0, assumptions)
    full = standing.solve(1.0, assumptions, rest.closed)
    solution = solve(standing, assumptions, rest, full)
    sag, evidence = solution.sag, solution.evidence
    return Answer(
        sag_x=sag.along_x,
        sag_y=sag.along_y,
        sag_slope=sag.slope,
        greatest_gap=solution.greatest_gap,
        gap_at=solution.greatest_gap_at,
        centre_gap=_middle(solution, solution.gap),
        contact_share=solution.contact_share,
        face=solution.face.error_range,
        table_centre=_table_centre(full, solution),
        base_centre=_middle(solution, solution.face.movement),
        corner_lift=solution.corner_lift,
        base_stress=solution.base_stress,
        bolster_stress=solution.bolster_stress,
        unknowns=evidence.plate_unknowns,
        contact_unknowns=evidence.contact_unknowns,
        seconds=perf_counter() - begun,
        memory=_memory(standing),
    )


def _middle(solution: Solution, values: Floats) -> float:
    """Mean over the patches nearest to the middle of the die that have a value: one, or those that meet there."""
    away = np.where(np.isnan(values), np.inf, np.hypot(*solution.patches.centre.T))
    return float(values[away < away.min() + 1e-6].mean())


def _table_centre(state: State, solution: Solution) -> float:
    """Movement of the bolster's top below the middle of the die, with what a plate leaves out of its squeeze."""
    table = state.standing.table
    middle = to_table(solution.case.die.placing, np.zeros((1, 2)))
    surface = float((table.top(middle).surface @ state.table_motion)[0])
    return surface - FACE_GIVE * float(table.squeeze_at(middle)[0]) * _middle(solution, solution.pressure)


def _memory(standing: Standing) -> float:
    """Bytes for the factors of both bodies and their answers to the ports."""
    table, base = standing.table, standing.base
    held = (table.factor_entries + base.factor_entries) * _BYTES_AN_ENTRY
    return float(held + standing.table_answer.nbytes + standing.base_answer.nbytes)

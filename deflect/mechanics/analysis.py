"""A whole case analysed: the usual values, their ranges, the creep, the mesh error."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

import numpy as np
from scipy.stats import rankdata

from deflect.mechanics.acceptance import Sag
from deflect.mechanics.arrays import Floats
from deflect.mechanics.creep import (
    CreepResult,
    Held,
    HolderForce,
    step_error,
    with_range,
)
from deflect.mechanics.draws import CORNERS, UNCERTAIN, USUAL, drawn, uncertain_of
from deflect.mechanics.footprint import Mesh
from deflect.mechanics.ground import Ground, Solved
from deflect.mechanics.holders import holders_of
from deflect.mechanics.meeting import Meeting, first_met
from deflect.mechanics.mesh_error import COARSER, LEAST, estimate
from deflect.mechanics.mesh_error import MeshError as MeshError
from deflect.mechanics.solution import Face, Solution, solve_like
from deflect.mechanics.spread import Spread as Spread
from deflect.mechanics.spread import put_right
from deflect.mechanics.stroke import grips_of
from deflect.mechanics.variation import varied
from deflect.model.case import Case
from deflect.model.values import EVEN, Interval

# Samples of the ranges: enough to see the drivers of a dozen inputs, few enough to wait for.
USUAL_SAMPLES = 16
# Rank correlation that 16 draws of no relation pass once in twenty (Spearman's tables; from memory).
_SURELY = 0.503


@dataclass(frozen=True)
class Even:
    """The case with both bodies at one temperature: greatest gap and face error, mm, and contact share."""

    gap: float
    face: float
    contact_share: float


@dataclass(frozen=True, eq=False)
class Analysis:
    """Everything the rules may ask about a case.

    held: the strokes of the die with the parts that hold it sideways; None: nothing does, or it was not asked.
    even: at one temperature; None: nothing else is stated, or it was not asked.

    face: the face error to judge (of the change since bedding-in where the die is bedded); bed_stiffness:
    of the land, N/mm3; acceptance_slope: sag of the bare table at its acceptance test, mm/mm.

    solution, face: on the finest mesh that was solved; usual: the solution on the usual one, on which strokes are
    marched and changed cases are solved; mesh_error: of this case, or of the one that it is a change of.
    """

    case: Case
    solution: Solution
    face: Face
    creep: CreepResult
    spread: Spread
    bed_stiffness: Interval
    acceptance_slope: float
    mesh_error: MeshError | None
    held: Held | None = None
    even: Even | None = None
    usual: Solution | None = None

    @property
    def on_usual_mesh(self) -> Analysis:
        """The same with the solution that belongs to the strokes."""
        return self if self.usual is None else replace(self, solution=self.usual)

    @property
    def holding(self) -> tuple[HolderForce, ...]:
        """What each key, cone and guide takes."""
        return () if self.held is None else self.held.forces

    @cached_property
    def met(self) -> Meeting:
        """What the free die meets first at the usual values."""
        return first_met(self.case, self.creep.march.shift)


def analyse(
    case: Case,
    samples: int = USUAL_SAMPLES,
    mesh_error: bool = True,
    thrust_direction: float | None = None,
    like: MeshError | None = None,
) -> Analysis:
    """Solve a case at the usual values, over ``samples`` draws of the ranges, and on other meshes.

    thrust_direction: the only one to march where none is stated, rad; None: all round.  like: the mesh error of the
    case that this one is a change of, taken over where no other meshes are solved.
    """
    ground = Ground.of(case)
    solved = ground.solve(USUAL, ground.directions if thrust_direction is None else (thrust_direction,))
    unit = drawn(samples)
    others = [ground.solve_like(solved, u) for u in unit]
    held = None
    if samples > 0 or grips_of(holders_of(case)):
        held = solved.hold(case, ground.sides)
    if held is not None and held.forces:
        held = with_range(held, [other.hold(case, ground.sides) for other in others[: len(CORNERS)]])
    spread = _spread(solved, others, unit, uncertain_of(case))
    even = _even(ground, solved) if samples > 0 else None
    if not mesh_error:
        return replace(_analysis(ground, solved, spread, like, held), even=even)
    error, finest = _mesh_error(ground, solved)
    return replace(_analysis(ground, finest, spread, error, held), even=even, usual=solved.solution)


def analyse_at_ends(
    case: Case, ends: Mapping[str, float], thrust_direction: float, like: MeshError | None = None
) -> Analysis:
    """The case at the usual values but for some of ``UNCERTAIN``, each of which is at its low (0) or high (1) end."""
    ground = Ground.of(case)
    solved = ground.solve(_at(ends), (thrust_direction,))
    held = solved.hold(case, ground.sides) if grips_of(holders_of(case)) else None
    return _analysis(ground, solved, _spread(solved, [], USUAL[None, :0], ()), like, held)


def _at(ends: Mapping[str, float]) -> Floats:
    """The usual point of the unit cube, but for some of ``UNCERTAIN``."""
    unit = USUAL.copy()
    for uncertain, end in ends.items():
        unit[UNCERTAIN.index(uncertain)] = end
    return unit


def headlines_at(case: Case) -> Callable[[Floats], dict[str, float]]:
    """The headline numbers of a case at any point of the unit cube of ``UNCERTAIN``, named as in ``Spread``."""
    ground = Ground.of(case)
    usual = ground.solve(USUAL, ground.directions)

    def read(unit: Floats) -> dict[str, float]:
        solved = ground.solve_like(usual, unit)
        return {key: value(solved) for key, value in _headlines().items()}

    return read


def analyse_without_creep(
    case: Case, creep_of: Analysis, samples: int = 0, ends: Mapping[str, float] = MappingProxyType({})
) -> Analysis:
    """The case at the usual values and at ``samples`` draws of the ranges, at rest and under force only; the creep
    is that of another case.  ends: of ``UNCERTAIN``, those that are not usual, low (0) or high (1)."""
    ground = Ground.of(case)
    creep, like = replace(creep_of.creep, held=case.die.placing.held), creep_of.on_usual_mesh.solution

    def solved(unit: Floats) -> Solved:
        sample = ground.sample(unit)
        standing = ground.as_drawn(sample)
        solution = replace(solve_like(standing, sample.assumptions, like), case=case)
        return Solved(solution, ground.judged_face(solution.face, sample), creep)

    unit = drawn(samples)
    usual = solved(_at(ends))
    spread = _spread(usual, [solved(u) for u in unit], unit, uncertain_of(case))
    return _analysis(ground, usual, spread, creep_of.mesh_error)


def at_corners(case: Case) -> tuple[Solution, ...]:
    """The case at both corners of its ranges, at rest and under force only."""
    ground = Ground.of(case)
    return tuple(ground.solution(ground.sample(unit)) for unit in CORNERS)


def _analysis(
    ground: Ground, solved: Solved, spread: Spread, error: MeshError | None, held: Held | None = None
) -> Analysis:
    return Analysis(
        ground.case,
        solved.solution,
        solved.face,
        solved.creep,
        put_right(spread, error),
        ground.stiffness,
        ground.acceptance_slope,
        error,
        held,
    )


def _headlines() -> dict[str, Callable[[Solved], float]]:
    return {
        "sag": governing_sag,
        "sag_slope": lambda s: s.solution.sag.slope,
        "gap": lambda s: s.solution.greatest_gap,
        "contact_share": lambda s: s.solution.contact_share,
        "face": lambda s: s.face.error_range,
        "creep": lambda s: s.creep.free,
        "strokes": lambda s: first_met(s.solution.case, s.creep.march.shift).strokes,
        "base_stress": lambda s: s.solution.base_stress,
        "bolster_stress": lambda s: s.solution.bolster_stress,
        "pressure": lambda s: s.solution.pressure_inside,
    }


def governing_sag(solved: Solved) -> float:
    """The sag, mm, along the direction in which it is greater for its reference length."""
    return governing_sag_of(solved.solution.sag)


def governing_sag_of(sag: Sag) -> float:
    """The same of a sag along both."""
    along_x, along_y = sag.along_x / sag.reference_length, sag.along_y / sag.reference_width
    return sag.along_x if along_x >= along_y else sag.along_y


def _spread(usual: Solved, others: list[Solved], unit: Floats, uncertain: Sequence[str]) -> Spread:
    unit = unit[:, [UNCERTAIN.index(name) for name in uncertain]]
    intervals: dict[str, Interval] = {}
    drivers, seconds = list[tuple[str, str]](), list[tuple[str, str]]()
    for key, read in _headlines().items():
        values = np.array([read(s) for s in others])
        nominal = read(usual)
        low, high = min(nominal, *values.tolist(), nominal), max(nominal, *values.tolist(), nominal)
        intervals[key] = Interval(low, nominal, high)
        if len(others) > 2 and np.ptp(values) > 0:
            (first, _), (second, rank) = _strongest(unit, values)
            drivers.append((key, uncertain[first]))
            seconds += [(key, uncertain[second])] if rank > _SURELY else []
    met = tuple(first_met(s.solution.case, s.creep.march.shift) for s in others[len(CORNERS) :])
    return Spread(**intervals, samples=len(others), drivers=tuple(drivers), met=met, seconds=tuple(seconds))


def _strongest(unit: Floats, values: Floats) -> list[tuple[int, float]]:
    """The two inputs with the greatest rank correlation with the values, each with its size."""
    ranks = np.column_stack([rankdata(column) for column in unit.T])
    size = np.abs([np.corrcoef(column, rankdata(values))[0, 1] for column in ranks.T])
    return [(int(k), float(size[k])) for k in np.argsort(-size, kind="stable")[:2]]


def _even(ground: Ground, solved: Solved) -> Even | None:
    """The same at the usual values but for warmth, of which there is none."""
    die, bolster = ground.case.die.warmth, ground.case.press.bolster.warmth
    if die == EVEN and bolster == EVEN:
        return None
    sample = ground.sample(USUAL)
    usual = sample.variation
    by = replace(usual, die_warmth=-die.nominal, bolster_warmth=-bolster.nominal)
    cold = solve_like(varied(ground.standing, by), sample.assumptions, solved.solution)
    face = ground.judged_face(cold.face, replace(sample, variation=by))
    return Even(cold.greatest_gap, face.error_range, cold.contact_share)


def _mesh_error(ground: Ground, solved: Solved) -> tuple[MeshError, Solved]:
    """The error at the usual values, and the case on the finest mesh that was solved."""
    numbers = {key: read for key, read in _headlines().items() if key in LEAST and key != "creep"}
    found: list[Solved] = []

    def read(mesh: Mesh) -> tuple[dict[str, float], int]:
        other = Ground.of(ground.case, mesh)
        sample = other.sample(USUAL)
        solution = other.solution(sample)
        found.append(Solved(solution, other.judged_face(solution.face, sample), solved.creep))
        return {key: number(found[-1]) for key, number in numbers.items()}, solution.evidence.contact_unknowns

    coarse = Ground.of(ground.case, Mesh.suited(ground.case, COARSER))
    along = coarse.solve(USUAL, (solved.creep.thrust_direction,))
    steps = 0.0 if solved.marched is None else step_error(solved.marched)
    usual = {key: number(solved) for key, number in numbers.items()}
    error = estimate(ground.case, usual, read, _creeps(solved, along), steps)
    return error, found[-1] if error.finer else solved


def _creeps(here: Solved, there: Solved) -> tuple[float, float]:
    """Creep of both, mm per stroke; where either slides away there is none to compare."""
    slides = here.creep.march.slides or there.creep.march.slides
    return (here.creep.free, here.creep.free if slides else there.creep.free)

"""A whole case analysed: the usual values, their ranges, the creep, the mesh error."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from scipy.stats import qmc, rankdata

from deflect.mechanics.acceptance import acceptance_sag, bed_stiffness
from deflect.mechanics.arrays import Floats
from deflect.mechanics.friction import JOINT_STIFFNESS, TANGENTIAL_GIVE, Creep
from deflect.mechanics.solution import Face, Solution, face_change, read_face, solve
from deflect.mechanics.standing import Assumptions, Mesh, Standing, stand
from deflect.mechanics.stroke import Course, Drives, creep, solve_course
from deflect.mechanics.support import CONTACT_GIVE, LAND_GIVE
from deflect.model.case import Case
from deflect.model.press import Press
from deflect.model.values import Interval

# Samples of the ranges: enough to see the drivers of nine inputs, few enough to wait for.
USUAL_SAMPLES = 16
# The second mesh of the error estimate is coarser by this factor; a P0 pressure converges with the patch
# size, so that the change from that mesh to this one is about what is left to the converged answer.
COARSER = 1.5
_SEED = 20


@dataclass(frozen=True, eq=False)
class CreepResult:
    """Creep at the usual inputs.

    free: shift per stroke of the unkeyed die, mm; direction: of that shift, rad from +x (bolster axes);
    march: the march along the worse direction of thrust; held: whether keys or cones hold the die all the same.
    """

    free: float
    direction: float
    march: Creep
    held: bool


@dataclass(frozen=True)
class Spread:
    """Headline numbers over the ranges of the inputs: lowest, usual and highest value.

    sag: mm, the governing one of x and y; sag_slope: mm/mm; gap: mm; contact_share; face: range of the face
    error (or of its change since bedding-in), mm; creep: mm per stroke of the unkeyed die.  samples: how many
    were solved (0: the usual values only); drivers: per headline, the input that moves it most.
    """

    sag: Interval
    sag_slope: Interval
    gap: Interval
    contact_share: Interval
    face: Interval
    creep: Interval
    samples: int
    drivers: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class MeshError:
    """Change of a headline number from a mesh half as coarse again to this one, mm (contact: share)."""

    sag: float
    gap: float
    face: float
    contact_share: float


@dataclass(frozen=True, eq=False)
class Analysis:
    """Everything the rules may ask about a case.

    face: the face error to judge (of the change since bedding-in where the die is bedded); bed_stiffness:
    of the land, N/mm3; acceptance_slope: sag of the bare table at its acceptance test, mm/mm.
    """

    case: Case
    solution: Solution
    face: Face
    creep: CreepResult
    spread: Spread
    bed_stiffness: Interval
    acceptance_slope: float
    mesh_error: MeshError | None


@dataclass(frozen=True)
class _Sample:
    """One draw of everything that is never known exactly."""

    assumptions: Assumptions
    bedded_stiffness: float
    drives: Drives


@dataclass(frozen=True, eq=False)
class _Solved:
    """One draw, solved."""

    solution: Solution
    face: Face
    creep: CreepResult


@lru_cache(maxsize=32)
def table_of(press: Press) -> tuple[Interval, float]:
    """Land stiffness of a press (N/mm3), and its bare table's sag at the acceptance test (mm/mm)."""
    stiffness = bed_stiffness(press)
    return stiffness, acceptance_sag(press, stiffness.nominal).slope


def analyse(case: Case, samples: int = USUAL_SAMPLES, mesh_error: bool = True) -> Analysis:
    """Solve a case at the usual values, over ``samples`` draws of the ranges, and on a coarser mesh."""
    stiffness, acceptance_slope = table_of(case.press)
    standing = stand(case)
    bedded = _bedded_case(case)
    bedded_standing = None if bedded is None else stand(bedded)
    bedded_stiffness = None if bedded is None else table_of(bedded.press)[0]
    usual = _usual(case, stiffness, bedded_stiffness)
    solved = _solve(standing, bedded_standing, usual)
    draws, names = _draw(case, stiffness, bedded_stiffness, samples)
    others = [_solve(standing, bedded_standing, draw) for draw in draws[0]]
    spread = _spread(solved, others, draws[1], names)
    error = _mesh_error(case, bedded, usual, solved) if mesh_error else None
    return Analysis(case, solved.solution, solved.face, solved.creep, spread, stiffness, acceptance_slope, error)


def _bedded_case(case: Case) -> Case | None:
    """The die on the press, and under the force, on which it was bedded in."""
    bedded = case.die.bedded
    if bedded is None:
        return None
    scale = bedded.force / case.die.working_force
    die = replace(
        case.die,
        bedded=None,
        working_force=bedded.force,
        cushion_force=case.die.cushion_force * scale,
    )
    return Case(bedded.press, die)


def _usual(case: Case, stiffness: Interval, bedded: Interval | None) -> _Sample:
    press, die = case.press, case.die
    return _Sample(
        Assumptions(stiffness.nominal),
        0.0 if bedded is None else bedded.nominal,
        Drives(
            friction=press.friction.nominal,
            slope=press.table_slope.nominal,
            side_thrust=die.side_thrust.nominal,
            direction=0.0,
            tangential_give=TANGENTIAL_GIVE[1],
            joint=JOINT_STIFFNESS[1],
        ),
    )


def _draw(
    case: Case, stiffness: Interval, bedded: Interval | None, samples: int
) -> tuple[tuple[list[_Sample], Floats], tuple[str, ...]]:
    """Latin hypercube over the ranges: samples, their unit coordinates, and the inputs' names."""
    press, die = case.press, case.die
    names = (
        "land stiffness",
        "hold-down of the bolster",
        "local give at the land",
        "local give of the contact",
        "friction",
        "table out of level",
        "side thrust",
        "tangential give",
        "joint stiffness",
        "land stiffness of the press it was bedded on",
    )
    if samples == 0:
        return ([], np.zeros((0, len(names)))), names
    unit = qmc.LatinHypercube(d=len(names), rng=_SEED).random(samples)
    drawn = []
    for u in unit:
        drawn.append(
            _Sample(
                Assumptions(
                    bed_stiffness=_geometric(stiffness, u[0]),
                    hold_downs=press.bed.hold_downs_known or bool(u[1] < 0.5),
                    land_give=_triple(LAND_GIVE, u[2]),
                    contact_give=_triple(CONTACT_GIVE, u[3]),
                ),
                0.0 if bedded is None else _geometric(bedded, u[9]),
                Drives(
                    friction=_between(press.friction, u[4]),
                    slope=_between(press.table_slope, u[5]),
                    side_thrust=_between(die.side_thrust, u[6]),
                    direction=0.0,
                    tangential_give=_triple(TANGENTIAL_GIVE, u[7]),
                    joint=_triple(JOINT_STIFFNESS, u[8]),
                ),
            )
        )
    return (drawn, unit), names


def _between(interval: Interval, u: float) -> float:
    """Half of the draws below the usual value, half above it."""
    if u < 0.5:
        return interval.low + 2 * u * (interval.nominal - interval.low)
    return interval.nominal + (2 * u - 1) * (interval.high - interval.nominal)


def _triple(values: tuple[float, float, float], u: float) -> float:
    return _between(Interval(*values), u)


def _geometric(interval: Interval, u: float) -> float:
    if interval.is_exact:
        return interval.nominal
    logs = Interval(*(float(np.log(v)) for v in (interval.low, interval.nominal, interval.high)))
    return float(np.exp(_between(logs, u)))


def _solve(standing: Standing, bedded: Standing | None, sample: _Sample) -> _Solved:
    states, course = solve_course(standing, sample.assumptions)
    solution = solve(standing, sample.assumptions, states[0], states[-1])
    face = solution.face
    if bedded is not None:
        there = replace(sample.assumptions, bed_stiffness=sample.bedded_stiffness)
        before = read_face(bedded, bedded.solve(1.0, there))
        face = face_change(face, before, standing.base.patches.centre)
    return _Solved(solution, face, _worse_creep(standing.case, course, sample.drives))


def _worse_creep(case: Case, course: Course, drives: Drives) -> CreepResult:
    stated = case.die.thrust_direction
    directions = (0.0, np.pi / 2) if stated is None else (stated,)
    best: CreepResult | None = None
    for direction in directions:
        marched = creep(course, replace(drives, direction=float(direction)))
        shift = marched.shift
        free = float(np.hypot(shift[0], shift[1]))
        if best is None or free > best.free:
            best = CreepResult(free, float(np.arctan2(shift[1], shift[0])), marched, case.die.placing.held)
    assert best is not None
    return best


def _headlines() -> dict[str, Callable[[_Solved], float]]:
    return {
        "sag": governing_sag,
        "sag_slope": lambda s: s.solution.sag.slope,
        "gap": lambda s: s.solution.greatest_gap,
        "contact_share": lambda s: s.solution.contact_share,
        "face": lambda s: s.face.error_range,
        "creep": lambda s: s.creep.free,
    }


def governing_sag(solved: _Solved) -> float:
    """The sag, mm, along the direction in which it is greater for its reference length."""
    sag = solved.solution.sag
    along_x, along_y = sag.along_x / sag.reference_length, sag.along_y / sag.reference_width
    return sag.along_x if along_x >= along_y else sag.along_y


def _spread(usual: _Solved, others: list[_Solved], unit: Floats, names: tuple[str, ...]) -> Spread:
    intervals: dict[str, Interval] = {}
    drivers: list[tuple[str, str]] = []
    for key, read in _headlines().items():
        values = np.array([read(s) for s in others])
        nominal = read(usual)
        low, high = min(nominal, *values.tolist(), nominal), max(nominal, *values.tolist(), nominal)
        intervals[key] = Interval(low, nominal, high)
        if len(others) > 2 and high > low:
            drivers.append((key, names[_strongest(unit, values)]))
    return Spread(**intervals, samples=len(others), drivers=tuple(drivers))


def _strongest(unit: Floats, values: Floats) -> int:
    """Input with the greatest rank correlation with the values."""
    ranks = np.column_stack([rankdata(column) for column in unit.T])
    return int(np.argmax(np.abs([np.corrcoef(column, rankdata(values))[0, 1] for column in ranks.T])))


def _mesh_error(case: Case, bedded: Case | None, usual: _Sample, solved: _Solved) -> MeshError:
    mesh = Mesh(COARSER * Mesh().element, COARSER * Mesh().patch)
    standing = stand(case, mesh)
    rest = standing.solve(0.0, usual.assumptions)
    full = standing.solve(1.0, usual.assumptions, rest.closed)
    coarse = solve(standing, usual.assumptions, rest, full)
    face = coarse.face
    if bedded is not None:
        there = replace(usual.assumptions, bed_stiffness=usual.bedded_stiffness)
        other = stand(bedded, mesh)
        face = face_change(face, read_face(other, other.solve(1.0, there)), standing.base.patches.centre)
    fine = solved.solution
    return MeshError(
        sag=abs(governing_sag(_Solved(coarse, face, solved.creep)) - governing_sag(solved)),
        gap=abs(coarse.greatest_gap - fine.greatest_gap),
        face=abs(face.error_range - solved.face.error_range),
        contact_share=abs(coarse.contact_share - fine.contact_share),
    )

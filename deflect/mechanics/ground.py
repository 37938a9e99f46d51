"""A case with its bodies ready: solved at any point of the ranges of what is not known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from deflect.mechanics.acceptance import acceptance_sag, bed_stiffness
from deflect.mechanics.arrays import Floats
from deflect.mechanics.creep import (
    CreepResult,
    Held,
    Marched,
    find_creep,
    find_creep_like,
    hold_all_round,
)
from deflect.mechanics.drag import Drag
from deflect.mechanics.draws import Sample, sample_at
from deflect.mechanics.footprint import Mesh
from deflect.mechanics.solution import Face, Solution, face_change, read_face, solve, solve_like
from deflect.mechanics.standing import Assumptions, Standing, stand
from deflect.mechanics.thrust import Drives, Leanings
from deflect.mechanics.variation import varied
from deflect.model.case import Case
from deflect.model.press import Press
from deflect.model.values import EVEN, Interval

# Standing dies that are kept ready: a key changes none of it.
_KEPT = 4


@dataclass(frozen=True, eq=False)
class Solved:
    """One draw, solved; marched: None where the creep is that of another case."""

    solution: Solution
    face: Face
    creep: CreepResult
    marched: Marched | None = None

    def hold(self, case: Case, directions: Sequence[float]) -> Held | None:
        return None if self.marched is None else hold_all_round(self.marched, case, directions)


@lru_cache(maxsize=32)
def table_of(press: Press) -> tuple[Interval, float]:
    """Land stiffness of a bare press (N/mm3), and its table's sag at the acceptance test (mm/mm)."""
    stiffness = bed_stiffness(press)
    return stiffness, acceptance_sag(press, stiffness.nominal).slope


@dataclass(frozen=True, eq=False)
class Ground:
    """A case with its bodies ready, and the state in which it was bedded in, if it was."""

    case: Case
    standing: Standing
    stiffness: Interval
    acceptance_slope: float
    bedded: Standing | None
    bedded_stiffness: Interval | None

    @staticmethod
    def of(case: Case, mesh: Mesh | None = None) -> Ground:
        stiffness, slope = table_of(case.press.bare)
        before = bedded_case(case)
        bedded = None if before is None else stand(before, mesh)
        bedded_stiffness = None if before is None else table_of(before.press.bare)[0]
        return Ground(case, standing_of(case, mesh), stiffness, slope, bedded, bedded_stiffness)

    def sample(self, unit: Floats) -> Sample:
        return sample_at(self.case, self.stiffness, self.bedded_stiffness, unit)

    @property
    def directions(self) -> tuple[float, ...]:
        """Directions of thrust that are marched: the stated one, else all round in quarters of a turn."""
        stated = self.case.die.thrust_direction
        return tuple(k * np.pi / 2 for k in range(4)) if stated is None else (stated,)

    @property
    def drag(self) -> Drag:
        return _drag_of(self.standing)

    @property
    def sides(self) -> tuple[float, ...]:
        """Directions along which what holds the die is asked: either way alike where nothing is one-sided."""
        return self.directions if Leanings.of(self.case).one_sided else self.directions[:2]

    def solve(self, unit: Floats, directions: Sequence[float]) -> Solved:
        """Contact, face and creep at one point of the ranges, along the worst of some directions of thrust."""
        sample = self.sample(unit)
        marched = _march(self.as_drawn(sample), sample.assumptions, sample.drives, tuple(directions))
        solution = self.solution(sample)
        return Solved(solution, self.judged_face(solution.face, sample), marched.told(self.case), marched)

    def solve_like(self, usual: Solved, unit: Floats) -> Solved:
        """The same at another point of the ranges, from the one that is solved."""
        sample = self.sample(unit)
        assert usual.marched is not None, "the usual values are marched first"
        standing = self.as_drawn(sample)
        solution = replace(solve_like(standing, sample.assumptions, usual.solution), case=self.case)
        drag = self.drag if standing is self.standing else replace(self.drag, standing=standing)
        marched = find_creep_like(usual.marched, standing, drag, sample.assumptions, sample.drives)
        return Solved(solution, self.judged_face(solution.face, sample), marched.told(self.case), marched)

    def solution(self, sample: Sample) -> Solution:
        """At rest and under force."""
        return replace(solve(self.as_drawn(sample), sample.assumptions), case=self.case)

    def as_drawn(self, sample: Sample) -> Standing:
        """The standing die with its bodies as drawn."""
        return varied(self.standing, sample.variation)

    def judged_face(self, face: Face, sample: Sample) -> Face:
        """The face error that counts: of the change since bedding-in, where the die is bedded."""
        if self.bedded is None:
            return face
        there = replace(sample.assumptions, bed_stiffness=sample.bedded_stiffness)
        there_too = self.bedded
        if self.bedded.case.press == self.case.press:
            variation = replace(sample.variation, die_warmth=0.0)
            there_too = varied(self.bedded, variation)
        before = read_face(there_too, there_too.solve(1.0, there))
        return face_change(face, before, self.standing.base.patches.centre)


def standing_of(case: Case, mesh: Mesh | None = None) -> Standing:
    """The die of ``case`` on its table, kept: what locates it changes nothing here."""
    return _stand_unlocated(_unlocated(case), mesh)


def _unlocated(case: Case) -> Case:
    """The case without what locates the die: keys, cones and guides press nothing on its base."""
    die = case.die
    placing = replace(die.placing, keyed=False, coned=False, keys=(), cones=())
    return replace(case, die=replace(die, placing=placing, guides=(), guide_offset=(0.0, 0.0)))


@lru_cache(maxsize=_KEPT)
def _stand_unlocated(case: Case, mesh: Mesh | None) -> Standing:
    return stand(case, mesh)


@lru_cache(maxsize=_KEPT)
def _drag_of(standing: Standing) -> Drag:
    return Drag.of(standing)


@lru_cache(maxsize=_KEPT)
def _march(standing: Standing, assumptions: Assumptions, drives: Drives, directions: tuple[float, ...]) -> Marched:
    return find_creep(standing, _drag_of(standing), assumptions, drives, directions)


def bedded_case(case: Case) -> Case | None:
    """The die on the press, and under the force, on which it was bedded in."""
    bedded = case.die.bedded
    if bedded is None:
        return None
    scale = bedded.force / case.die.working_force
    die = replace(
        case.die,
        bedded=None,
        # It was fitted at one temperature.
        warmth=EVEN,
        # Shims and dirt belong to this table, not to that one.
        placing=replace(case.die.placing, shims=(), dirt=()),
        working_force=bedded.force,
        cushion_force=case.die.cushion_force * scale,
    )
    return Case(bedded.press, die)

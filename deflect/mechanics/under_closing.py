"""The lower half under the force as the closing spreads it, beside what it does under the patterns that are stated.

Where a die bottoms, the spread of the force is a result: of the closing the faces' pressure is taken as the pattern of
the lower half, which is solved under it anew.  It is that of the whole force; on the way there the stroke takes the
same pattern, less of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from deflect.mechanics.analysis import Analysis, governing_sag_of
from deflect.mechanics.closing import patterns_as_closed
from deflect.mechanics.closure import Closure, Stiff, closed_at, closure_of, ends, usual
from deflect.mechanics.creep import CreepResult, find_creep
from deflect.mechanics.drag import Drag
from deflect.mechanics.draws import USUAL, Sample
from deflect.mechanics.ground import Ground
from deflect.mechanics.solution import FEELER, LEAST_CONTACT, Face, Solution, solve_like
from deflect.model.case import Case
from deflect.model.values import Interval

# A number that moves by more than this share of its limit moves by enough to matter (ours).
MATTERS = 0.2


@dataclass(frozen=True)
class Numbers:
    """What a lower half does under one spread of its force.

    gap: greatest below the die, mm; face: error to judge, mm; contact_share; base_stress, bolster_stress, pressure
    (away from edges): MPa; sag: of the table along the direction that governs, mm.
    """

    gap: float
    face: float
    contact_share: float
    base_stress: float
    bolster_stress: float
    pressure: float
    sag: float


@dataclass(frozen=True)
class Shares:
    """The same numbers over what they may come to; 1: at the limit.

    contact: what of the bearing does not carry, over what may not.
    """

    gap: float
    face: float
    contact: float
    stress: float

    @property
    def worst(self) -> float:
        return max(self.gap, self.face, self.contact, self.stress)

    def moved(self, other: Shares) -> tuple[str, ...]:
        """Names of those that are other by enough to matter, or that cross their limit."""
        told = (
            ("gap", self.gap, other.gap),
            ("face error", self.face, other.face),
            ("contact share", self.contact, other.contact),
            ("stress of the base", self.stress, other.stress),
        )
        return tuple(name for name, a, b in told if abs(a - b) > MATTERS or (a > 1) != (b > 1))


@dataclass(frozen=True)
class UnderClosing:
    """The lower half under stated patterns and as its faces close, at the usual values on the usual mesh.

    worst: of the closing's shares, over the ranges of land and hanging points where the analysis was.
    """

    stated: Numbers
    closed: Numbers
    stated_shares: Shares
    closed_shares: Shares
    worst: Interval

    @property
    def moved(self) -> tuple[str, ...]:
        """What the stated patterns tell otherwise by enough to matter; empty: nothing."""
        return self.stated_shares.moved(self.closed_shares)


def under_closing(analysis: Analysis) -> UnderClosing | None:
    """The lower half of a case under its own closing; None: slide or upper die is not described, or its faces close
    solid nowhere."""
    case = analysis.case
    closure = closure_of(case)
    if closure is None or not closure.closes:
        return None
    analysis = analysis.on_usual_mesh
    like, stiff = analysis.solution, usual(case)
    ground = Ground.of(case)
    stated = _numbers(like, ground.judged_face(like.face, _sample(ground, stiff)))
    found = [_solved(case, stiff, like)]
    if analysis.spread.samples > 0:
        soft, _, hard = ends(case)
        found += [_solved(case, soft, like), _solved(case, hard, like)]
    worst = [_shares(case, one).worst for one in found]
    return UnderClosing(
        stated,
        found[0],
        _shares(case, stated),
        _shares(case, found[0]),
        Interval(min(worst), worst[0], max(worst)),
    )


def creep_under_closing(analysis: Analysis) -> CreepResult | None:
    """The creep of the free die under the same, at the usual values and along the thrust that was worst; None: as
    above."""
    case = analysis.case
    closure = closure_of(case)
    if closure is None or not closure.closes:
        return None
    ground = _as_closed(case, closure)
    sample = ground.sample(USUAL)
    drag, ways = Drag.of(ground.standing), (analysis.creep.thrust_direction,)
    return find_creep(ground.standing, drag, sample.assumptions, sample.drives, ways).told(case)


@lru_cache(maxsize=8)
def _solved(case: Case, stiff: Stiff, like: Solution) -> Numbers:
    ground = _as_closed(case, closed_at(case, stiff))
    sample = _sample(ground, stiff)
    solution = solve_like(ground.standing, sample.assumptions, like)
    return _numbers(solution, ground.judged_face(solution.face, sample))


def _as_closed(case: Case, closure: Closure) -> Ground:
    """The case on the same ground, its patterns as its faces close.  What it was bedded in on stays: there the faces
    were fitted until they closed as stated."""
    ground = Ground.of(case)
    patterns = patterns_as_closed(case.die, closure.faces, closure.pressure, case.base_force)
    standing = ground.standing
    closing = replace(standing.case, die=replace(standing.case.die, patterns=patterns))
    return replace(ground, standing=standing.under_patterns(closing))


def _sample(ground: Ground, stiff: Stiff) -> Sample:
    """The usual values but for what carries the halves."""
    sample, bedded = ground.sample(USUAL), ground.case.die.bedded
    assumptions = replace(sample.assumptions, bed_stiffness=stiff.land, contact_give=stiff.contact_give)
    same = bedded is not None and bedded.press == ground.case.press
    return replace(
        sample,
        assumptions=assumptions,
        bedded_stiffness=stiff.land if same else sample.bedded_stiffness,
    )


def _numbers(solution: Solution, face: Face) -> Numbers:
    return Numbers(
        solution.greatest_gap,
        face.error_range,
        solution.contact_share,
        solution.base_stress,
        solution.bolster_stress,
        solution.pressure_inside,
        governing_sag_of(solution.sag),
    )


def _shares(case: Case, numbers: Numbers) -> Shares:
    limits = case.die.limits
    return Shares(
        numbers.gap / FEELER,
        numbers.face / (limits.bedding if case.die.bedded is None else limits.spotting),
        (1 - numbers.contact_share) / (1 - LEAST_CONTACT),
        numbers.base_stress / case.die.base.material.permitted_stress,
    )

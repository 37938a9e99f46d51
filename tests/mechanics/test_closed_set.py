"""Answers of closed sets from a neighbour's factor, against the whole system of equations solved by numpy."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import pytest

import deflect.mechanics.closed_set as closed_set
from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.closed_set import ClosedSets

CONTACTS, LOADS = 60, 2
# The system's condition is about 1e3; a dozen digits are left of sixteen.
CLOSE = 1e-11


@dataclass(frozen=True)
class Problem:
    """Contacts of bodies with three rigid motions, and two loads."""

    compliance: Floats
    modes: Floats
    gap: Floats
    resultant: Floats

    @cached_property
    def sets(self) -> ClosedSets:
        return ClosedSets(self.compliance, self.modes)


@pytest.fixture
def problem() -> Problem:
    rng = np.random.default_rng(6)
    root = rng.normal(size=(CONTACTS, CONTACTS))
    place = rng.uniform(-1000.0, 1000.0, (CONTACTS, 2))
    modes = np.column_stack([np.ones(CONTACTS), place])
    resultant = np.array([[1e4, -2e4], [3e5, 0.0], [-1e5, 4e5]])
    return Problem(root @ root.T + CONTACTS * np.eye(CONTACTS), modes, rng.normal(size=(CONTACTS, LOADS)), resultant)


def by_numpy(problem: Problem, closed: Flags) -> tuple[Floats, Floats]:
    """Forces and rigid motions from the whole system."""
    index, m = np.flatnonzero(closed), problem.modes.shape[1]
    held = problem.modes[index]
    matrix = np.block([[problem.compliance[np.ix_(index, index)], held], [held.T, np.zeros((m, m))]])
    answer = np.linalg.solve(matrix, np.vstack([-problem.gap[index], problem.resultant]))
    force = np.zeros_like(problem.gap)
    force[index] = answer[: index.size]
    return force, answer[index.size :]


def agree(problem: Problem, closed: Flags) -> None:
    answer = problem.sets.solve(closed, problem.gap, problem.resultant)
    force, rigid = by_numpy(problem, closed)
    gap = problem.gap + problem.modes @ rigid + problem.compliance @ force
    assert answer is not None
    assert answer.force == pytest.approx(force, rel=CLOSE, abs=CLOSE * np.abs(force).max())
    assert answer.rigid == pytest.approx(rigid, rel=CLOSE, abs=CLOSE * np.abs(rigid).max(initial=0.0))
    # A gap is a difference of movements that may be far greater.
    moved = np.abs(problem.compliance @ force).max()
    assert answer.gap == pytest.approx(gap, rel=CLOSE, abs=CLOSE * moved)
    assert not answer.force[~closed].any()
    assert not answer.gap[closed].any()


def test_neighbours_are_answered_by_one_factor(problem: Problem, monkeypatch: pytest.MonkeyPatch) -> None:
    """Contacts that close, that open, that do both at once, and that go back: each from the first set's factor."""
    made = []
    factor = closed_set.dpotrf
    monkeypatch.setattr(closed_set, "dpotrf", lambda *a, **k: made.append(1) or factor(*a, **k))
    first = np.arange(CONTACTS) < 50
    for opened, shut in (([], []), ([3], []), ([], [55]), ([3, 8], [52, 55, 58]), ([8], []), ([], [])):
        closed = first.copy()
        closed[opened], closed[shut] = False, True
        agree(problem, closed)
    assert len(made) == 1


def test_a_set_far_away_is_factorised_anew(problem: Problem) -> None:
    agree(problem, np.arange(CONTACTS) < 50)
    agree(problem, np.arange(CONTACTS) >= 30)


def test_too_few_contacts_hold_nothing(problem: Problem) -> None:
    """Two points do not hold a plate against tipping about the line through them."""
    for closed in (np.zeros(CONTACTS, dtype=bool), np.arange(CONTACTS) < 2):
        assert problem.sets.solve(closed, problem.gap, problem.resultant) is None


def test_bodies_without_rigid_motions_may_touch_nowhere(problem: Problem) -> None:
    held = Problem(problem.compliance, np.zeros((CONTACTS, 0)), problem.gap, np.zeros((0, LOADS)))
    answer = held.sets.solve(np.zeros(CONTACTS, dtype=bool), held.gap, held.resultant)
    assert answer is not None
    assert np.array_equal(answer.gap, problem.gap)
    agree(held, np.arange(CONTACTS) % 2 == 0)


def test_contacts_that_hardly_hold_are_factorised_themselves(problem: Problem) -> None:
    """All contacts but those of a hair's breadth beside a line open one after the other: the hold falls by 1e-12."""
    modes = problem.modes.copy()
    modes[5:, 2] *= 1e-6
    thin = replace(problem, modes=modes, resultant=np.array([[1e4, 1e4], [0.0, 1e3], [0.0, 0.0]]))
    closed = np.ones(CONTACTS, dtype=bool)
    for opened in range(5):
        agree(thin, closed)
        closed[opened] = False
    # The motion about the line in a unit in which its arms are as long as the others: the forces are the same.
    alike = replace(thin, modes=modes * [1.0, 1.0, 1e6], resultant=thin.resultant * [[1.0], [1.0], [1e6]])
    answer, (force, _) = thin.sets.solve(closed, thin.gap, thin.resultant), by_numpy(alike, closed)
    assert answer is not None
    assert answer.force == pytest.approx(force, abs=CLOSE * np.abs(force).max())


def test_one_factor_serves_other_loads(problem: Problem) -> None:
    first = np.arange(CONTACTS) < 50
    agree(problem, first)
    other = replace(problem, gap=problem.gap[::-1], resultant=2.0 * problem.resultant)
    other.__dict__["sets"] = problem.sets
    agree(other, first ^ (np.arange(CONTACTS) == 7))


def test_a_compliance_that_is_not_positive_definite_is_refused(problem: Problem) -> None:
    wrong = ClosedSets(-problem.compliance, problem.modes)
    with pytest.raises(MechanicsFailed):
        wrong.solve(np.ones(CONTACTS, dtype=bool), problem.gap, problem.resultant)

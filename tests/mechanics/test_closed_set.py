"""Answers of closed sets from a neighbour's factor, against the whole system of equations solved by numpy."""

from __future__ import annotations

import numpy as np
import pytest

import deflect.mechanics.closed_set as closed_set
from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.closed_set import ClosedSets

CONTACTS, LOADS = 60, 2
# The system's condition is about 1e3; a dozen digits are left of sixteen.
CLOSE = 1e-11


@pytest.fixture
def sets() -> ClosedSets:
    rng = np.random.default_rng(6)
    root = rng.normal(size=(CONTACTS, CONTACTS))
    place = rng.uniform(-1000.0, 1000.0, (CONTACTS, 2))
    modes = np.column_stack([np.ones(CONTACTS), place])
    resultant = np.array([[1e4, -2e4], [3e5, 0.0], [-1e5, 4e5]])
    return ClosedSets(root @ root.T + CONTACTS * np.eye(CONTACTS), modes, rng.normal(size=(CONTACTS, LOADS)), resultant)


def by_numpy(sets: ClosedSets, closed: Flags) -> tuple[Floats, Floats]:
    """Forces and rigid motions from the whole system."""
    index, m = np.flatnonzero(closed), sets.modes.shape[1]
    held = sets.modes[index]
    matrix = np.block([[sets.compliance[np.ix_(index, index)], held], [held.T, np.zeros((m, m))]])
    answer = np.linalg.solve(matrix, np.vstack([-sets.gap[index], sets.resultant]))
    force = np.zeros_like(sets.gap)
    force[index] = answer[: index.size]
    return force, answer[index.size :]


def agree(sets: ClosedSets, closed: Flags) -> None:
    answer = sets.solve(closed)
    force, rigid = by_numpy(sets, closed)
    gap = sets.gap + sets.modes @ rigid + sets.compliance @ force
    assert answer is not None
    assert answer.force == pytest.approx(force, rel=CLOSE, abs=CLOSE * np.abs(force).max())
    assert answer.rigid == pytest.approx(rigid, rel=CLOSE, abs=CLOSE * np.abs(rigid).max(initial=0.0))
    assert answer.gap == pytest.approx(gap, rel=CLOSE, abs=CLOSE * np.abs(gap).max())
    assert not answer.force[~closed].any()
    assert not answer.gap[closed].any()


def test_neighbours_are_answered_by_one_factor(sets: ClosedSets, monkeypatch: pytest.MonkeyPatch) -> None:
    """Contacts that close, that open, that do both at once, and that go back: each from the first set's factor."""
    made = []
    factor = closed_set.dpotrf
    monkeypatch.setattr(closed_set, "dpotrf", lambda *a, **k: made.append(1) or factor(*a, **k))
    first = np.arange(CONTACTS) < 50
    for opened, shut in (([], []), ([3], []), ([], [55]), ([3, 8], [52, 55, 58]), ([8], []), ([], [])):
        closed = first.copy()
        closed[opened], closed[shut] = False, True
        agree(sets, closed)
    assert len(made) == 1


def test_a_set_far_away_is_factorised_anew(sets: ClosedSets) -> None:
    agree(sets, np.arange(CONTACTS) < 50)
    agree(sets, np.arange(CONTACTS) >= 30)


def test_too_few_contacts_hold_nothing(sets: ClosedSets) -> None:
    """Two points do not hold a plate against tipping about the line through them."""
    assert sets.solve(np.zeros(CONTACTS, dtype=bool)) is None
    assert sets.solve(np.arange(CONTACTS) < 2) is None


def test_bodies_without_rigid_motions_may_touch_nowhere(sets: ClosedSets) -> None:
    held = ClosedSets(sets.compliance, np.zeros((CONTACTS, 0)), sets.gap, np.zeros((0, LOADS)))
    answer = held.solve(np.zeros(CONTACTS, dtype=bool))
    assert answer is not None
    assert np.array_equal(answer.gap, sets.gap)
    agree(held, np.arange(CONTACTS) % 2 == 0)


def test_a_compliance_that_is_not_positive_definite_is_refused(sets: ClosedSets) -> None:
    with pytest.raises(MechanicsFailed):
        ClosedSets(-sets.compliance, sets.modes, sets.gap, sets.resultant).solve(np.ones(CONTACTS, dtype=bool))

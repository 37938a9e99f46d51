"""The contact solver against every possible contact: enumeration, and the conditions that single out the answer.

The problem has one solution where the compliance is positive definite and some forces can hold the bodies
(convex minimum); enumeration tries every set of closed contacts and is right by construction.
"""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deflect.faults import MechanicsFailed
from deflect.mechanics import contact
from deflect.mechanics.arrays import Floats
from deflect.mechanics.contact import solve_contact

Problem = tuple[Floats, Floats, Floats, Floats]


def random_problem(seed: int, contacts: int, motions: int, stiffness_spread: float) -> Problem:
    """Compliance, modes, gaps and a resultant that some pushing forces can meet."""
    rng = np.random.default_rng(seed)
    root = rng.normal(size=(contacts, contacts))
    weight = 10.0 ** rng.uniform(-stiffness_spread, 0.0, contacts)
    compliance = (root * weight) @ root.T + 1e-6 * np.eye(contacts)
    modes = np.column_stack([np.ones(contacts), rng.uniform(-1, 1, (contacts, motions - 1))])
    gap = rng.normal(scale=rng.uniform(0.01, 3.0), size=contacts)
    resultant = modes.T @ rng.uniform(0.0, 1.0, contacts)
    return compliance, modes, gap, resultant


def enumerated(problem: Problem) -> Floats:
    """Forces by trying all sets of closed contacts."""
    compliance, modes, gap, resultant = problem
    n, m = modes.shape
    best, least = np.zeros(n), np.inf
    for closed in product((False, True), repeat=n):
        index = np.flatnonzero(closed)
        if index.size < m:
            continue
        system = np.zeros((index.size + m,) * 2)
        system[: index.size, : index.size] = compliance[np.ix_(index, index)]
        system[: index.size, index.size :] = modes[index]
        system[index.size :, : index.size] = modes[index].T
        try:
            answer = np.linalg.solve(system, np.concatenate([-gap[index], resultant]))
        except np.linalg.LinAlgError:
            continue
        force = np.zeros(n)
        force[index] = answer[: index.size]
        # Among forces that push and balance, the answer has the least energy.
        energy = float(force @ compliance @ force / 2 + gap @ force)
        balanced = np.abs(modes.T @ force - resultant).max(initial=0.0) < 1e-7 * max(1.0, np.abs(force).max())
        if force.min() >= -1e-9 and balanced and energy < least:
            best, least = force, energy
    return best


@settings(max_examples=120, deadline=None, derandomize=True)
@given(seed=st.integers(0, 2**32 - 1), contacts=st.integers(4, 8), motions=st.integers(1, 3))
def test_small_problems_by_enumeration(seed: int, contacts: int, motions: int) -> None:
    problem = random_problem(seed, contacts, motions, 2.0)
    solved = solve_contact(*problem)
    assert solved.force == pytest.approx(enumerated(problem), abs=1e-7)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(seed=st.integers(0, 2**32 - 1), contacts=st.integers(20, 60), started=st.booleans())
def test_large_problems_by_their_conditions(seed: int, contacts: int, started: bool) -> None:
    """Dense random compliances are far from contact mechanics: here the active set cycles and the guard has to hold."""
    compliance, modes, gap, resultant = random_problem(seed, contacts, 3, 4.0)
    start = np.random.default_rng(seed).uniform(size=contacts) < 0.5 if started else None
    solved = solve_contact(compliance, modes, gap, resultant, start=start)
    force = solved.force
    opening = gap + compliance @ force + modes @ solved.rigid
    size = np.abs(opening).max() + np.abs(gap).max()
    assert force.min() >= 0.0
    assert opening.min() > -1e-8 * size
    assert np.abs(force * opening).max() < 1e-8 * force.max() * size
    assert modes.T @ force == pytest.approx(resultant, abs=1e-8 * (1 + np.abs(force).sum()))


def test_contacts_that_may_pull_do() -> None:
    """Two bodies on springs: the second contact must pull, and does so only where it may."""
    compliance, modes = np.eye(3), np.column_stack([np.ones(3), [-1.0, 0.0, 1.0]])
    resultant, gap = np.array([1.0, -2.0]), np.zeros(3)
    pulling = solve_contact(compliance, modes, gap, resultant, bilateral=np.ones(3, dtype=bool))
    # Derived: force = 1/3 + slope x with slope = -1.
    assert pulling.force == pytest.approx([4 / 3, 1 / 3, -2 / 3])
    with pytest.raises(MechanicsFailed, match="tipping"):
        solve_contact(compliance, modes, gap, resultant)


@pytest.mark.parametrize(
    "modes",
    [
        np.ones((4, 2)),
        np.column_stack([np.ones(4), [0.0, 1.0, 2.0, 3.0], [0.0, 2.0, 4.0, 6.0]]),
    ],
    ids=["two alike", "all on one line"],
)
def test_contacts_that_cannot_hold_the_bodies_are_refused(modes: Floats) -> None:
    with pytest.raises(MechanicsFailed, match="not held against tipping"):
        solve_contact(np.eye(4), modes, np.zeros(4), np.ones(modes.shape[1]))


def test_a_force_outside_its_support_is_refused() -> None:
    """A resultant beyond the outermost contact would need a pull."""
    modes = np.column_stack([np.ones(4), [0.0, 1.0, 2.0, 3.0]])
    with pytest.raises(MechanicsFailed, match="tipping"):
        solve_contact(np.eye(4), modes, np.zeros(4), np.array([1.0, 3.5]))


def test_a_compliance_that_is_not_positive_definite_is_refused() -> None:
    compliance = np.array([[1.0, 2.0], [2.0, 1.0]])
    with pytest.raises(MechanicsFailed, match="positive definite"):
        solve_contact(compliance, np.ones((2, 1)), np.zeros(2), np.ones(1))


def test_evidence_tells_what_it_found() -> None:
    compliance, modes, gap, resultant = random_problem(7, 30, 3, 2.0)
    solved = solve_contact(compliance, modes, gap, resultant)
    assert solved.balance < 1e-9
    assert solved.complementarity < 1e-9
    assert solved.exchanges > 1


def held_problem(seed: int, contacts: int = 7) -> Problem:
    """Contacts of a body that is held: no rigid motions, nothing to balance."""
    compliance, _, gap, _ = random_problem(seed, contacts, 1, 1.0)
    return compliance, np.zeros((contacts, 0)), gap, np.zeros(0)


@pytest.mark.parametrize("seed", range(8))
def test_a_body_that_is_held_anyway_needs_no_rigid_motions(seed: int) -> None:
    """Round-off only: the same systems, solved in another order."""
    problem = held_problem(seed)
    solved = solve_contact(*problem)
    assert solved.force == pytest.approx(enumerated(problem), abs=1e-9 * max(1.0, solved.force.max()))
    assert (solved.rigid.size, solved.balance) == (0, 0.0)


def test_a_held_body_may_touch_nothing() -> None:
    solved = solve_contact(np.eye(3), np.zeros((3, 0)), np.ones(3), np.zeros(0))
    assert not solved.force.any()
    assert solved.gap.tolist() == [1.0, 1.0, 1.0]


@pytest.mark.parametrize("held", [True, False])
@pytest.mark.parametrize("seed", range(8))
def test_where_single_exchanges_take_too_long_the_descent_gives_the_answer(
    held: bool, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    problem = held_problem(seed) if held else random_problem(seed, 7, 3, 1.0)
    monkeypatch.setattr(contact, "_SINGLE_STEPS", 1)
    solved = solve_contact(*problem)
    assert solved.force == pytest.approx(enumerated(problem), abs=1e-8 * max(1.0, solved.force.max()))


def test_a_descent_that_goes_in_circles_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(contact, "_SINGLE_STEPS", 1)
    monkeypatch.setattr(contact, "_DESCENT_STEPS", 0)
    with pytest.raises(MechanicsFailed, match="did not settle in 0 steps"):
        solve_contact(*random_problem(1, 7, 3, 1.0))


@pytest.mark.parametrize("started", [False, True])
def test_contacts_on_layers_settle_in_a_few_exchanges(started: bool) -> None:
    """Where each contact gives mostly by itself the active set does not cycle (M. Hintermueller and others, SIAM J.
    Optim. 13 (2003) 865; from memory): from all closed, or from one end closed, to the middle third."""
    place = np.linspace(-1.0, 1.0, 61)
    compliance = 0.1 * np.exp(-np.abs(place[:, None] - place[None, :])) + np.eye(61)
    modes, gap = np.column_stack([np.ones(61), place]), 10 * place**2
    resultant = np.array([20.0, 0.0])
    start = place < 0.9 if started else None
    solved = solve_contact(compliance, modes, gap, resultant, start=start)
    assert 0.2 < solved.closed.mean() < 0.6
    assert solved.exchanges <= 10
    assert solve_contact(compliance, modes, gap, resultant, start=solved.closed).exchanges == 1

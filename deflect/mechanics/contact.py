"""Unilateral contact between condensed bodies, solved exactly.

Forces f >= 0 act where gaps g = g0 + A f + G a close; a are the bodies' rigid
motions and G' f = r their balance.  A primal-dual active set finds which
contacts are closed; a guard against cycling falls back to single exchanges of
the least index, and where these take too long, or a closed set would not hold the
bodies, to a descent that never leaves the forces that do.

Sources: M. Hintermueller, K. Ito, K. Kunisch, SIAM J. Optim. 13 (2003) 865-888
(active set); K. G. Murty, Linear Algebra Appl. 7 (1974) 343-375 (least index);
C. L. Lawson, R. J. Hanson, Solving Least Squares Problems (1974), chapter 23 (descent).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.optimize import nnls

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.closed_set import NO_ARM, ClosedSets, without_arms

# The block active set settles in about ten exchanges; beyond this it is cycling.
_BLOCK_STEPS = 40
_SINGLE_STEPS = 200
# The descent ends of itself; so many steps are round-off that goes in circles.
_DESCENT_STEPS = 4000
_NOT_HELD = "the die or the bolster is not held against tipping by any set of contacts"
# The share of the resultant that pushing forces may miss.
_BALANCED = 1e-9
# Share of all force at the longest arm by which what is left of a balance is measured at least.
_LEAST_LEVER = 1e-6
# A gap or force below this share of the greatest one is round-off.
_ROUND_OFF = 1e-11


@dataclass(frozen=True, eq=False)
class ContactSolution:
    """Forces (n,) in N, gaps (n,) in mm, which contacts are closed, rigid motions (m,), and the evidence.

    complementarity: greatest of -f, -g and |f g| over the closed and open sets, as shares of the
    greatest force and gap; balance: greatest residual of G' f = r as a share of the forces.
    """

    force: Floats
    gap: Floats
    closed: Flags
    rigid: Floats
    exchanges: int
    complementarity: float
    balance: float


def solve_contact(
    compliance: Floats,
    modes: Floats,
    gap: Floats,
    resultant: Floats,
    bilateral: Flags | None = None,
    start: Flags | None = None,
    sets: ClosedSets | None = None,
) -> ContactSolution:
    """Solve for the contact forces.

    compliance A (n, n) mm/N, symmetric positive definite; modes G (n, m); gap g0 (n,) mm;
    resultant r (m,); bilateral (n,): contacts that may pull; start (n,): first guess of the closed set;
    sets: of the same A and G, which remember from load to load what they have factorised.
    Raises MechanicsFailed where the bodies cannot be held by the contacts.
    """
    n = gap.size
    always = np.zeros(n, dtype=bool) if bilateral is None else bilateral
    closed = np.ones(n, dtype=bool) if start is None else start | always
    sets = sets or ClosedSets(compliance, modes)
    seen: set[bytes] = set()
    single = False
    for exchanges in range(1, _SINGLE_STEPS + 1):
        solved = sets.solve(closed, gap[:, None], resultant[:, None])
        if solved is None:
            break  # too few contacts hold the bodies
        force, rigid, open_gap = solved.force[:, 0], solved.rigid[:, 0], solved.gap[:, 0]
        wrong_closed = closed & ~always & (force < -_ROUND_OFF * np.abs(force).max())
        wrong_open = ~closed & (open_gap < -_ROUND_OFF * max(np.abs(open_gap).max(), np.abs(gap).max()))
        wrong = wrong_closed | wrong_open
        if not wrong.any():
            return _evidence(modes, resultant, force, open_gap, closed, always, rigid, exchanges)
        key = np.packbits(closed).tobytes()
        single = single or key in seen or exchanges > _BLOCK_STEPS
        seen.add(key)
        if single:
            least = int(np.flatnonzero(wrong)[0])
            closed = closed.copy()
            closed[least] = ~closed[least]
        else:
            closed = closed ^ wrong
    # Go on from forces that hold the bodies, one contact at a time.
    closed = _least_energy(sets, gap, resultant, always)
    solved = sets.solve(closed, gap[:, None], resultant[:, None])
    if solved is None:
        raise MechanicsFailed(_NOT_HELD)
    force, rigid, open_gap = solved.force[:, 0], solved.rigid[:, 0], solved.gap[:, 0]
    return _evidence(modes, resultant, force, open_gap, closed, always, rigid, exchanges)


def respond_closed(sets: ClosedSets, closed: Flags, gap: Floats, resultant: Floats) -> tuple[Floats, Floats]:
    """Forces (n, k) and rigid motions (m, k) under k further loads that leave the closed contacts closed.

    gap (n, k): what the loads open at each contact, mm; resultant (m, k): of the forces that balance them.
    """
    solved = sets.solve(closed, gap, resultant)
    if solved is None:
        raise MechanicsFailed(_NOT_HELD)
    return solved.force, solved.rigid


def _least_energy(sets: ClosedSets, gap: Floats, resultant: Floats, always: Flags) -> Flags:
    """The closed set by descent of the energy among forces that push and balance.

    Slower than the active set above, but it never leaves the forces that hold the bodies: a contact is closed
    where it overlaps most, and opened where its force would turn to a pull.  Raises MechanicsFailed where no
    pushing forces balance the resultant.
    Source: C. L. Lawson, R. J. Hanson, Solving Least Squares Problems (1974), chapter 23, with the balance added.
    """
    modes, contacts = sets.modes, gap.size
    if modes.shape[1] == 0:
        return _descend(sets, gap, resultant, always, np.zeros(contacts), always)
    scale = 1.0 / np.maximum(np.abs(modes).max(axis=0), np.finfo(float).tiny)
    columns, wanted = (modes * scale).T, resultant * scale
    held, miss = nnls(np.hstack([columns, -columns[:, always]]), wanted)
    if miss > _BALANCED * max(np.abs(wanted).max(), np.finfo(float).tiny):
        raise MechanicsFailed(_NOT_HELD)
    force = held[:contacts].copy()
    force[always] -= held[contacts:]
    return _descend(sets, gap, resultant, always, force, (force > 0) | always)


def _descend(sets: ClosedSets, gap: Floats, resultant: Floats, always: Flags, force: Floats, closed: Flags) -> Flags:
    """The closed set, from forces that push and balance, and their own closed set."""
    for _ in range(_DESCENT_STEPS):
        solved = sets.solve(closed, gap[:, None], resultant[:, None])
        if solved is None:
            closed = _leaning(sets.modes, gap, closed)
            continue
        target, room = solved.force[:, 0], solved.gap[:, 0]
        pulls = closed & ~always & (target < -_ROUND_OFF * np.abs(target).max())
        if not pulls.any():
            force = target
            if room.min() >= -_ROUND_OFF * max(np.abs(room).max(), np.abs(gap).max()):
                return np.asarray(closed)
            closed = closed.copy()
            closed[np.argmin(room)] = True
            continue
        way = np.full(gap.size, np.inf)
        way[pulls] = force[pulls] / (force[pulls] - target[pulls])
        force = force + way.min() * (target - force)
        # One at a time: of several whose force ends together, the others may have to hold the bodies.
        closed = closed.copy()
        closed[np.argmin(way)] = False
        force[~closed] = 0.0
    raise MechanicsFailed(f"contact did not settle in {_DESCENT_STEPS} steps")


def _leaning(modes: Floats, gap: Floats, closed: Flags) -> Flags:
    """The closed set and the nearest contact beside the line that the body balances on: it leans on it, without force.

    Raises MechanicsFailed where there is none.
    """
    loose = without_arms(modes, np.flatnonzero(closed))
    arms = np.abs(modes[:, loose]) > NO_ARM * np.abs(modes[:, loose]).max(axis=0, initial=0.0)
    beside = ~closed & arms.any(axis=1)
    if not beside.any():
        raise MechanicsFailed(_NOT_HELD)
    more = closed.copy()
    more[np.argmin(np.where(beside, gap, np.inf))] = True
    return more


def _evidence(
    modes: Floats,
    resultant: Floats,
    force: Floats,
    gap: Floats,
    closed: Flags,
    always: Flags,
    rigid: Floats,
    exchanges: int,
) -> ContactSolution:
    strongest, widest = np.abs(force).max(), max(gap.max(), np.finfo(float).tiny)
    pull = np.max(-force[~always], initial=0.0) / max(strongest, np.finfo(float).tiny)
    overlap = np.max(-gap, initial=0.0) / widest
    lever = np.abs(modes).T @ np.abs(force) + np.abs(resultant)
    # A die that balances on one spot has forces, and next to no arms: round-off must not be measured by round-off.
    lever = np.maximum(lever, _LEAST_LEVER * np.abs(modes).max(axis=0, initial=0.0) * np.abs(force).sum())
    balance = np.abs(modes.T @ force - resultant) / np.maximum(lever, np.finfo(float).tiny)
    return ContactSolution(
        force=np.where(always, force, np.maximum(force, 0.0)),
        gap=np.maximum(gap, 0.0),
        closed=closed,
        rigid=rigid,
        exchanges=exchanges,
        complementarity=abs(float(max(pull, overlap))),
        balance=float(balance.max(initial=0.0)),
    )

"""Unilateral contact between condensed bodies, solved exactly.

Forces f >= 0 act where gaps g = g0 + A f + G a close; a are the bodies' rigid
motions and G' f = r their balance.  A primal-dual active set finds which
contacts are closed; a guard against cycling falls back to single exchanges of
the least index, and where a closed set would not hold the bodies, to a descent
that never leaves the forces that do.

Sources: M. Hintermueller, K. Ito, K. Kunisch, SIAM J. Optim. 13 (2003) 865-888
(active set); K. G. Murty, Linear Algebra Appl. 7 (1974) 343-375 (least index);
C. L. Lawson, R. J. Hanson, Solving Least Squares Problems (1974), chapter 23 (descent).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.linalg as linalg
from scipy.optimize import nnls

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats

# The block active set settles in about ten exchanges; beyond this it is cycling.
_BLOCK_STEPS = 40
_SINGLE_STEPS = 4000
_NOT_HELD = "the die or the bolster is not held against tipping by any set of contacts"
# The share of the resultant that pushing forces may miss.
_BALANCED = 1e-9
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
) -> ContactSolution:
    """Solve for the contact forces.

    compliance A (n, n) mm/N, symmetric positive definite; modes G (n, m); gap g0 (n,) mm;
    resultant r (m,); bilateral (n,): contacts that may pull; start (n,): first guess of the closed set.
    Raises MechanicsFailed where the bodies cannot be held by the contacts.
    """
    n = gap.size
    always = np.zeros(n, dtype=bool) if bilateral is None else bilateral
    closed = np.ones(n, dtype=bool) if start is None else start | always
    seen: set[bytes] = set()
    single = False
    for exchanges in range(1, _SINGLE_STEPS + 1):
        solved = _solve_closed(compliance, modes, gap, resultant, closed)
        if solved is None:
            # Too few contacts hold the bodies: go on from forces that do, one contact at a time.
            closed = _least_energy(compliance, modes, gap, resultant, always)
            solved = _solve_closed(compliance, modes, gap, resultant, closed)
            if solved is None:
                raise MechanicsFailed(_NOT_HELD)
            force, rigid, open_gap = solved
            return _evidence(modes, resultant, force, open_gap, closed, always, rigid, exchanges)
        force, rigid, open_gap = solved
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
    raise MechanicsFailed(f"contact did not settle in {_SINGLE_STEPS} exchanges")


def _least_energy(compliance: Floats, modes: Floats, gap: Floats, resultant: Floats, always: Flags) -> Flags:
    """The closed set by descent of the energy among forces that push and balance.

    Slower than the active set above, but it never leaves the forces that hold the bodies: a contact is closed
    where it overlaps most, and opened where its force would turn to a pull.  Raises MechanicsFailed where no
    pushing forces balance the resultant.
    Source: C. L. Lawson, R. J. Hanson, Solving Least Squares Problems (1974), chapter 23, with the balance added.
    """
    scale = 1.0 / np.maximum(np.abs(modes).max(axis=0), np.finfo(float).tiny)
    columns, wanted = (modes * scale).T, resultant * scale
    held, miss = nnls(np.hstack([columns, -columns[:, always]]), wanted)
    if miss > _BALANCED * max(np.abs(wanted).max(), np.finfo(float).tiny):
        raise MechanicsFailed(_NOT_HELD)
    force = held[: gap.size].copy()
    force[always] -= held[gap.size :]
    closed = (force > 0) | always
    for _ in range(_SINGLE_STEPS):
        solved = _solve_closed(compliance, modes, gap, resultant, closed)
        if solved is None:
            raise MechanicsFailed(_NOT_HELD)
        target, _, room = solved
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
        closed = closed & ~(way <= way.min())
        force[~closed] = 0.0
    raise MechanicsFailed(f"contact did not settle in {_SINGLE_STEPS} exchanges")


def _solve_closed(
    compliance: Floats, modes: Floats, gap: Floats, resultant: Floats, closed: Flags
) -> tuple[Floats, Floats, Floats] | None:
    """Forces, rigid motions and gaps for a given closed set; None where it does not hold the bodies."""
    index = np.flatnonzero(closed)
    if index.size == 0:
        return None
    held = modes[index]
    try:
        factor = linalg.cho_factor(compliance[np.ix_(index, index)], lower=True, overwrite_a=True, check_finite=False)
    except linalg.LinAlgError as error:
        raise MechanicsFailed("the contact compliance is not positive definite") from error
    answer = linalg.cho_solve(factor, np.column_stack([held, gap[index]]), check_finite=False)
    schur = held.T @ answer[:, :-1]
    scale = np.sqrt(np.maximum(np.diag(schur), np.finfo(float).tiny))
    scaled = schur / np.outer(scale, scale)
    if np.linalg.cond(scaled) > 1e12:
        return None
    rigid = -np.linalg.solve(scaled, (resultant + held.T @ answer[:, -1]) / scale) / scale
    closed_force = -(answer[:, -1] + answer[:, :-1] @ rigid)
    force = np.zeros(gap.size)
    force[index] = closed_force
    open_gap = gap + modes @ rigid + compliance @ force
    open_gap[index] = 0.0
    return force, rigid, open_gap


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
    balance = np.abs(modes.T @ force - resultant) / np.maximum(lever, np.finfo(float).tiny)
    return ContactSolution(
        force=np.where(always, force, np.maximum(force, 0.0)),
        gap=np.maximum(gap, 0.0),
        closed=closed,
        rigid=rigid,
        exchanges=exchanges,
        complementarity=abs(float(max(pull, overlap))),
        balance=float(balance.max()),
    )

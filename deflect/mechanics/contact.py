"""Unilateral contact between condensed bodies, solved exactly.

Forces f >= 0 act where gaps g = g0 + A f + G a close; a are the bodies' rigid
motions and G' f = r their balance.  A primal-dual active set finds which
contacts are closed; a guard against cycling falls back to single exchanges of
the least index, which end for every positive definite problem.

Sources: M. Hintermueller, K. Ito, K. Kunisch, SIAM J. Optim. 13 (2003) 865-888
(active set); K. G. Murty, Linear Algebra Appl. 7 (1974) 343-375 (least index).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.linalg as linalg

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats

# The block active set settles in about ten exchanges; beyond this it is cycling.
_BLOCK_STEPS = 40
_SINGLE_STEPS = 4000
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
            # Too few contacts hold the bodies: close everything once, then exchange singly.
            if closed.all() or single:
                raise MechanicsFailed("the die or the bolster is not held against tipping by any set of contacts")
            closed, single = np.ones(n, dtype=bool), True
            continue
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


def _solve_closed(
    compliance: Floats, modes: Floats, gap: Floats, resultant: Floats, closed: Flags
) -> tuple[Floats, Floats, Floats] | None:
    """Forces, rigid motions and gaps for a given closed set; None where it does not hold the bodies."""
    index = np.flatnonzero(closed)
    if index.size == 0:
        return None
    held = modes[index]
    try:
        factor = linalg.cho_factor(compliance[index][:, index], lower=True, overwrite_a=True, check_finite=False)
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
        complementarity=float(max(pull, overlap)),
        balance=float(balance.max()),
    )

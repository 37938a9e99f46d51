"""Forces for one set of closed contacts after another, of which each differs from the last by a few.

One set is factorised; the next ones are answered by its factor and a small system for what has changed: contacts
that have closed carry a force, those that have opened a gap.  With many changes the set is factorised anew.

Source: the bordered system of a quadratic program's working set: P. E. Gill, W. Murray, M. A. Saunders,
M. H. Wright, ACM Trans. Math. Softw. 10 (1984) 282-298, the Schur-complement method (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.linalg.lapack import dpotrf, dtrtrs

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Flags, Floats, Integers

# Share of the factorised contacts that may have changed: beyond it a new factor costs less than the small system.
_MOST_CHANGED = 0.2
# Share of the factorised contacts' hold that must be left, lest round-off takes its place.
_CANCELLED = 1e-6
# Condition of the rigid motions' balance beyond which the closed contacts do not hold the bodies.
_LOOSE = 1e12
# The same where it comes of a difference, and has lost digits by it.
_UNSURE = 1e6
# Arms of the closed contacts about a rigid motion, as a share of all contacts' arms, below which they are round-off.
NO_ARM = 1e-9


@dataclass(frozen=True, eq=False)
class Answer:
    """Forces (n, k) in N, none at open contacts; rigid motions (m, k); gaps (n, k) in mm, none at closed ones."""

    force: Floats
    rigid: Floats
    gap: Floats


@dataclass(eq=False)
class ClosedSets:
    """Contacts whose gaps are g0 + A f + G a, with G' f = r.

    compliance A (n, n) mm/N, symmetric positive definite; modes G (n, m).
    """

    compliance: Floats
    modes: Floats
    _factored: _Factored | None = None

    def solve(self, closed: Flags, gap: Floats, resultant: Floats) -> Answer | None:
        """The answer where ``closed`` (n,) are closed under k loads; None where they do not hold the bodies.

        gap g0 (n, k) mm; resultant r (m, k).  Raises MechanicsFailed where the compliance is not positive definite.
        """
        m = self.modes.shape[1]
        if not closed.any():
            # Nothing is in touch: that holds only bodies that have no rigid motions.
            return None if m else Answer(np.zeros_like(gap), np.zeros_like(resultant), gap.copy())
        if without_arms(self.modes, np.flatnonzero(closed)).any():
            return None
        if self._factored is None or not self._factored.is_near(closed):
            self._factored = _Factored(self, closed)
        found = self._factored.answer(closed, gap, resultant)
        if found is None and not self._factored.is_of(closed):
            self._factored = _Factored(self, closed)
            found = self._factored.answer(closed, gap, resultant)
        if found is None:
            return None
        force, rigid = found
        room = gap + self.modes @ rigid + self.compliance @ force
        room[closed] = 0.0
        return Answer(force, rigid, room)


class _Factored:
    """A closed set that is factorised, A = L L' over it, and the answers of sets that are near to it."""

    def __init__(self, of: ClosedSets, closed: Flags) -> None:
        self._of, self._closed, self._index = of, closed.copy(), np.flatnonzero(closed)
        # It is symmetric: its transpose is the same in the order that LAPACK overwrites without a copy.
        square = of.compliance.take(self._index, 0).take(self._index, 1).T
        self._factor, fault = dpotrf(square, lower=True, overwrite_a=True, clean=False)
        if fault != 0:
            raise MechanicsFailed("the contact compliance is not positive definite")
        self._held = self._forward(of.modes[self._index])  # L^-1 G of the factorised contacts
        self._place = np.cumsum(closed) - 1  # of a contact among the factorised ones
        self._columns: dict[int, Floats] = {}  # of contacts that have changed, by their number

    def is_of(self, closed: Flags) -> bool:
        return bool((closed == self._closed).all())

    def is_near(self, closed: Flags) -> bool:
        return bool(np.count_nonzero(closed ^ self._closed) <= _MOST_CHANGED * self._index.size)

    def answer(self, closed: Flags, gap: Floats, resultant: Floats) -> tuple[Floats, Floats] | None:
        """Forces (n, k) and rigid motions (m, k) where ``closed`` are closed.

        None where they do not hold the bodies, or hold them by so much less than the factorised ones that they must
        be factorised themselves.

        Unknowns z are forces of what has closed and gaps of what has opened since; with y = L' f of the factorised
        contacts: y = -(h + V z + M a), (V'V - D) z = c - V'h + (B - V'M) a, M'y + B'z = r.
        """
        of, (m, loads) = self._of, resultant.shape
        more, fewer = np.flatnonzero(closed & ~self._closed), np.flatnonzero(self._closed & ~closed)
        own = np.column_stack([self._held, self._forward(gap[self._index])])
        balance = self._held.T @ own
        if more.size + fewer.size:
            changed = self._changed(more, fewer)
            ends = -changed.T @ own
            ends[: more.size] += np.column_stack([of.modes[more], gap[more]])
            small = changed.T @ changed
            small[: more.size, : more.size] -= of.compliance[np.ix_(more, more)]
            by = np.linalg.solve(small, ends)
            whole_balance, balance = balance, balance - ends[:, :m].T @ by
            if (np.diag(balance) < _CANCELLED * np.diag(whole_balance)).any():
                return None  # what still holds the bodies is lost in what held them before
        loosest = _UNSURE if more.size + fewer.size else _LOOSE
        rigid = _balanced(balance[:, :m], -resultant - balance[:, m:], loosest)
        if rigid is None:
            return None
        whole = np.vstack([rigid, np.eye(loads)])
        force, carried = np.zeros_like(gap), -own @ whole
        if more.size + fewer.size:
            change = by @ whole
            carried -= changed @ change
            force[more] = change[: more.size]
        force[self._index] = dtrtrs(self._factor, carried, lower=True, trans=1)[0]
        force[fewer] = 0.0
        return force, rigid

    def _changed(self, more: Integers, fewer: Integers) -> Floats:
        """L^-1 of what the changes (k, changes) do at the factorised contacts; made once for each contact."""
        contacts = [*more.tolist(), *fewer.tolist()]
        new = [c for c in contacts if c not in self._columns]
        if new:
            loads = np.zeros((self._index.size, len(new)), order="F")
            for column, contact in enumerate(new):
                if self._closed[contact]:
                    loads[self._place[contact], column] = -1.0
                else:
                    loads[:, column] = self._of.compliance[contact, self._index]
            self._columns |= dict(zip(new, self._forward(loads).T, strict=True))
        return np.column_stack([self._columns[c] for c in contacts])

    def _forward(self, loads: Floats) -> Floats:
        return np.asarray(dtrtrs(self._factor, loads, lower=True)[0])


def without_arms(modes: Floats, index: Integers) -> Flags:
    """Rigid motions (m,) that the closed contacts cannot hold: they all lie on its axis.

    Their arms are round-off then, which the scaling of the balance would blow up to a hold.
    """
    return np.asarray(np.abs(modes[index]).max(axis=0, initial=0.0) <= NO_ARM * np.abs(modes).max(axis=0))


def _balanced(schur: Floats, missing: Floats, loosest: float) -> Floats | None:
    """Rigid motions (m, k) that balance ``missing`` (m, k) by ``schur`` (m, m); None: the contacts do not hold them."""
    scale = np.sqrt(np.maximum(np.diag(schur), np.finfo(float).tiny))
    scaled = schur / np.outer(scale, scale)
    if scale.size and np.linalg.cond(scaled) > loosest:
        return None
    return np.asarray(np.linalg.solve(scaled, missing / scale[:, None]) / scale[:, None])

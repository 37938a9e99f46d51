"""The least change of one size that cures, by a bracketing search over the steps that can be made."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

from scipy.optimize import minimize_scalar

from deflect.findings import Judged

# A size this close to a shop step, as a share of the step, is on it: round-off makes no step more.
_ON_STEP = 1e-6
# Decimals of a size in steps: round-off of the product is no part of it.
_DIGITS = 9
# What is left of the value at an end of the bracket that has not moved (the Illinois rule).
_STUCK = 0.5


def least_change(start: float, end: float, step: float, ask: Callable[[float], Judged]) -> tuple[float, ...]:
    """Sizes between ``start`` and ``end`` in whole multiples of ``step``, the least change first.

    The last one is the least that cures or, where none does, the one that relieves most; where that one
    harms something, the greatest change that harms nothing is told before it.  Nothing where nothing is wrong.
    """
    way = 1 if end > start else -1
    before = math.floor(way * start / step + _ON_STEP)
    most = math.floor(way * end / step + _ON_STEP) - before

    def size(count: int) -> float:
        """After ``count`` steps; none: as it is, on a step or between two of them."""
        return round(way * (before + count) * step, _DIGITS) if count else start

    judged = cache(lambda count: ask(size(count)))

    def excess(count: int) -> float:
        return judged(count).excess

    if most < 1 or excess(0) <= 0:
        return ()
    best = most
    if excess(most) > 0:
        bounds = (0, most)
        found = minimize_scalar(lambda k: excess(round(k)), bounds=bounds, method="bounded", options={"xatol": 1.0})
        best = min(round(found.x), most, key=excess)
    cures = _first_right(excess, 0, best) if excess(best) <= 0 else best
    counts = (_harmless(lambda count: judged(count).harm, cures), cures)
    return tuple(size(count) for count in dict.fromkeys(counts) if count)


def _harmless(harm: Callable[[int], float], count: int) -> int:
    """The greatest number of steps up to ``count`` that harms nothing; none where each does."""
    if harm(count) <= 0:
        return count
    return 0 if harm(0) >= 0 else _first_right(harm, count, 0)


def _first_right(value: Callable[[int], float], wrong: int, right: int) -> int:
    """The number of steps at which ``value`` is not above zero, beside one at which it is, between the two.

    By false position, the Illinois way.
    Source: M. Dowell, P. Jarratt, BIT 11 (1971) 168-174 (from memory).
    """
    above, below, moved = value(wrong), value(right), 0
    while (apart := abs(right - wrong)) > 1:
        steps = min(max(math.ceil(apart * above / (above - below)), 1), apart - 1)
        middle = wrong + (steps if right > wrong else -steps)
        found = value(middle)
        if found > 0:
            wrong, above = middle, found
            below, moved = below * (_STUCK if moved > 0 else 1.0), 1
        else:
            right, below = middle, found
            above, moved = above * (_STUCK if moved < 0 else 1.0), -1
    return right

"""The least change of one size that cures, by a bracketing search."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

from scipy.optimize import brentq, minimize_scalar

from deflect.findings import Judged

# A size this close to a shop step, as a share of the step, is on it: round-off makes no step more.
_ON_STEP = 1e-6
# Decimals of a size in steps: round-off of the product is no part of it.
_DIGITS = 9


def least_change(start: float, end: float, step: float, ask: Callable[[float], Judged]) -> tuple[float, ...]:
    """Sizes between ``start`` and ``end`` in whole multiples of ``step``, the least change first.

    The last one is the least that cures or, where none does, the one that relieves most; where that one
    harms something, the greatest change that harms nothing is told before it.  Nothing where nothing is wrong.
    """
    if ask(start).excess <= 0:
        return ()
    ask = _on_steps(ask, step)
    away = math.copysign(step, end - start)
    last = abs(math.floor(end / away + _ON_STEP) * away)

    def further(size: float) -> float:
        return min(max(math.ceil(size / away - _ON_STEP) * away, min(start, last)), max(start, last))

    best = last
    if ask(last).excess > 0:
        low, high = sorted((start, last))
        found = minimize_scalar(lambda s: ask(s).excess, bounds=(low, high), method="bounded", options={"xatol": step})
        best = float(found.x) if found.fun < ask(last).excess else last
    size = further(best)
    if ask(best).excess <= 0:
        size = further(brentq(lambda s: ask(s).excess, start, best, xtol=step / 2))
        # The root is known to half a step: the step before it, or the one after it, may be the least that cures.
        if ask(size).excess > 0 and abs(last - size) >= step:
            size += away
        elif (size - away - start) * away > 0 and ask(size - away).excess <= 0:
            size -= away
    harmless = _harmless(start, size, step, ask)
    return tuple(s for s in dict.fromkeys(round(s, _DIGITS) for s in (harmless, size)) if s != start)


def _on_steps(ask: Callable[[float], Judged], step: float) -> Callable[[float], Judged]:
    """Asks only about whole steps, each once: nothing between them can be made."""
    known = cache(lambda count: ask(round(count * step, _DIGITS)))
    return lambda size: known(round(size / step))


def _harmless(start: float, size: float, step: float, ask: Callable[[float], Judged]) -> float:
    """The greatest change towards ``size``, in whole steps, that harms nothing; ``start`` where none is."""
    if ask(size).harm <= 0:
        return size
    if ask(start).harm >= 0:
        return start
    away = math.copysign(step, size - start)
    edge = brentq(lambda s: ask(s).harm, start, size, xtol=step / 2)
    rounded = math.floor(edge / away + _ON_STEP) * away
    if ask(rounded).harm > 0:
        rounded -= away
    return rounded if (rounded - start) * away > 0 else start

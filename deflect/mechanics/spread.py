"""Headline numbers over the ranges of the inputs, and the inputs that move them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.stats import rankdata

from deflect.mechanics.arrays import Floats
from deflect.mechanics.meeting import Meeting
from deflect.model.values import Interval

# Rank correlation that 16 draws of no relation pass once in twenty (Spearman's tables; from memory).
_SURELY = 0.503


@dataclass(frozen=True)
class Spread:
    """Headline numbers over the ranges of the inputs: lowest, usual and highest value.

    sag: mm, the governing one of x and y; sag_slope: mm/mm; gap: mm; contact_share; face: range of the face
    error (or of its change since bedding-in), mm; creep: mm per stroke of the unkeyed die; strokes: until it meets
    what it meets first; stresses, and contact pressure away from edges, MPa.  samples: how many were solved (0: the
    usual values only); drivers: per headline, the input that moves it most; met: what was met first in each sample
    drawn, and after how many strokes; seconds: per headline, the input that moves it next, where it does so surely.
    """

    sag: Interval
    sag_slope: Interval
    gap: Interval
    contact_share: Interval
    face: Interval
    creep: Interval
    strokes: Interval
    base_stress: Interval
    bolster_stress: Interval
    pressure: Interval
    samples: int
    drivers: tuple[tuple[str, str], ...]
    met: tuple[Meeting, ...] = ()
    seconds: tuple[tuple[str, str], ...] = ()

    def strokes_at(self, share: float) -> float:
        """Strokes that a share of the drawn samples does not reach (infinite: most never meet anything)."""
        found = sorted(meeting.strokes for meeting in self.met) or [self.strokes.nominal]
        return found[round(share * (len(found) - 1))]


def spread_of(
    usual: Mapping[str, float],
    others: Mapping[str, Sequence[float]],
    unit: Floats,
    uncertain: Sequence[str],
    met: tuple[Meeting, ...],
) -> Spread:
    """The headlines at the usual values and at the draws; unit (samples, d): where the draws are, by ``uncertain``."""
    intervals: dict[str, Interval] = {}
    drivers, seconds = list[tuple[str, str]](), list[tuple[str, str]]()
    for key, nominal in usual.items():
        values = np.array(others[key])
        low, high = min(nominal, *values.tolist(), nominal), max(nominal, *values.tolist(), nominal)
        intervals[key] = Interval(low, nominal, high)
        if len(values) > 2 and np.ptp(values) > 0:
            (first, _), (second, rank) = _strongest(unit, values)
            drivers.append((key, uncertain[first]))
            seconds += [(key, uncertain[second])] if rank > _SURELY else []
    count = len(next(iter(others.values())))
    return Spread(**intervals, samples=count, drivers=tuple(drivers), met=met, seconds=tuple(seconds))


def _strongest(unit: Floats, values: Floats) -> list[tuple[int, float]]:
    """The two inputs with the greatest rank correlation with the values, each with its size."""
    ranks = np.column_stack([rankdata(column) for column in unit.T])
    size = np.abs([np.corrcoef(column, rankdata(values))[0, 1] for column in ranks.T])
    return [(int(k), float(size[k])) for k in np.argsort(-size, kind="stable")[:2]]

"""Headline numbers over the ranges of the inputs, put right by finer meshes."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from deflect.mechanics.meeting import Meeting
from deflect.mechanics.mesh_error import MeshError
from deflect.model.values import Interval


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


def put_right(spread: Spread, error: MeshError | None) -> Spread:
    """The ranges put right by finer meshes, and widened by what is left."""
    if error is None:
        return spread
    found = error.estimates
    right: dict[str, Any] = {key: one.applied(getattr(spread, key)) for key, one in found.items()}
    share = right["contact_share"]
    right["contact_share"] = Interval(*(min(end, 1.0) for end in (share.low, share.nominal, share.high)))
    slope, sag = spread.sag_slope, found["sag"]
    length = spread.sag.nominal / slope.nominal if slope.nominal > 0 else 1.0
    as_sag = sag.applied(Interval(slope.low * length, slope.nominal * length, slope.high * length))
    right["sag_slope"] = Interval(as_sag.low / length, as_sag.nominal / length, as_sag.high / length)
    creep, strokes = spread.creep, spread.strokes
    if strokes.low > 0 and creep.low > 0 and np.isfinite(creep.high):
        more = creep.low / right["creep"].low if right["creep"].low > 0 else np.inf
        right["strokes"] = Interval(
            strokes.low * creep.high / right["creep"].high, strokes.nominal, strokes.high * more
        )
    return replace(spread, **right)

"""How far each patch of the contact slides within one stroke, and how long it sticks."""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.march import Creep
from deflect.mechanics.meeting import moved
from deflect.mechanics.stroke import BETWEEN, Trace

# A patch that slides less than a nanometre in a step sticks, mm.
_STICKS = 1e-6


@dataclass(frozen=True, eq=False)
class Slipping:
    """The sliding of n patches in the last stroke of a march.

    places (n, 2): bolster axes about the die's centre, mm; slid (n,): greatest distance from where the patch was at
    rest, mm; sticks (n,): share of the stroke, counted in force, during which it does not slide.
    """

    places: Floats
    slid: Floats
    sticks: Floats

    @property
    def neutral(self) -> Floats:
        """Where the die slides least (2,), mm."""
        return np.asarray(self.places[int(np.argmin(self.slid))])


def slipping_of(course: Trace, marched: Creep) -> Slipping | None:
    """The sliding of the bearing patches; None where friction does not hold the die."""
    if marched.slides or not marched.last:
        return None
    places = course.places
    slid = np.array([step.state.slid[: len(places)] for step in marched.last])
    begin = slid[-1] - moved(places, marched.shift)
    away = np.hypot(*(slid - begin).transpose(2, 0, 1)).max(axis=0)
    steps = np.hypot(*np.diff(slid, axis=0, prepend=begin[None]).transpose(2, 0, 1))
    weight = _force_steps(course)
    return Slipping(places, away, (steps < _STICKS).T @ weight / max(float(weight.sum()), 1e-300))


def _force_steps(course: Trace) -> Floats:
    """How far the force that holds the die changes in each step of the march, N."""
    held = course.held.tolist()
    parts = [np.geomspace(a, b, BETWEEN + 1)[1:] for a, b in itertools.pairwise(held)]
    return np.abs(np.diff(np.concatenate([held[:1], *parts])))

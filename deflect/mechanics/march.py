"""Stroke after stroke: the shift that is left of each, until it is steady.

Sources: H. Moseley, Proc. R. Soc. 7 (1855) 333 (a body creeping down a slope by
cyclic expansion); A. Klarbring, M. Ciavarella, J. R. Barber, Int. J. Solids Struct. 44 (2007) 8355
(coupled frictional systems need not shake down: steadiness is looked for, never assumed).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.friction import Footing, Grips, Pressing, SlipState, Stance, Step, step_on

# An imbalance that is left above this share of friction: no shift of the die balances the thrust.
_UNBALANCED = 1e-6
# What is told of a die that friction does not hold, mm per stroke: more than any tolerance.
SLIDES_AWAY = 10.0
# Strokes that are solved before an unsteady march is given up and said to be unsteady.
MOST_STROKES = 24
# Two successive shifts per stroke that agree so far are steady (share, and mm); and grip forces (share, and N).
_STEADY_SHARE, _STEADY_SHIFT, _STEADY_FORCE = 1e-3, 1e-8, 1.0
# A die that is held stands still where it shifts by less than two nanometres a stroke, mm.
_STILL = 2e-6
# After so many leaps every stroke is marched: a leap too far is pushed back, and must not be made over and over.
_MOST_LEAPS = 10
# A leap over strokes that shift alike ends so many strokes before a grip bites.
_SHORT_OF_BITE, _FEW = 1, 6
# A leap along a shift that fades from stroke to stroke by a constant share is made for shares of at least this, once
# two successive shares agree so far; it ends when what is left to go is this share of the way.
_FADING, _LIKE, _LEFT = 0.5, 0.05, 1e-3


@dataclass(frozen=True, eq=False)
class Creep:
    """Outcome of a march.

    shift: net (x, y, angle) per stroke once steady; path (k, 3): where the die was after the strokes ``at`` (k,):
    strokes that shift alike, or fade alike, are leapt over; steady: whether the shift per stroke settled;
    strokes: how many were solved; breathing_slip: greatest sliding of a patch away from where it was
    at rest within the last stroke, mm; residual: worst in-plane imbalance, as a share of friction; slides:
    friction cannot hold the thrust, so that no shift balances it and ``shift`` is SLIDES_AWAY along the thrust;
    last: the steps of the last stroke.
    """

    shift: Floats
    path: Floats
    at: Floats
    steady: bool
    strokes: int
    breathing_slip: float
    residual: float
    slides: bool = False
    last: tuple[Step, ...] = ()

    @property
    def grip_force(self) -> Floats:
        """Greatest force on each grip in the last stroke (h,), N."""
        return np.max([np.hypot(*s.grip.T) for s in self.last], axis=0) if self.last else np.zeros(0)


def march(footing: Footing, stroke: Sequence[Stance], strokes: int = MOST_STROKES, leaps: bool = False) -> Creep:
    """Repeat a closed stroke until the shift per stroke is steady, and what grips the die takes a steady force.

    ``stroke`` begins and ends at rest: stances down to the full force and back; ``strokes``: solved at most;
    leaps: leap over strokes that shift alike until something bites, and over those that fade alike.
    """
    state = SlipState(np.zeros(3), stroke[0].breathing)
    trail = _Trail(footing, state, _room(footing.grips, stroke), _STILL if leaps else _STEADY_SHIFT)
    pressings = [Pressing.of(footing, stance) for stance in stroke[1:]]
    worst = 0.0
    last: list[Step] = []
    while True:
        begin, state, steps = trail.state, trail.state, list[Step]()
        for k, pressing in enumerate(pressings):
            steps.append(step_on(pressing, state, _guess(k, steps, last)))
            state = steps[-1].state
            if steps[-1].residual > _UNBALANCED:
                return trail.slid_away(stroke[k + 1].thrust, steps[-1].residual)
            worst = max(worst, steps[-1].residual)
        last = steps
        trail.add(state, np.array([np.hypot(*s.grip.T) for s in steps]).max(axis=0))
        steady = trail.steady and not (leaps and trail.nears_a_bite)
        if leaps and trail.solved < strokes and trail.leap():
            continue
        if steady or trail.solved >= strokes:
            slip = max(float(np.hypot(*(s.state.slid - begin.slid).T).max(initial=0.0)) for s in steps)
            path, at = trail.path
            return Creep(trail.shifts[-1], path, at, steady, trail.solved, slip, worst, last=tuple(steps))


def _guess(k: int, steps: list[Step], last: list[Step]) -> Floats | None:
    """Where step ``k`` of a stroke may end: it moves on as it did in the stroke before."""
    if k == 0:
        return None
    return steps[k - 1].moved + (last[k].moved - last[k - 1].moved if last else 0.0)


class _Trail:
    """Where the die has been, stroke by stroke, and whether strokes can be leapt over."""

    def __init__(self, footing: Footing, state: SlipState, room: Floats, still: float) -> None:
        self.footing, self.state, self.room, self.still, self.solved = footing, state, room, still, 0
        self.shifts: list[Floats] = []  # since the last leap
        self._slide = np.zeros_like(state.slid)  # in the last stroke
        self._grip: list[Floats] = []
        self._path, self._at = [state.shift], [0.0]
        self._bitten, self._leaps = False, 0
        self._play = np.zeros(0) if footing.grips is None else footing.grips.play
        arm = float(np.abs(footing.places).max(initial=1.0))
        self._weigh = np.array([1.0, 1.0, arm])

    @property
    def path(self) -> tuple[Floats, Floats]:
        return np.array(self._path), np.array(self._at)

    def add(self, state: SlipState, grip: Floats) -> None:
        self.shifts.append(state.shift - self.state.shift)
        self._slide = state.slid - self.state.slid
        self._grip.append(grip)
        self._bitten = self._bitten or bool((grip > 0).any())
        self._path.append(state.shift)
        self._at.append(self._at[-1] + 1)
        self.state = state
        self.solved += 1

    @property
    def steady(self) -> bool:
        if len(self.shifts) < 2:
            return False
        size, change = self._size(self.shifts[-1]), self._size(self.shifts[-1] - self.shifts[-2])
        more = np.abs(self._grip[-1] - self._grip[-2])
        settled = bool((more <= np.maximum(_STEADY_FORCE, _STEADY_SHARE * self._grip[-1])).all())
        return settled and change < max(self.still, _STEADY_SHARE * size)

    @property
    def nears_a_bite(self) -> bool:
        """Whether going on like the last stroke, a grip that does not bite yet will come to its play."""
        if self._size(self.shifts[-1]) < self.still:
            return False
        return bool(np.isfinite(self._ways(self.shifts[-1], self._play)))

    def _ways(self, shift: Floats, room: Floats) -> float:
        """How many times ``shift`` (3,) leads to where the next grip that does not bite yet has used up ``room``."""
        grips = self.footing.grips
        if grips is None:
            return np.inf
        free = self._grip[-1] <= 0 if self._grip else np.ones(len(room), dtype=bool)
        return _ways_to(grips, room, free, self.state.shift, shift)

    def leap(self) -> bool:
        """Leap over strokes that shift alike, or fade alike, where there are any worth it."""
        if len(self.shifts) < 3 or self._leaps >= _MOST_LEAPS:
            return False
        shift = self.shifts[-1]
        size, last, older = (self._size(s) for s in (shift, self.shifts[-2], self.shifts[-3]))
        if size < self.still:
            return False
        fade, fade_before = size / max(last, _STEADY_SHIFT), last / max(older, _STEADY_SHIFT)
        straight = self._size(shift - fade * self.shifts[-2]) < _LIKE * size
        if not straight or abs(fade - fade_before) > _LIKE * (1.0 - min(fade, 1.0) + _STEADY_SHARE) or fade < _FADING:
            return False
        if fade > 1.0 - _STEADY_SHARE:
            ways = self._ways(shift, self.room)
            if ways <= _SHORT_OF_BITE and not self._bitten:
                # Breathing may make it bite any stroke now: a few at a time, what is too far is pushed back.
                ways = min(self._ways(shift, self._play), _FEW)
            return self._leap_by(shift, 1.0, ways - _SHORT_OF_BITE)
        most = int(np.ceil(np.log(_LEFT) / np.log(fade)))
        way = shift * fade / (1.0 - fade)
        # What is free now may bite on the way: go no further than there.
        reach = self._ways(way, self.room)
        if reach <= 0.0:
            return False
        if reach < 1.0:
            most = min(most, int(np.log(1.0 - reach) / np.log(fade)) - _SHORT_OF_BITE)
        return self._leap_by(shift, fade, most)

    def _leap_by(self, shift: Floats, fade: float, strokes: float) -> bool:
        if not np.isfinite(strokes) or strokes < 2:
            return False
        self._leaps += 1
        count = int(strokes)
        start = self.state
        powers = fade ** np.arange(1, count + 1)
        ways = np.cumsum(powers)
        shown = np.unique(np.concatenate([np.arange(min(count, _SHOWN)), [count - 1]]))
        for k in shown:
            self._path.append(start.shift + ways[k] * shift)
            self._at.append(self._at[-1] + 1 if k < _SHOWN else self._at[-1] + count - _SHOWN)
        slid = start.slid + ways[-1] * self._slide
        self.state = SlipState(start.shift + ways[-1] * shift, slid)
        self.shifts, self._grip = [], []
        return True

    def slid_away(self, thrust: Floats, residual: float) -> Creep:
        """Friction does not hold the thrust (3,)."""
        away = thrust * [1.0, 1.0, 0.0]
        away = away * (SLIDES_AWAY / max(float(np.hypot(*away[:2])), 1e-300))
        path, at = [*self._path, self._path[-1] + away], [*self._at, self._at[-1] + 1]
        return Creep(away, np.array(path), np.array(at), False, self.solved + 1, SLIDES_AWAY, residual, True)

    def _size(self, shift: Floats) -> float:
        return float(np.abs(shift * self._weigh).max())


# Strokes of a leap that are told one by one.
_SHOWN = 200


def _moved(places: Floats, shift: Floats) -> Floats:
    x, y = places.T
    return np.column_stack([shift[0] - shift[2] * y, shift[1] + shift[2] * x])


def _room(grips: Grips | None, stroke: Sequence[Stance]) -> Floats:
    """What breathing leaves of each grip's play (h,), mm."""
    if grips is None:
        return np.zeros(0)
    breathing = [np.einsum("hij,hj->hi", grips.along, grips.near @ stance.breathing) for stance in stroke]
    return np.asarray(np.maximum(grips.play - np.max([np.hypot(*b.T) for b in breathing], axis=0), 0.0))


def _ways_to(grips: Grips, room: Floats, free: Flags, where: Floats, shift: Floats) -> float:
    """How many times ``shift`` (3,) leads from ``where`` (3,) until a ``free`` grip (h,) has used up its ``room`` (h,).

    None at all for one that has used it up already and goes on: breathing is about to make it bite.  Infinite: none.
    """
    here = _away(grips, where)
    step = _away(grips, where + shift) - here
    # |here + n step| = room, the later of its two roots: a grip may pass its free middle first.
    a, b, c = (step**2).sum(axis=1), (here * step).sum(axis=1), (here**2).sum(axis=1) - room**2
    going = free & (np.sqrt(a) > _STEADY_SHIFT)
    if not going.any():
        return np.inf
    a, b, c = a[going], b[going], c[going]
    outside = c >= 0
    roots = (-b + np.sqrt(np.maximum(b * b - a * c, 0.0))) / a
    ways = np.where(outside, np.where(b > 0, 0.0, np.where(b * b >= a * c, roots, np.inf)), roots)
    return float(ways.min())


def _away(grips: Grips, shift: Floats) -> Floats:
    """How far the die at each grip is from the grip's free middle (h, 2), bending left out, mm."""
    return np.asarray(np.einsum("hij,hj->hi", grips.along, _moved(grips.places, shift) - grips.offset))

"""Friction between die base and bolster: one step of a stroke, old state to new state.

The die shifts by (x, y), turns by an angle, and both bodies bend back under the
friction in a few smooth modes.  Each contact patch resists with a tangential
stiffness up to the friction limit (a circular cone) and slides beyond it; keys,
cones and guides resist once their play is used.  A step minimises a convex
energy by Newton's method with a line search on it, so it cannot diverge.

Sources: I. M. Jenkins 1962 and W. D. Iwan, J. Appl. Mech. 33 (1966) 893 (spring and
slider); J. J. Moreau, Proc. Int. School "Non-smooth mechanics" 1974 (a step as a
minimisation; from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.linalg.lapack import dposv

from deflect.mechanics.arrays import Flags, Floats, Integers

# Give of the two bodies under friction beyond what their bending takes, as a share of t/2G of each: (low, usual,
# high).  Derived: where a face is dragged by tau and the section carries no shear force, the shear stress is
# tau (-1/4 + z/t + 3z^2/t^2); the face then moves by 2/15 tau t/G beyond the mean movement and the mean rotation.
# At edges of the contact more gives.  A three-dimensional solid reference confirms it (die block on a slab, ring
# force: creep 2 % above the solid's), and was met before any case of the demo scenario was run.
TANGENTIAL_GIVE = (0.0, 4 / 15, 1.0)
# Stiffness of the joint between the bodies, N/mm3: (low, usual, high); from memory, weak.
JOINT_STIFFNESS = (500.0, 1500.0, 5000.0)

_NEWTON_STEPS = 60
_HALVINGS = 40
# Residual of the in-plane balance, as a share of the friction that is there.
_BALANCED = 1e-10
# Added to the stiffness against shift and turn, as a share of the greatest of them, so that it stays definite when all
# slide one way.  The modes have a stiffness of their own, to which it would be no trifle.
_DEFINITE = 1e-9
# Armijo's share of the slope that a step must gain: J. Nocedal, S. J. Wright, Numerical Optimization, section 3.1.
_GAIN = 1e-4
_ROUND_OFF = 4 * np.finfo(float).eps
_TINY = 1e-300
# What acts is counted as at least this, N, so that a share of it can be asked for.
_LEAST_FORCE = 1e-9
# A die that has shifted so far within a step is not held, mm.
_GONE = 1e4
_MICRON = 1e-3  # mm


def tangential_stiffness(halves_over_shear_modulus: Floats, give: float, joint: float) -> Floats:
    """Tangential stiffness of the contact per area (n,), N/mm3.

    halves_over_shear_modulus (n,): t/2G of bolster and die base together, mm3/N; give: share of it.
    """
    return 1.0 / (give * halves_over_shear_modulus + 1.0 / joint)


@dataclass(frozen=True, eq=False)
class Grips:
    """What holds the die sideways besides friction: springs that bite once their play is used, h of them.

    near (h, n): weights of the patches whose bending each feels; places (h, 2) mm; along (h, 2, 2): projector onto the
    way in which it holds; offset (h, 2): where its free middle lies, mm; play (h,) mm; stiffness (h,) N/mm;
    closed_only (h,): it acts while force is on the die only (guides of the two halves).
    """

    near: Floats
    places: Floats
    along: Floats
    offset: Floats
    play: Floats
    stiffness: Floats
    closed_only: Flags


@dataclass(frozen=True, eq=False)
class Stance:
    """The contact at one moment of the stroke.

    normal (n,) N; breathing (n, 2) mm: how far bending, without friction's part, moves the die's underside over the
    bolster's top at each patch; thrust (3,): force along x, along y (N) and moment (N mm) on the die;
    closed: force is on the die.
    """

    normal: Floats
    breathing: Floats
    thrust: Floats
    closed: bool = True


@dataclass(frozen=True, eq=False)
class Footing:
    """What stays the same through the stroke: patch places (n, 2) mm, friction coefficient,
    tangential stiffness (n,) N/mm, what friction bends, and what grips the die besides.

    bends (2 n, m) mm/sqrt(N mm): one column a mode (x and y of each patch in turn), each mode storing half the
    square of its amount; None: nothing bends.
    """

    places: Floats
    friction: float
    stiffness: Floats
    bends: Floats | None = None
    grips: Grips | None = None

    @cached_property
    def scale(self) -> Floats:
        """Units of the unknown shift (3,): 1 mm, 1 mm, and the turn that moves the farthest patch by 1 mm."""
        arm = max(float(np.hypot(*self.places.T).max(initial=1.0)), 1.0)
        return np.array([1.0, 1.0, 1.0 / arm])

    @cached_property
    def motion(self) -> Floats:
        """Motion of the patches (2 n, 3 + m) under the scaled shift and turn, and under the modes."""
        bends = np.zeros((2 * len(self.places), 0)) if self.bends is None else self.bends
        return np.hstack([_levers(self.places) * self.scale, bends])

    @cached_property
    def grip_motion(self) -> Floats:
        """Motion at the grips (2 h, 3 + m) under the same."""
        if self.grips is None:
            return np.zeros((0, self.motion.shape[1]))
        bends = self.motion[:, 3:]
        n, m = len(self.places), bends.shape[1]
        felt = np.einsum("hn,nkm->hkm", self.grips.near, bends.reshape(n, 2, m)).reshape(2 * len(self.grips.play), m)
        return np.hstack([_levers(self.grips.places) * self.scale, felt])


def _levers(places: Floats) -> Floats:
    x, y = places.T
    one, none = np.ones_like(x), np.zeros_like(x)
    return np.stack([np.column_stack([one, none, -y]), np.column_stack([none, one, x])], axis=1).reshape(-1, 3)


@dataclass(frozen=True, eq=False)
class SlipState:
    """Where the die is: shift (3,) = (x, y in mm, angle in rad), and what each patch has slid, (n, 2) mm."""

    shift: Floats
    slid: Floats


@dataclass(frozen=True, eq=False)
class Step:
    """Outcome of one step: the new state; friction (n, 2) and grip (h, 2) forces on the die, N; moved (3 + m,): shift,
    turn and amounts of the modes; residual: in-plane imbalance that is left, as a share of friction and thrust."""

    state: SlipState
    friction: Floats
    grip: Floats
    moved: Floats
    residual: float


@dataclass(frozen=True, eq=False)
class Pressing:
    """A footing at one moment of the stroke: springs that each give beyond a play and up to a limit.

    The a patches that are pressed have no play; the h grips have no limit.  Rows of x come first, then those of y.
    breathing (n, 2) mm; pressed (a,): which patches; motion (2 (a + h), 3 + m); grip_origin
    (2, h): stretch of the grips at rest, mm; stiffness, play and limit (a + h,); thrust (3 + m,): scaled; size: what
    acts, N.
    """

    footing: Footing
    breathing: Floats
    pressed: Integers
    motion: Floats
    grip_origin: Floats
    stiffness: Floats
    play: Floats
    limit: Floats
    thrust: Floats
    size: float

    @staticmethod
    def of(footing: Footing, stance: Stance) -> Pressing:
        thrust = np.zeros(footing.motion.shape[1])
        thrust[:3] = stance.thrust * footing.scale
        pressed = np.flatnonzero(stance.normal > 0)
        limit = footing.friction * stance.normal[pressed]
        stiffness, play = footing.stiffness[pressed], np.zeros(pressed.size)
        motion = footing.motion.reshape(len(stance.normal), 2, -1)[pressed]
        origin = np.zeros((2, 0))
        grips = footing.grips
        if grips is not None:
            h = len(grips.play)
            held = grips.along @ footing.grip_motion.reshape(h, 2, -1)
            origin = np.einsum("hij,hj->ih", grips.along, grips.near @ stance.breathing - grips.offset)
            motion = np.concatenate([motion, held])
            stiffness = np.concatenate([stiffness, grips.stiffness * (stance.closed | ~grips.closed_only)])
            play, limit = np.concatenate([play, grips.play]), np.concatenate([limit, np.full(h, np.inf)])
        size = max(float(limit[: pressed.size].sum()), float(np.abs(thrust).max()), _LEAST_FORCE)
        motion = np.ascontiguousarray(motion.transpose(1, 0, 2)).reshape(2 * len(motion), -1)
        return Pressing(footing, stance.breathing, pressed, motion, origin, stiffness, play, limit, thrust, size)

    def origin(self, state: SlipState) -> Floats:
        """Stretch (2 (a + h),) of every spring at v = 0, mm."""
        patches = (self.breathing - state.slid)[self.pressed]
        return np.concatenate([patches.T, self.grip_origin], axis=1).ravel()

    def at(self, v: Floats, stretch: Floats) -> _Point:
        """The energy at v = (scaled shift and turn, amounts of the modes), where springs are stretched so far."""
        x, y = stretch.reshape(2, -1)
        length = np.sqrt(x * x + y * y)
        given = np.maximum(length - self.play, 0.0)
        force = np.minimum(self.stiffness * given, self.limit)
        # A spring stores half of what it gives; beyond its limit it rubs.
        stored = force @ given - 0.5 * (force @ (force * self._flexibility))
        energy = float(stored) + 0.5 * float(v[3:] @ v[3:]) - float(self.thrust @ v)
        return _Point(v, stretch, length, force, energy)

    def slope(self, point: _Point) -> tuple[Floats, Floats]:
        """First derivative of the energy (3 + m,), and forces along x and y over stretch (a + h,), N/mm."""
        # Where a patch is not stretched at all it is a spring of its stiffness; a grip in its play is none.
        secant = np.where(point.length > 0, point.force / np.maximum(point.length, _TINY), self._at_rest)
        gradient = (secant * point.stretch.reshape(2, -1)).ravel() @ self.motion - self.thrust
        gradient[3:] += point.v[3:]
        return gradient, secant

    def tangent(self, point: _Point, secant: Floats) -> Floats:
        """Second derivative of the energy (3 + m, 3 + m)."""
        x, y = point.stretch.reshape(2, -1)
        still = point.length <= 0
        over = 1.0 / np.where(still, 1.0, point.length)
        cos, sin = np.where(still, 1.0, x * over), y * over
        # Along its stretch a spring gives only within its limit and beyond its play; across it, by its secant.
        gives = (point.force < self.limit) & (point.length >= self.play)
        along = np.sqrt(np.where(gives, self.stiffness, 0.0))
        across = np.sqrt(secant)
        of_x, of_y = self.motion.reshape(2, len(secant), -1)
        rows = np.concatenate(
            [
                (along * cos)[:, None] * of_x + (along * sin)[:, None] * of_y,
                (across * cos)[:, None] * of_y - (across * sin)[:, None] * of_x,
            ]
        )
        tangent = rows.T @ rows
        diagonal = np.einsum("ii->i", tangent)
        diagonal[3:] += 1.0
        diagonal[:3] += _DEFINITE * diagonal[:3].max()
        return np.asarray(tangent)

    @cached_property
    def _flexibility(self) -> Floats:
        return np.where(self.stiffness > 0, 1.0 / np.maximum(self.stiffness, _TINY), 0.0)

    @cached_property
    def _at_rest(self) -> Floats:
        return np.where((self.play > 0) | (self.limit <= 0), 0.0, self.stiffness)


@dataclass(frozen=True, eq=False)
class _Point:
    """One trial: v (3 + m,); stretch (2 (a + h),) and length (a + h,) of the springs, mm; their forces, N; energy."""

    v: Floats
    stretch: Floats
    length: Floats
    force: Floats
    energy: float


def step(footing: Footing, state: SlipState, stance: Stance, guess: Floats | None = None) -> Step:
    """The next state of the contact.  guess (3 + m,): shift and turn and amounts of the modes to start from."""
    return step_on(Pressing.of(footing, stance), state, guess)


def step_on(pressing: Pressing, state: SlipState, guess: Floats | None = None) -> Step:
    """The same, with the moment of the stroke made ready: strokes repeat their moments."""
    footing = pressing.footing
    modes = footing.motion.shape[1] - 3
    start = np.concatenate([state.shift, np.zeros(modes)]) if guess is None else guess.copy()
    start[:3] /= footing.scale
    point, residual = _least(pressing, state, start)
    n, a = len(state.slid), pressing.pressed.size
    # What is not pressed goes with the die.
    slid = pressing.breathing + (footing.motion @ point.v).reshape(n, 2)
    friction = np.zeros((n, 2))
    stretch = point.stretch.reshape(2, -1).T
    _, secant = pressing.slope(point)
    pull = secant[:, None] * stretch
    friction[pressing.pressed] = -pull[:a]
    # What sticks has slid no farther, to the last bit.
    held = np.minimum(1.0, pressing.limit[:a] / np.maximum(pressing.stiffness[:a] * point.length[:a], _TINY))
    slid[pressing.pressed] = state.slid[pressing.pressed] + stretch[:a] * (1.0 - held)[:, None]
    moved = np.concatenate([point.v[:3] * footing.scale, point.v[3:]])
    return Step(SlipState(moved[:3], slid), friction, -pull[a:], moved, residual)


def _least(pressing: Pressing, state: SlipState, start: Floats) -> tuple[_Point, float]:
    """Where the energy is least, from a first point, and the residual there."""
    point = pressing.at(start, pressing.origin(state) + pressing.motion @ start)
    gradient, secant = pressing.slope(point)
    residual = _residual(gradient, pressing.size)
    for _ in range(_NEWTON_STEPS):
        if residual < _BALANCED or float(np.abs(point.v[:3]).max()) > _GONE:
            break
        _, move, fault = dposv(pressing.tangent(point, secant), -gradient)
        if fault != 0:
            break
        stretched = pressing.motion @ move
        slope = float(gradient @ move)
        if -slope <= _ROUND_OFF * max(abs(point.energy), _TINY):
            # The energy cannot resolve a further step: go on only while the balance gets better.
            trial = pressing.at(point.v + move, point.stretch + stretched)
            gradient, secant = pressing.slope(trial)
            better = _residual(gradient, pressing.size)
            if better >= residual:
                break
            point, residual = trial, better
            continue
        factor = 1.0
        for _ in range(_HALVINGS):
            trial = pressing.at(point.v + factor * move, point.stretch + factor * stretched)
            if trial.energy <= point.energy + _GAIN * factor * slope:
                break
            factor *= 0.5
        else:
            break
        point = trial
        gradient, secant = pressing.slope(point)
        residual = _residual(gradient, pressing.size)
    return point, residual


def _residual(gradient: Floats, size: float) -> float:
    """In-plane imbalance as a share of what acts; that of the modes against friction's work over a micrometre."""
    off = np.abs(gradient)
    modes = float(off[3:].max(initial=0.0)) / math.sqrt(size * _MICRON)
    return max(float(off[:3].max()) / size, modes)

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

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from scipy.linalg.lapack import dposv

from deflect.mechanics.arrays import Flags, Floats

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
# Added to the tangent's diagonal, as a share of its greatest entry, so that it stays definite when all slide one way.
_DEFINITE = 1e-9
# Armijo's share of the slope that a step must gain: J. Nocedal, S. J. Wright, Numerical Optimization, section 3.1.
_GAIN = 1e-4
_ROUND_OFF = 4 * np.finfo(float).eps
_TINY = 1e-300
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
class _Energy:
    """The energy of a step over v = (scaled shift and turn, amounts of the modes)."""

    footing: Footing
    closed: bool
    origin: Floats  # (2 a,) stretch of the a patches that are pressed, at v = 0
    motion: Floats  # (2 a, 3 + m)
    stiffness: Floats  # (a,)
    limit: Floats  # (a,)
    grip_origin: Floats  # (2 h,)
    thrust: Floats  # (3 + m,)

    @staticmethod
    def of(footing: Footing, state: SlipState, stance: Stance) -> _Energy:
        thrust = np.zeros(footing.motion.shape[1])
        thrust[:3] = stance.thrust * footing.scale
        grips = footing.grips
        pressed = np.flatnonzero(stance.normal > 0)
        return _Energy(
            footing,
            stance.closed,
            (stance.breathing - state.slid)[pressed].ravel(),
            footing.motion.reshape(len(stance.normal), -1)[pressed].reshape(2 * pressed.size, -1),
            footing.stiffness[pressed],
            footing.friction * stance.normal[pressed],
            np.zeros(0) if grips is None else (grips.near @ stance.breathing - grips.offset).ravel(),
            thrust,
        )

    def at(self, v: Floats) -> _Point:
        stiffness, limit = self.stiffness, self.limit
        stretch = (self.origin + self.motion @ v).reshape(-1, 2)
        length = np.hypot(stretch[:, 0], stretch[:, 1])
        elastic = stiffness * length
        sprung = limit / np.maximum(2 * stiffness, _TINY)
        store = float(np.where(elastic > limit, limit * (length - sprung), 0.5 * elastic * length).sum())
        secant = np.minimum(stiffness, limit / np.maximum(length, _TINY))
        gradient = (secant[:, None] * stretch).ravel() @ self.motion
        pulled, pull = np.zeros((0, 2)), np.zeros(0)
        if self.footing.grips is not None:
            grips = self.footing.grips
            away = (self.grip_origin + self.footing.grip_motion @ v).reshape(-1, 2)
            pulled = np.einsum("hij,hj->hi", grips.along, away)
            reach = np.hypot(pulled[:, 0], pulled[:, 1])
            acts = grips.stiffness * (self.closed | ~grips.closed_only)
            over = np.maximum(reach - grips.play, 0.0)
            store += float((0.5 * acts * over**2).sum())
            pull = acts * over / np.maximum(reach, _TINY)
            gradient = gradient + (pull[:, None] * pulled).ravel() @ self.footing.grip_motion
        energy = store + 0.5 * float(v[3:] @ v[3:]) - float(self.thrust @ v)
        gradient[3:] += v[3:]
        return _Point(v, energy, gradient - self.thrust, stretch, length, secant, pulled, pull)

    def tangent(self, point: _Point) -> Floats:
        """Second derivative of the energy (3 + m, 3 + m)."""
        motion = self.motion
        n, unknowns = len(point.length), motion.shape[1]
        sliding = self.stiffness * point.length > self.limit
        # A sliding patch resists only across its sliding, which its secant along it takes back.
        along = np.where(sliding, point.secant, 0.0)
        blocks = motion.reshape(n, 2, unknowns)
        radial = np.einsum("nk,nki->ni", point.stretch / np.maximum(point.length, _TINY)[:, None], blocks)
        tangent = motion.T @ (np.repeat(point.secant, 2)[:, None] * motion)
        tangent -= radial.T @ (along[:, None] * radial)
        tangent[3:, 3:] += np.eye(unknowns - 3)
        grips = self.footing.grips
        if grips is not None:
            h = len(grips.play)
            reach = np.maximum(np.hypot(point.pulled[:, 0], point.pulled[:, 1]), _TINY)
            felt = np.einsum("hij,hjk->hik", grips.along, self.footing.grip_motion.reshape(h, 2, unknowns))
            straight = np.einsum("hi,hik->hk", point.pulled / reach[:, None], felt)
            acts = np.where(point.pull > 0, grips.stiffness, 0.0)
            flat = felt.reshape(2 * h, unknowns)
            tangent += flat.T @ (np.repeat(point.pull, 2)[:, None] * flat)
            tangent += straight.T @ ((acts - point.pull)[:, None] * straight)
        return tangent


@dataclass(frozen=True, eq=False)
class _Point:
    """The energy, its slope, and the patches and grips at one trial."""

    v: Floats
    energy: float
    gradient: Floats
    stretch: Floats
    length: Floats
    secant: Floats
    pulled: Floats
    pull: Floats


def step(footing: Footing, state: SlipState, stance: Stance, guess: Floats | None = None) -> Step:
    """The next state of the contact.  guess (3 + m,): shift and turn and amounts of the modes to start from."""
    energy = _Energy.of(footing, state, stance)
    modes = footing.motion.shape[1] - 3
    start = np.concatenate([state.shift, np.zeros(modes)]) if guess is None else guess.copy()
    start[:3] /= footing.scale
    point = _least(energy, energy.at(start), max(float(energy.limit.sum()), float(np.abs(energy.thrust).max()), 1e-9))
    stretch = stance.breathing - state.slid + (footing.motion @ point.v).reshape(-1, 2)
    length = np.hypot(stretch[:, 0], stretch[:, 1])
    limit = footing.friction * stance.normal
    held = np.minimum(1.0, limit / np.maximum(footing.stiffness * length, _TINY))
    secant = np.minimum(footing.stiffness, limit / np.maximum(length, _TINY))
    moved = np.concatenate([point.v[:3] * footing.scale, point.v[3:]])
    size = max(float(limit.sum()), float(np.abs(energy.thrust).max()), 1e-9)
    return Step(
        SlipState(moved[:3], state.slid + stretch * (1.0 - held)[:, None]),
        -secant[:, None] * stretch,
        -point.pull[:, None] * point.pulled,
        moved,
        _residual(point, size),
    )


def _least(energy: _Energy, point: _Point, size: float) -> _Point:
    """Where the energy is least, from a first point; ``size``: what acts, N."""
    for _ in range(_NEWTON_STEPS):
        if _residual(point, size) < _BALANCED or float(np.abs(point.v[:3]).max()) > _GONE:
            break
        tangent = energy.tangent(point)
        tangent[np.diag_indices(len(tangent))] += _DEFINITE * float(tangent.max())
        _, move, fault = dposv(tangent, -point.gradient)
        if fault != 0:
            break
        slope = float(point.gradient @ move)
        if -slope <= _ROUND_OFF * max(abs(point.energy), _TINY):
            # The energy cannot resolve a further step: go on only while the balance gets better.
            trial = energy.at(point.v + move)
            if _residual(trial, size) >= _residual(point, size):
                break
            point = trial
            continue
        factor = 1.0
        for _ in range(_HALVINGS):
            trial = energy.at(point.v + factor * move)
            if trial.energy <= point.energy + _GAIN * factor * slope:
                break
            factor *= 0.5
        else:
            break
        point = trial
    return point


def _residual(point: _Point, size: float) -> float:
    """In-plane imbalance as a share of what acts; that of the modes against friction's work over a micrometre."""
    modes = float(np.abs(point.gradient[3:]).max(initial=0.0)) / np.sqrt(size * _MICRON)
    return float(max(np.abs(point.gradient[:3]).max() / size, modes))

"""Friction between die base and bolster through a stroke: a first, honest creep number.

The die is rigid in plane: it shifts by (x, y) and turns by an angle.  Each
contact patch resists with a tangential stiffness up to the friction limit and
slides beyond it.  The bending of both bodies drags the surfaces across each
other (breathing); a side thrust biases the sliding, and what does not come
back is the creep.  One step is a pure function, old state to new state; it
minimises a convex energy by Newton's method with a line search, so it cannot
diverge.

Sources: H. Moseley, Proc. R. Soc. 7 (1855) 333 (a body creeping down a slope by
cyclic expansion); I. M. Jenkins 1962 and W. D. Iwan, J. Appl. Mech. 33 (1966) 893
(spring and slider).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from deflect.mechanics.arrays import Floats

# Tangential give of the two bodies at a patch, as a share of t/2G of each, and stiffness of the joint
# between them, N/mm3: (low, usual, high).  The joint's is from memory and weak; the give is ours, fixed on
# a three-dimensional solid reference (die block on a slab, ring force, steady side thrust: 1.52 um a
# stroke) before any case of the demo scenario was run: the march gives 1.59 with 1.0 and no joint,
# 1.64 with no give at all, 1.43 at 50 N/mm3.
TANGENTIAL_GIVE = (0.25, 1.0, 1.0)
JOINT_STIFFNESS = (500.0, 1500.0, 5000.0)

_NEWTON_STEPS = 60
_HALVINGS = 40
# Residual of the in-plane balance, as a share of the friction that is there.
_BALANCED = 1e-10
# Added to the tangent's diagonal, as a share of its trace, so that it stays definite when all slide one way.
_DEFINITE = 1e-9
_ROUND_OFF = 4 * np.finfo(float).eps
# Strokes after which an unsteady march is given up and said to be unsteady.
_MOST_STROKES = 24
# Two successive shifts per stroke that agree so far are steady (share, and mm).
_STEADY_SHARE, _STEADY_SHIFT = 1e-3, 1e-8


def tangential_stiffness(halves_over_shear_modulus: Floats, give: float, joint: float) -> Floats:
    """Tangential stiffness of the contact per area (n,), N/mm3.

    halves_over_shear_modulus (n,): t/2G of bolster and die base together, mm3/N; give: share of it.
    """
    return 1.0 / (give * halves_over_shear_modulus + 1.0 / joint)


@dataclass(frozen=True, eq=False)
class Stance:
    """The contact at one moment of the stroke.

    normal (n,) N; breathing (n, 2) mm: how far bending alone moves the die's underside over the
    bolster's top at each patch; thrust (3,): force along x, along y (N) and moment (N mm) on the die.
    """

    normal: Floats
    breathing: Floats
    thrust: Floats


@dataclass(frozen=True, eq=False)
class Footing:
    """What stays the same through the stroke: patch places (n, 2) mm, friction coefficient,
    tangential stiffness (n,) N/mm."""

    places: Floats
    friction: float
    stiffness: Floats

    @cached_property
    def lever(self) -> tuple[Floats, Floats]:
        """Motion of the patches (2 n, 3) under shift and turn, the turn scaled to a length; and that scale (3,)."""
        x, y = self.places.T
        arm = max(float(np.hypot(x, y).max(initial=1.0)), 1.0)
        one, none = np.ones_like(x), np.zeros_like(x)
        motion = np.stack([np.column_stack([one, none, -y / arm]), np.column_stack([none, one, x / arm])], axis=1)
        return motion.reshape(-1, 3), np.array([1.0, 1.0, 1.0 / arm])


@dataclass(frozen=True, eq=False)
class SlipState:
    """Where the die is: shift (3,) = (x, y in mm, angle in rad), and what each patch has slid, (n, 2) mm."""

    shift: Floats
    slid: Floats


@dataclass(frozen=True, eq=False)
class Creep:
    """Outcome of a march.

    shift: net (x, y, angle) per stroke once steady; path (strokes + 1, 3): where the die was after
    each stroke; steady: whether the shift per stroke settled; breathing_slip: greatest sliding of a
    patch within the last stroke, mm; residual: worst in-plane imbalance, as a share of friction.
    """

    shift: Floats
    path: Floats
    steady: bool
    strokes: int
    breathing_slip: float
    residual: float


def march(footing: Footing, stroke: Sequence[Stance], strokes: int = _MOST_STROKES) -> Creep:
    """Repeat a closed stroke until the shift per stroke is steady.

    ``stroke`` begins and ends at rest: stances down to the full force and back.
    """
    state = SlipState(np.zeros(3), stroke[0].breathing)
    path = [state.shift]
    before = np.full(3, np.inf)
    arm = float(np.abs(footing.places).max(initial=1.0))
    weigh = np.array([1.0, 1.0, arm])
    worst = slip = 0.0
    for done in range(1, strokes + 1):
        start = state
        slip = 0.0
        for stance in stroke[1:]:
            state, residual = step(footing, state, stance)
            worst = max(worst, residual)
            slip = max(slip, float(np.hypot(*(state.slid - start.slid).T).max(initial=0.0)))
        path.append(state.shift)
        shift = state.shift - start.shift
        change = float(np.abs((shift - before) * weigh).max())
        if change < max(_STEADY_SHIFT, _STEADY_SHARE * float(np.abs(shift * weigh).max())):
            return Creep(shift, np.array(path), True, done, slip, worst)
        before = shift
    return Creep(before, np.array(path), False, strokes, slip, worst)


def step(footing: Footing, state: SlipState, stance: Stance) -> tuple[SlipState, float]:
    """The next state of the contact, and the in-plane imbalance that is left as a share of friction."""
    stiffness, limit = footing.stiffness, footing.friction * stance.normal
    lever, scale = footing.lever
    origin = (stance.breathing - state.slid).ravel()
    thrust = stance.thrust * scale
    size = max(float(limit.sum()), float(np.abs(thrust).max()), 1e-9)

    def energy_of(shift: Floats) -> tuple[float, Floats, Floats]:
        stretch = (origin + lever @ shift).reshape(-1, 2)
        length = np.hypot(stretch[:, 0], stretch[:, 1])
        elastic = stiffness * length
        sprung = limit / np.maximum(2 * stiffness, 1e-300)
        store = np.where(elastic > limit, limit * (length - sprung), 0.5 * elastic * length)
        return float(store.sum() - thrust @ shift), stretch, length

    def slopes_of(stretch: Floats, length: Floats) -> tuple[Floats, Floats, Floats, float]:
        safe = np.maximum(length, 1e-300)
        secant = np.minimum(stiffness, limit / safe)
        gradient = (secant[:, None] * stretch).ravel() @ lever - thrust
        return safe, secant, gradient, float(np.abs(gradient).max()) / size

    shift = state.shift / scale
    energy, stretch, length = energy_of(shift)
    residual = np.inf
    for _ in range(_NEWTON_STEPS):
        safe, secant, gradient, residual = slopes_of(stretch, length)
        if residual < _BALANCED:
            break
        # A sliding patch resists only across its sliding, which its secant along it takes back.
        along = np.where(stiffness * length > limit, secant, 0.0)
        radial = np.einsum("nk,nki->ni", stretch / safe[:, None], lever.reshape(-1, 2, 3))
        hessian = lever.T @ (np.repeat(secant, 2)[:, None] * lever) - radial.T @ (along[:, None] * radial)
        hessian += _DEFINITE * max(float(np.trace(hessian)), 1e-12) * np.eye(3)
        move = -np.linalg.solve(hessian, gradient)
        slope = float(gradient @ move)
        if -slope <= _ROUND_OFF * max(abs(energy), 1e-300):
            # The energy cannot resolve a further step: go on only while the balance gets better.
            trial, stretch_t, length_t = energy_of(shift + move)
            if slopes_of(stretch_t, length_t)[-1] >= residual:
                break
            shift, energy, stretch, length = shift + move, trial, stretch_t, length_t
            continue
        factor = 1.0
        for _ in range(_HALVINGS):
            trial, stretch_t, length_t = energy_of(shift + factor * move)
            if trial <= energy + 1e-4 * factor * slope:
                break
            factor *= 0.5
        else:
            break
        shift, energy, stretch, length = shift + factor * move, trial, stretch_t, length_t
    safe = np.maximum(length, 1e-300)
    held = np.minimum(1.0, limit / np.maximum(stiffness * safe, 1e-300))
    return SlipState(shift * scale, state.slid + stretch * (1.0 - held)[:, None]), residual

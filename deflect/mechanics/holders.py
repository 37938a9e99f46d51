"""The parts that hold a die sideways, as the march through the strokes sees them: where, which way, how stiffly,
from which play on, up to which force.

**Flanks.** A flank of area A gives by the body behind it and by its joint:
1/k = EDGE m (1 - nu²) / (E sqrt(A)) + 1/(k_j A).  m is the mean movement of a half space under even pressure on a
square: the mean of 1/r over the square, over pi (derived; Timoshenko and Goodier, Theory of Elasticity, give 0.95,
from memory).  EDGE = 2 because half of the half space is missing at an edge (ours, estimate).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from deflect.mechanics.body import GRAVITY
from deflect.mechanics.bolts import THREADS, clamp_force, thread_for
from deflect.mechanics.locating import Spot, usual_cones, usual_keys
from deflect.model.case import Case
from deflect.model.die import Clamp
from deflect.model.holder import USUAL_KEY_WIDTH, ConeForm, Guide, Key, LocatingCone
from deflect.model.material import Material
from deflect.model.values import Interval

# m and EDGE of a flank (see above).
SQUARE = (4 * math.asinh(1.0) - 4 / 3 * (math.sqrt(2) - 1)) / math.pi
EDGE = 2.0
# Stiffness of a pressed joint of machined faces, N/mm3 (from memory, weak).
FLANK_JOINT = Interval(500.0, 2000.0, 5000.0)
# Shear coefficient of a rectangle (Reissner).
_SHEAR = 5.0 / 6.0
# Steel of bolts, keys and cones: modulus, MPa, and Poisson's ratio (EN 1993-1-1, 3.2.6; from memory).
_STEEL, _STEEL_POISSON = 210e3, 0.3
# Lift over lift by one flank, for a round cone that bears on half its girth: pressure as the cosine of the angle
# from the force's direction, p0 cos: force p0 pi/2, lift p0 2 (derived).
ROUND_CONE = 4 / math.pi
# Sideways stiffness over normal stiffness of a whole girth: the mean of cos² over half of it (derived).
HALF_GIRTH = 0.25
# Decimals of a unit vector: no round-off in a key that runs along an axis.
_DIGITS = 12
# Strap and throat of the T-slot that a T-bolt passes besides the flange, in diameters.
_STRAP_AND_THROAT = 2.0
# A ball bears on a ring, not on a flank (ours, estimate).
_BALL = 0.5


@dataclass(frozen=True)
class InPlaneHolder:
    """One part that holds the die sideways: name, kind ("clamp", "key", "cone", "guide").

    place: (x, y) in bolster axes about the die's centre, mm.  direction: unit vector (bolster axes) along which
    alone it holds; None: any way.  play: mm free each way before it bites.  stiffness: N/mm once it bites.
    limit: N at which it slips (infinite: never).  capacity: N it may take (infinite: not stated).
    bears_on: "bolster" or "upper die".  offset: where its free middle lies, mm (x, y), bolster axes.
    """

    name: str
    kind: str
    place: Spot
    direction: Spot | None
    play: float
    stiffness: float
    limit: float = math.inf
    capacity: float = math.inf
    bears_on: str = "bolster"
    offset: Spot = (0.0, 0.0)


def holders_of(case: Case) -> tuple[InPlaneHolder, ...]:
    """Everything that holds the die of a case sideways: its clamps, keys, cones and guides, in this order.

    A die that is keyed or coned without places stated has the usual ones.
    """
    placing = case.die.placing
    turn = _Turn(placing.rotation)
    cones = cones_of(case)
    return (
        *(_clamp(case, turn, k, clamp) for k, clamp in enumerate(placing.clamps, start=1)),
        *(_key(case, turn, k, key) for k, key in enumerate(keys_of(case), start=1)),
        *(_cone(case, turn, k, cone, len(cones)) for k, cone in enumerate(cones, start=1)),
        *(_guide(case, turn, k, guide) for k, guide in enumerate(case.die.guides, start=1)),
    )


def keys_of(case: Case) -> tuple[Key, ...]:
    """The keys of a case: those stated, else the usual ones of a keyed die."""
    placing = case.die.placing
    return placing.keys or (usual_keys(case) if placing.keyed else ())


def cones_of(case: Case) -> tuple[LocatingCone, ...]:
    """The cones of a case: those stated, else the usual ones of a coned die."""
    placing = case.die.placing
    return placing.cones or (usual_cones(case) if placing.coned else ())


@dataclass(frozen=True)
class _Turn:
    """From die axes to bolster axes, by the die's turn alone."""

    angle: float

    def place(self, x: float, y: float) -> Spot:
        c, s = math.cos(self.angle), math.sin(self.angle)
        return c * x - s * y, s * x + c * y

    def way(self, angle: float) -> Spot:
        """Unit vector at an angle from the die's x, or its opposite: to the right, or straight back."""
        x, y = (round(f(self.angle + angle), _DIGITS) + 0.0 for f in (math.cos, math.sin))
        return (x, y) if (x, y) > (0.0, 0.0) else (0.0 - x, 0.0 - y)


# ---- clamps


def bending_stiffness(clamp: Clamp, case: Case) -> float:
    """Sideways stiffness of a T-bolt, N/mm: 3 E I/L³, held in its T-slot and free at its nut.

    L: what it clamps, and two diameters for strap and throat of the slot (from memory; common practice, no source).
    A clamp given by its force has the bolt of the T-slots, or M24 where none are stated.
    """
    slots, flange = case.press.bolster.t_slots, case.die.lower.flange
    length = case.press.clamped_thickness.nominal if flange is None or flange.thickness is None else flange.thickness
    if clamp.bolt is not None:
        thread = THREADS[clamp.bolt.thread]
    else:
        thread = THREADS["M24"] if slots is None else thread_for(slots.bolt_diameter)
    return 3 * _STEEL * thread.bending_inertia / (length + _STRAP_AND_THROAT * thread.diameter) ** 3


def _clamp(case: Case, turn: _Turn, number: int, clamp: Clamp) -> InPlaneHolder:
    return InPlaneHolder(
        name=f"clamp {number}",
        kind="clamp",
        place=turn.place(clamp.x, clamp.y),
        direction=None,
        play=0.0,
        stiffness=bending_stiffness(clamp, case),
        limit=case.press.friction.nominal * clamp.force,
    )


# ---- keys


def flank_stiffness(area: float, material: Material, joint: float) -> float:
    """Stiffness of one pressed flank, N/mm: the body behind it, and its joint (N/mm3), in series."""
    body = EDGE * SQUARE * (1 - material.poisson_ratio**2) / (material.youngs_modulus * math.sqrt(area))
    return 1 / (body + 1 / (joint * area))


def key_width(key: Key, case: Case) -> float:
    """Width of a key, mm: the stated one, else that of the T-slots' throat."""
    slots = case.press.bolster.t_slots
    return key.width or (USUAL_KEY_WIDTH if slots is None else slots.width)


def key_stiffness(key: Key, case: Case) -> Interval:
    """Sideways stiffness of a key, N/mm: a flank in the die, one in the table, and the shear of the key between
    the middles of both, in series.  Its tilt is left out; the range is that of the joints (ours, estimate)."""
    area = key.length * key.height
    shear_modulus = _STEEL / (2 * (1 + _STEEL_POISSON))
    shear = key.height / (_SHEAR * shear_modulus * key_width(key, case) * key.length)
    low, usual, high = (
        1
        / (
            1 / flank_stiffness(area, case.die.base.material, joint)
            + 1 / flank_stiffness(area, under(case), joint)
            + shear
        )
        for joint in (FLANK_JOINT.low, FLANK_JOINT.nominal, FLANK_JOINT.high)
    )
    return Interval(low, usual, high)


@dataclass(frozen=True)
class KeyCapacity:
    """What a key may take, N: by the pressure of its flanks, p h L, and by its shear, tau b L (DIN 6892 names the
    arithmetic; from memory)."""

    bearing: float
    shear: float

    @property
    def least(self) -> float:
        """N."""
        return min(self.bearing, self.shear)


def key_capacity(key: Key, width: float) -> KeyCapacity:
    """What a key of some width, mm, may take."""
    return KeyCapacity(key.pressure * key.height * key.length, key.shear * width * key.length)


def _key(case: Case, turn: _Turn, number: int, key: Key) -> InPlaneHolder:
    return InPlaneHolder(
        name=f"key {number}",
        kind="key",
        place=turn.place(key.x, key.y),
        direction=turn.way(key.slot + math.pi / 2),
        play=key.play,
        stiffness=key_stiffness(key, case).nominal,
        capacity=key_capacity(key, key_width(key, case)).least,
    )


# ---- cones


def wedge_lift(side_force: float, half_angle: float, friction: float) -> float:
    """Lift of a wedge under a side force, N: V = H tan(alpha - arctan mu), zero where it is self-locking."""
    return side_force * math.tan(max(half_angle - math.atan(friction), 0.0))


def cone_lift(side_force: float, half_angle: float, friction: float) -> float:
    """Lift of a round cone that bears on half its girth, N: 4/pi of the wedge's, the most that it can be."""
    return ROUND_CONE * wedge_lift(side_force, half_angle, friction)


def pull_out_force(half_angle: float, friction: float, held_down: float) -> float:
    """Side force at which a cone lifts what holds it down (N), N; infinite where it is self-locking."""
    lift = cone_lift(1.0, half_angle, friction)
    return math.inf if lift == 0.0 else held_down / lift


def held_down(case: Case) -> float:
    """What holds the lower half down between strokes, N: its weight, and the least that its clamps give."""
    die = case.die
    return die.lower.mass_range.low * GRAVITY + sum(clamp_force(clamp).low for clamp in die.placing.clamps)


def girth_stiffness(cone: LocatingCone, case: Case, joint: float = FLANK_JOINT.nominal) -> float:
    """Normal stiffness of a cone's whole flank, N/mm: the flank of its pin in the table and that in the die, in
    series."""
    area = math.pi * cone.diameter * cone.height / math.cos(cone.half_angle)
    both = (flank_stiffness(area, material, joint) for material in (case.die.base.material, under(case)))
    return (_BALL if cone.form is ConeForm.BALL else 1.0) / sum(1 / one for one in both)


def cone_stiffness(cone: LocatingCone, case: Case) -> float:
    """Sideways stiffness of a cone that bears on half its girth, N/mm."""
    return HALF_GIRTH * math.cos(cone.half_angle) ** 2 * girth_stiffness(cone, case)


def seat_stiffness(cone: LocatingCone, case: Case) -> float:
    """Stiffness of a cone's seat along its axis, N/mm."""
    return math.sin(cone.half_angle) ** 2 * girth_stiffness(cone, case)


def base_face_stiffness(case: Case) -> float:
    """Stiffness of base face on table under an even force, N/mm: the squeeze of half the base and half the bolster
    below the bearing areas.  Bodies that bend give more: the upper end."""
    base, bolster = case.die.base, case.press.bolster
    area = sum(one.area for one in base.bearing) or base.plan.area
    squeeze = sum(body.thickness / (2 * body.material.youngs_modulus) for body in (base, bolster))
    return area / squeeze


@dataclass(frozen=True)
class SeatShare:
    """A cone that stands too high for the base, under a downward force: force on the cone, N, its share of the
    whole, and the gap left between base and table beside it, mm."""

    force: float
    share: float
    gap: float


def seat_share(error: float, seat: float, base: float, force: float) -> SeatShare:
    """How cone and base face share a downward force, N: the cone, too high by ``error`` mm, carries alone until
    the gap is closed; from there on both give alike.

    seat, base: their stiffness along the axis, N/mm.  A cone that stands too low carries nothing.
    """
    if error <= 0 or force <= 0:
        return SeatShare(0.0, 0.0, max(error, 0.0))
    closing = seat * error
    if force <= closing:
        return SeatShare(force, 1.0, error - force / seat)
    on_cone = closing + (force - closing) * seat / (seat + base)
    return SeatShare(on_cone, on_cone / force, 0.0)


def seats_of(case: Case) -> dict[str, SeatShare]:
    """How each cone that stands too high shares the force on the base with the base's face, by its name.

    Cone by cone, as though the others stood right, and both bodies rigid: a base that must bend gives the cone more.
    """
    base = base_face_stiffness(case)
    force = case.base_force + held_down(case)
    return {
        f"cone {number}": seat_share(cone.seat_error, seat_stiffness(cone, case), base, force)
        for number, cone in enumerate(cones_of(case), start=1)
        if cone.seat_error > 0
    }


def _cone(case: Case, turn: _Turn, number: int, cone: LocatingCone, of: int) -> InPlaneHolder:
    """A cone may take what its flank bears, and what does not lift it out: its even share of what holds the die
    down, at the least friction.  One that stands too low is loose by its height error times the flank's slope."""
    return InPlaneHolder(
        name=f"cone {number}",
        kind="cone",
        place=turn.place(cone.x, cone.y),
        direction=None if cone.floats is None else turn.way(cone.floats + math.pi / 2),
        play=max(0.0, -cone.seat_error) * math.tan(cone.half_angle),
        stiffness=cone_stiffness(cone, case),
        capacity=min(
            cone.pressure * cone.diameter * cone.height,
            pull_out_force(cone.half_angle, case.press.friction.low, held_down(case) / of),
        ),
    )


# ---- guides


def _guide(case: Case, turn: _Turn, number: int, guide: Guide) -> InPlaneHolder:
    return InPlaneHolder(
        name=f"guide {number}",
        kind="guide",
        place=turn.place(guide.x, guide.y),
        direction=None if guide.direction is None else turn.way(guide.direction),
        play=guide.clearance,
        stiffness=guide.stiffness,
        capacity=guide.permitted_force,
        bears_on="upper die",
        offset=turn.place(*case.die.guide_offset),
    )


def under(case: Case) -> Material:
    """The material that the base stands on: the sub-plate's, else the bolster's."""
    plate = case.press.bolster.sub_plate
    return case.press.bolster.material if plate is None else plate.material

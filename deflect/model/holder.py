"""What holds a die on the table: bolts of clamps, keys, locating cones, guides.

Places are in die axes, mm; angles in rad from the die's x.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum


class Grade(StrEnum):
    """Property class of a bolt (ISO 898-1)."""

    G8_8 = "8.8"
    G10_9 = "10.9"


class Tightening(StrEnum):
    """How a bolt is tightened, which decides how surely its preload is met."""

    TORQUE_WRENCH = "torque wrench"
    ESTIMATED_FRICTION = "torque wrench, friction estimated"
    IMPACT_WRENCH = "impact wrench"
    BY_FEEL = "by feel"


class Seat(StrEnum):
    """What a key stands in: a T-slot of the table, or a keyway milled into the table for it."""

    T_SLOT = "T-slot"
    KEYWAY = "keyway"


class ConeForm(StrEnum):
    """What stands in the conical seat: a cone, which bears on its flank, or a ball, which bears on a ring."""

    CONE = "cone"
    BALL = "ball"


# A key's play a side, mm: a throat of 22 to 36 mm with limits H8 over a key with limits h6 leaves 0 to
# 0.027 mm (ISO 286; from memory).
USUAL_PLAY = 0.02
# Length of a key, and how high it bears on either side of the joint, mm (from memory; common practice, no source).
USUAL_KEY_LENGTH = 80.0
USUAL_KEY_HEIGHT = 12.0
# Width of a key where neither it nor the T-slots are stated, mm: the throat for M24 (BS 2485; published).
USUAL_KEY_WIDTH = 28.0
# By how much a key may miss the line of its T-slot, mm, and turn out of it, rad: places are written to the
# millimetre (ours).
LINE_SLACK = 0.5
TURN_SLACK = math.radians(0.5)
# What flanks of keys and cones may bear at every stroke, and a key's shear, MPa: mild steel and cast iron,
# force that comes and goes, by the arithmetic of DIN 6892 (from memory).
USUAL_PRESSURE = 150.0
USUAL_SHEAR = 100.0
# Half the angle of a locating cone, rad; its middle diameter and its height, mm (from memory; common practice,
# no source).
USUAL_HALF_ANGLE = math.radians(15.0)
USUAL_CONE_DIAMETER = 60.0
USUAL_CONE_HEIGHT = 20.0


@dataclass(frozen=True)
class ClampBolt:
    """The bolt of a clamp: thread ("M24", "M24x2"), grade, and how it is tightened."""

    thread: str
    grade: Grade = Grade.G8_8
    tightening: Tightening = Tightening.BY_FEEL


@dataclass(frozen=True)
class Key:
    """A key (tenon): it holds across its slot only, never along it, never down.

    slot: the way its slot runs, rad.  play: on each side before it bites, mm.  length: along the slot;
    height: how high it bears in the die and in the table, each; width: across the slot, None: that of the
    T-slot's throat; mm.  pressure, shear: what it may take, MPa.
    """

    x: float
    y: float
    slot: float
    seat: Seat = Seat.T_SLOT
    play: float = USUAL_PLAY
    length: float = USUAL_KEY_LENGTH
    height: float = USUAL_KEY_HEIGHT
    width: float | None = None
    pressure: float = USUAL_PRESSURE
    shear: float = USUAL_SHEAR


@dataclass(frozen=True)
class LocatingCone:
    """A locating cone or ball: it centres, and is free to lift.

    half_angle: between flank and axis, rad.  floats: the way in which it is free to move, rad; None: it is
    fixed.  seat_error: how far it stands too high for the base to rest beside it, mm; below zero: too low.
    diameter, height: of the flank, middle and along the axis, mm.  pressure: what the flank may bear, MPa.
    """

    x: float
    y: float
    half_angle: float = USUAL_HALF_ANGLE
    floats: float | None = None
    form: ConeForm = ConeForm.CONE
    seat_error: float = 0.0
    diameter: float = USUAL_CONE_DIAMETER
    height: float = USUAL_CONE_HEIGHT
    pressure: float = USUAL_PRESSURE


@dataclass(frozen=True)
class Guide:
    """A guide between the halves (post, heel block): it bears once its clearance is used up.

    engagement: height of the slide above bottom dead centre at which it engages, mm.  clearance: each side,
    mm.  stiffness: N/mm.  permitted_force: sideways, N.  direction: the only way in which it bears (a heel
    block), rad; None: any way (a post).
    """

    x: float
    y: float
    engagement: float
    clearance: float
    stiffness: float
    permitted_force: float
    direction: float | None = None

"""What is never known exactly: its usual values, and draws over its ranges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.stats import qmc

from deflect.mechanics.arrays import Floats
from deflect.mechanics.friction import JOINT_STIFFNESS, TANGENTIAL_GIVE
from deflect.mechanics.standing import Assumptions
from deflect.mechanics.support import CONTACT_GIVE, LAND_GIVE
from deflect.mechanics.thrust import Drives
from deflect.model.case import Case
from deflect.model.values import Interval

# The inputs that are never known exactly, in the order of their coordinates in the unit cube of the ranges.
_BEDDED = "land stiffness of the press it was bedded on"
UNCERTAIN = (
    "land stiffness",
    "hold-down of the bolster",
    "local give at the land",
    "local give of the contact",
    "friction",
    "table out of level",
    "side thrust",
    "one-sided cutting",
    "force off the press's centre",
    "tangential give",
    "joint stiffness",
    _BEDDED,
)
# Two corners of that cube go with the draws: everything towards more sag and more creep, and towards less.
CORNERS: Floats = np.array(
    [
        [0.0, 1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0, 1.0, 0.0, 1.0, 1.0],
        [1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0],
    ]
)
USUAL: Floats = np.full(len(UNCERTAIN), 0.5)
_SEED = 20


@dataclass(frozen=True)
class Sample:
    """One draw: what the solution assumes, land stiffness of the press it was bedded on (N/mm3), and what drives."""

    assumptions: Assumptions
    bedded_stiffness: float
    drives: Drives


def drawn(samples: int) -> Floats:
    """Points of the unit cube of ``UNCERTAIN`` (samples, d): both corners first, then a Latin hypercube."""
    if samples <= 0:
        return np.zeros((0, len(UNCERTAIN)))
    inside = qmc.LatinHypercube(d=len(UNCERTAIN), rng=_SEED).random(max(samples - len(CORNERS), 0))
    return np.asarray(np.vstack([CORNERS, inside])[:samples])


def sample_at(case: Case, stiffness: Interval, bedded_stiffness: Interval | None, unit: Floats) -> Sample:
    """The inputs at a point of the unit cube of ``UNCERTAIN``; 0.5 is the usual value.

    stiffness, bedded_stiffness: of the land of the press, and of the one that the die was bedded on (N/mm3).
    """
    at = dict(zip(UNCERTAIN, unit.tolist(), strict=True))
    press, die = case.press, case.die
    bedded = 0.0
    if die.bedded is not None and bedded_stiffness is not None:
        # The same table where it is the same press.
        same = die.bedded.press == press
        bedded = _geometric(bedded_stiffness, at["land stiffness" if same else _BEDDED])
    return Sample(
        Assumptions(
            bed_stiffness=_geometric(stiffness, at["land stiffness"]),
            hold_downs=press.bed.hold_downs_known or at["hold-down of the bolster"] <= 0.5,
            land_give=_triple(LAND_GIVE, at["local give at the land"]),
            contact_give=_triple(CONTACT_GIVE, at["local give of the contact"]),
        ),
        bedded,
        Drives(
            friction=_between(press.friction, at["friction"]),
            slope=_between(press.table_slope, at["table out of level"]),
            side_thrust=_between(die.side_thrust, at["side thrust"]),
            cutting=_between(die.cutting_thrust, at["one-sided cutting"]),
            offset=_between(die.offset_thrust, at["force off the press's centre"]),
            direction=0.0,
            tangential_give=_triple(TANGENTIAL_GIVE, at["tangential give"]),
            joint=_triple(JOINT_STIFFNESS, at["joint stiffness"]),
        ),
    )


def _between(interval: Interval, u: float) -> float:
    """Half of the draws below the usual value, half above it."""
    if u < 0.5:
        return interval.low + 2 * u * (interval.nominal - interval.low)
    return interval.nominal + (2 * u - 1) * (interval.high - interval.nominal)


def _triple(values: tuple[float, float, float], u: float) -> float:
    return _between(Interval(*values), u)


def _geometric(interval: Interval, u: float) -> float:
    if interval.is_exact:
        return interval.nominal
    logs = Interval(*(float(np.log(v)) for v in (interval.low, interval.nominal, interval.high)))
    return float(np.exp(_between(logs, u)))

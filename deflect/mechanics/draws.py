"""What is never known exactly: its usual values, and draws over its ranges."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from scipy.stats import qmc

from deflect.mechanics.arrays import Floats
from deflect.mechanics.friction import JOINT_STIFFNESS, TANGENTIAL_GIVE
from deflect.mechanics.standing import Assumptions
from deflect.mechanics.support import CONTACT_GIVE, LAND_GIVE
from deflect.mechanics.thrust import Drives
from deflect.mechanics.variation import AS_USUAL, Variation
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
    "effective thickness of the bolster",
    "walls of the bed",
    "warmth of the die base",
    "warmth of the bolster",
)
# How many of them every case has; the others are drawn apart, so that a case without them is drawn as ever.
_ALWAYS = 12
# Two corners of that cube go with the draws: everything towards more sag and more creep, and towards less.
CORNERS: Floats = np.array(
    [
        [0.0, 1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 1.0, 1.0, 0.0, 1.0, 1.0, 0.0, 0.0, 1.0, 1.0],
        [1.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0],
    ]
)
USUAL: Floats = np.full(len(UNCERTAIN), 0.5)
_SEED, _SEED_OF_OTHERS = 20, 21


@dataclass(frozen=True)
class Sample:
    """One draw: what the solution assumes, land stiffness of the press it was bedded on (N/mm3), what drives, and how
    the bodies differ from the usual ones."""

    assumptions: Assumptions
    bedded_stiffness: float
    drives: Drives
    variation: Variation = AS_USUAL


def drawn(samples: int) -> Floats:
    """Points of the unit cube of ``UNCERTAIN`` (samples, d): both corners first, then a Latin hypercube."""
    if samples <= 0:
        return np.zeros((0, len(UNCERTAIN)))
    count = max(samples - len(CORNERS), 0)
    inside = np.hstack(
        [
            qmc.LatinHypercube(d=_ALWAYS, rng=_SEED).random(count),
            qmc.LatinHypercube(d=len(UNCERTAIN) - _ALWAYS, rng=_SEED_OF_OTHERS).random(count),
        ]
    )
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
        _variation(case, at),
    )


def uncertain_of(case: Case) -> tuple[str, ...]:
    """Which of ``UNCERTAIN`` are uncertain in a case: the first twelve, and what it has of the others."""
    press = case.press
    walls = press.bed.land.walls
    others = (
        press.calibration is not None,
        walls is not None and not walls.stiffness.is_exact,
        not case.die.warmth.is_exact,
        not press.bolster.warmth.is_exact,
    )
    return UNCERTAIN[:_ALWAYS] + tuple(name for name, is_so in zip(UNCERTAIN[_ALWAYS:], others, strict=True) if is_so)


def _variation(case: Case, at: Mapping[str, float]) -> Variation:
    """How the bodies differ from the usual ones; of a calibrated press as its figures hang together."""
    press, known = case.press, case.press.calibration
    spanning, u_walls = press.bed.land.walls, at["walls of the bed"]
    bolster = 1.0
    if known is not None:
        # Each coordinate -1 to 1 from end to end; those of the land lead.
        land, own, other = (2 * at[n] - 1 for n in (UNCERTAIN[0], UNCERTAIN[_ALWAYS], "walls of the bed"))
        with_land, walls_land, walls_own = known.correlation
        thickness = with_land * land + np.sqrt(1 - with_land**2) * own
        thinner = np.sqrt(max(1 - with_land**2, 1e-12))
        of_own = (walls_own - walls_land * with_land) / thinner
        rest = np.sqrt(max(1 - walls_land**2 - of_own**2, 0.0))
        u_walls = (float(np.clip(walls_land * land + of_own * own + rest * other, -1, 1)) + 1) / 2
        found = known.effective_thickness
        bolster = _multiple(found, (float(np.clip(thickness, -1, 1)) + 1) / 2) ** 3
    return Variation(
        bolster=bolster,
        walls=1.0 if spanning is None else _multiple(spanning.stiffness, u_walls),
        die_warmth=_between(case.die.warmth, at["warmth of the die base"]) - case.die.warmth.nominal,
        bolster_warmth=_between(press.bolster.warmth, at["warmth of the bolster"]) - press.bolster.warmth.nominal,
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


def _multiple(interval: Interval, u: float) -> float:
    """A value of the interval as a multiple of the usual one, which is 1 exactly."""
    low, high = np.log(interval.low / interval.nominal), np.log(interval.high / interval.nominal)
    return float(np.exp(_between(Interval(min(low, 0.0), 0.0, max(high, 0.0)), u)))

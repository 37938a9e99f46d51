"""What creep comes to, stroke by stroke, read off an analysis once for every output."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from deflect.findings import Analysis
from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.march import SLIDES_AWAY, Creep
from deflect.mechanics.thrust import CUTTING, OFFSET, REST, SLOPE, Leanings, thrust_by_source
from deflect.model.values import Interval
from deflect.report.wording import bare, figure, listed

TOLD_STROKES = 200
"""Strokes that are drawn and listed."""
SHARES = (5, 50, 95)
"""Per cent of the draws for which the strokes are told."""
NOTHING_MET = "nothing is met"
# A turn below this moves the corner of a die by no more than a few hundredths of a micrometre, rad per stroke.
_NO_TURN = 2e-8
# Strokes that are listed one by one, and how many are listed in all (nearly).
_ONE_BY_ONE, _LISTED = 10, 24
# Where each source's part comes from: its key in the case files.
_KEYS = {
    SLOPE: "press.table_slope",
    CUTTING: "die.cutting_thrust",
    OFFSET: "die.offset_thrust",
    REST: "die.side_thrust",
}


# Why a part is nothing.
_NONE = {CUTTING: "nothing is cut along an open line", OFFSET: "the force acts at the press's centre"}
# More than any creep, mm per stroke.
_MOST = 0.99 * SLIDES_AWAY
# A force below this is round-off, N.
_LEAST_FORCE = 0.5


@dataclass(frozen=True)
class Reached:
    """A share of the draws, per cent, that meets something within so many whole strokes (infinite: fewer ever do), and
    what the last of them meets."""

    percent: int
    strokes: float
    what: str

    @property
    def finite(self) -> bool:
        """Whether so many ever meet anything."""
        return math.isfinite(self.strokes)


@dataclass(frozen=True)
class Source:
    """One part of the side thrust at full force, N; input: what it stands on, in words."""

    name: str
    force: Interval
    input: str


def met(analysis: Analysis) -> str:
    """What the free die meets first at the usual values."""
    return analysis.met.what if math.isfinite(analysis.met.strokes) else NOTHING_MET


def reached(analysis: Analysis) -> tuple[Reached, ...]:
    """Strokes within which 5, 50 and 95 % of the draws meet something; empty where none were drawn."""
    spread, found = analysis.spread, []
    for percent in SHARES if spread.met else ():
        strokes = spread.strokes_at(percent / 100)
        what = next(meeting.what for meeting in spread.met if meeting.strokes == strokes)
        finite = math.isfinite(strokes)
        found.append(Reached(percent, math.floor(strokes) if finite else strokes, what if finite else NOTHING_MET))
    return tuple(found)


def reached_told(analysis: Analysis) -> str:
    """The same in one line."""
    found = reached(analysis)
    finite = [one for one in found if one.finite]
    told = [f"{one.percent} % within {figure(one.strokes, 'strokes')}" for one in finite]
    never = next((f"fewer than {one.percent} % ever" for one in found if not one.finite), "")
    return ("of the draws " if found else "") + ", ".join([*told, *([never] if never else [])])


def turn_told(analysis: Analysis) -> str:
    """How far the free die turns per stroke, and which way: "7.5 µrad anticlockwise"; empty where it is nothing."""
    turn = float(analysis.creep.march.shift[2])
    if analysis.creep.march.slides or abs(turn) < _NO_TURN:
        return ""
    return f"{bare(abs(turn) * 1e6, 'um')} µrad {'anticlockwise' if turn > 0 else 'clockwise'}"


def driven_by(analysis: Analysis, number: str) -> str:
    """The inputs that move a number most, one or two: "friction and side thrust"; empty where none are known."""
    spread = analysis.spread
    both = [dict(found).get(number) for found in (spread.drivers, spread.seconds)]
    return listed([name for name in both if name])


def sources(analysis: Analysis) -> tuple[Source, ...]:
    """The parts of the side thrust at full force, with the range of the input that each stands on."""
    case, drives = analysis.case, analysis.creep.drives
    leanings, weight = Leanings.of(case), case.die.lower.mass * GRAVITY
    inputs = {
        SLOPE: ("slope", case.press.table_slope),
        CUTTING: ("cutting", case.die.cutting_thrust),
        OFFSET: ("offset", case.die.offset_thrust),
        REST: ("side_thrust", case.die.side_thrust),
    }
    stated = {f"{of}.{one.key.removeprefix(f'{of}.')}" for of, all_ in (("press", case.press), ("die", case.die))
              for one in all_.inputs if not one.is_default}  # fmt: skip
    found = []
    for name, (field, value) in inputs.items():
        low, usual, high = (
            float(
                np.hypot(
                    *thrust_by_source(
                        replace(drives, **{field: end}), leanings, case.base_force + weight, case.base_force, 0.0
                    )[name]
                )
            )
            for end in (value.low, value.nominal, value.high)
        )
        force = Interval(low, usual, high) if high >= _LEAST_FORCE else Interval.exactly(0.0)
        found.append(Source(name, force, _stands_on(name, force.high > 0, stated)))
    return tuple(found)


def _stands_on(name: str, pushes: bool, stated: set[str]) -> str:
    """What a part of the side thrust stands on."""
    key = _KEYS[name]
    if key in stated:
        return f"{key}, stated"
    if not pushes and name in _NONE:
        return "counted in the side thrust that is stated" if _KEYS[REST] in stated else _NONE[name]
    return f"{key}, not stated: a usual value"


def pace(analysis: Analysis) -> Interval:
    """Creep of the free die, µm per stroke; infinite where friction does not hold it."""
    spread = analysis.spread.creep
    ends = (spread.low, spread.nominal, spread.high)
    return Interval(*(math.inf if _slides(one) else one * 1e3 for one in ends))


def _slides(creep: float) -> bool:
    """Whether a creep, mm per stroke, stands for a die that friction does not hold."""
    return creep > _MOST


def pace_told(value: float, with_unit: bool = True) -> str:
    """A creep in µm per stroke in words: "1.8 µm"; "slides away"."""
    if not math.isfinite(value):
        return "slides away"
    return figure(value, "um") if with_unit else bare(value, "um")


def pace_span(value: Interval) -> str:
    """Its range without the unit; empty where low and high read alike."""
    low, high = pace_told(value.low, False), pace_told(value.high, False)
    return "" if low == high else f"{low} to {high}"


def slides_somewhere(analysis: Analysis) -> bool:
    """Whether friction alone does not hold the die at some point of the ranges."""
    return _slides(analysis.spread.creep.high)


def listed_strokes() -> Floats:
    """Strokes that are listed: the first one by one, then ever fewer, up to the last that is told."""
    later = np.geomspace(_ONE_BY_ONE, TOLD_STROKES, _LISTED - _ONE_BY_ONE)
    return np.unique(np.concatenate([np.arange(_ONE_BY_ONE + 1), np.round(later)])).astype(float)


def places_after(marched: Creep, strokes: Floats) -> Floats:
    """Where the die is after some strokes (k, 3), mm and rad: as marched, and from there straight on."""
    along = np.minimum(strokes, marched.at[-1])
    known = np.column_stack([np.interp(along, marched.at, column) for column in marched.path.T])
    return np.asarray(known + np.outer(strokes - along, marched.shift))

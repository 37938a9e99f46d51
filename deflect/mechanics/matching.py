"""The budget of the match: what brings the two halves apart at the cutting line or on the face, line by line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType

import numpy as np

from deflect.mechanics.analysis import Analysis
from deflect.mechanics.closure import ranges_of
from deflect.mechanics.cutting import edge_shift, left_by_upper_half
from deflect.mechanics.lift_off import product, total
from deflect.model.die import Die
from deflect.model.matching import Fitted
from deflect.model.values import Interval
from deflect.units import show_length, show_micrometres

# A target can be measured where the uncertainty is no more than this share of it (common practice, no source).
MEASURABLE_SHARE = 1 / 3
# A pass that is short against any swing of the temperature, h (common practice, no source).
SHORT_PASS = 1.0


class Cause(StrEnum):
    """What brings the halves apart."""

    BENDING = "bending under force"
    CREEP = "creep until the next setting"
    PLAY = "play of what holds the die"
    DIE_GROWTH = "thermal growth of the die"
    MACHINE_GROWTH = "thermal growth of the machine"
    MEASURING = "measuring"
    FITTING = "fitting by hand"


# Causes that fitting takes out: the halves then match whatever the numbers said.
_BY_NUMBERS_ONLY = frozenset({Cause.DIE_GROWTH, Cause.MACHINE_GROWTH, Cause.MEASURING})
_TAKEN_OUT: Mapping[Fitted, frozenset[Cause]] = MappingProxyType(
    {
        Fitted.BY_NUMBERS: frozenset({Cause.FITTING}),
        Fitted.TO_EACH_OTHER: _BY_NUMBERS_ONLY,
        Fitted.IN_THE_PRESS: _BY_NUMBERS_ONLY | {Cause.BENDING},
    }
)
_ONE_PASS = (
    "Finish the critical line in one short pass at one temperature, with die and machine warmed through, and match the "
    "rest to it."
)
# What a toolmaker does about the line that dominates (common practice, no source).
WHAT_TO_DO: Mapping[Cause, str] = MappingProxyType(
    {
        Cause.BENDING: "Fit by hand in the press that will be used, under its working force: spotted elsewhere, the "
        "halves match where they are not used.",
        Cause.CREEP: "Hold the die by keys or cones, or set it again more often: no fit outlasts a die that walks.",
        Cause.PLAY: "Fit keys or cones with less play, and push the die to the same flank at every setting.",
        Cause.DIE_GROWTH: _ONE_PASS,
        Cause.MACHINE_GROWTH: _ONE_PASS,
        Cause.MEASURING: "Take the half that carries the punch as master and fit the other half to it: what cannot be "
        "measured can still be fitted.",
        Cause.FITTING: "Spot with a thinner film and finish with stones: what is left is the fitter's own.",
    }
)


@dataclass(frozen=True)
class Line:
    """One line of the budget, mm, and how it comes about."""

    cause: Cause
    value: Interval
    how: str


@dataclass(frozen=True)
class Budget:
    """The lines against what matched halves need, mm.

    at: where the halves must match; left_out: causes that the way of fitting takes out; uncertainty: of measuring
    over the length, whether or not it is a line; strokes: until the next setting; short_pass: growth of die and
    machine together within a pass of one hour, mm.
    """

    at: str
    target: float
    lines: tuple[Line, ...]
    left_out: tuple[Cause, ...]
    uncertainty: Interval
    strokes: int
    short_pass: float

    @property
    def worst(self) -> Interval:
        """Every line at once and the same way, mm."""
        return total(line.value for line in self.lines)

    @property
    def root_sum_square(self) -> Interval:
        """The sum that counts, mm: lines of different causes do not all peak together (common practice)."""
        return _root_sum_square(line.value for line in self.lines)

    @property
    def dominating(self) -> Line:
        """The line with the greatest usual value."""
        return max(self.lines, key=lambda line: line.value.nominal)

    @property
    def measurable(self) -> bool:
        """Whether the usual uncertainty is small enough to tell a match from a mismatch."""
        return self.uncertainty.nominal <= MEASURABLE_SHARE * self.target


def budget(analysis: Analysis) -> Budget:
    """The budget of a case as it is analysed, its usual values and ranges."""
    die = analysis.case.die
    given = die.matching
    taken_out = _TAKEN_OUT[given.fitted]
    lines = _lines(analysis)
    growth = sum(line.value.nominal for line in lines if line.cause in (Cause.DIE_GROWTH, Cause.MACHINE_GROWTH))
    return Budget(
        at="at the cutting line" if die.operation.cuts else "on the face",
        target=die.limits.matching,
        lines=tuple(line for line in lines if line.cause not in taken_out),
        left_out=tuple(line.cause for line in lines if line.cause in taken_out and line.cause is not Cause.FITTING),
        uncertainty=given.measuring.uncertainty(given.length),
        strokes=given.strokes,
        short_pass=growth * min(SHORT_PASS / given.machining_time, 1.0),
    )


def creep_until_setting(analysis: Analysis) -> Interval:
    """Creep until the next setting, mm; nothing where keys or cones hold the die.

    No farther than where the bolts of clamps and the guides stop it at the usual values.
    """
    if analysis.creep.held:
        return Interval.exactly(0.0)
    free = product(analysis.spread.creep, Interval.exactly(analysis.case.die.matching.strokes))
    held = analysis.held
    if held is None or not held.march.steady or held.march.slides:
        return free
    most = float(np.hypot(*held.march.path[-1, :2]))
    return Interval(min(free.low, most), min(free.nominal, most), max(min(free.nominal, most), min(free.high, most)))


def bending(analysis: Analysis) -> tuple[Interval, str]:
    """What bending brings the halves apart by, mm: the lean of the edges, or the error of the face."""
    if analysis.case.die.operation.cuts:
        ranges = ranges_of(analysis)
        if ranges is not None:
            return ranges.shift, "upper edges shift against lower ones by rotation × height, both halves solved"
        shift = edge_shift(analysis.solution)
        return left_by_upper_half(shift), (
            f"lower edges lean {show_micrometres(shift)} by rotation × height; a quarter to all of it is left "
            "by the upper half"
        )
    return analysis.spread.face, "range of the face error under force, as its own rule has it"


def growth(expansion: Interval, swing: Interval, length: float) -> Interval:
    """Thermal growth, mm: expansion (1/K) x swing of the temperature (K) x length (mm)."""
    return product(expansion, swing, Interval.exactly(length))


def _play(die: Die) -> Interval:
    """From flank to flank, mm: twice the play that the keys state a side, else what is assumed."""
    plays = [2 * key.play for key in die.placing.keys]
    return Interval(min(plays), max(plays), max(plays)) if plays else die.matching.key_play


def _lines(analysis: Analysis) -> tuple[Line, ...]:
    given = analysis.case.die.matching
    length = show_length(given.length)
    bent, told = bending(analysis)
    held = analysis.creep.held
    measured = (
        f"{given.measuring.share.nominal * 1e3:g} mm/m over {length}"
        if given.measuring.optical
        else f"A + L/K = {show_micrometres(given.measuring.a.nominal)} + {given.length:.0f}/"
        f"{given.measuring.k.nominal / 1e3:.0f} µm"
    )
    return (
        Line(Cause.BENDING, bent, told),
        Line(Cause.PLAY, _play(analysis.case.die), "the die may stand at either flank")
        if held
        else Line(
            Cause.CREEP,
            creep_until_setting(analysis),
            f"{show_micrometres(analysis.spread.creep.nominal)} a stroke × {given.strokes} strokes, no farther than "
            "where bolts of clamps and guides stop it",
        ),
        Line(
            Cause.DIE_GROWTH,
            growth(given.expansion, given.swing, given.length),
            _growth_words(given.expansion, given.swing, length),
        ),
        Line(
            Cause.MACHINE_GROWTH,
            growth(given.machine_expansion, given.machine_swing, given.length),
            _growth_words(given.machine_expansion, given.machine_swing, length),
        ),
        Line(Cause.MEASURING, given.measuring.uncertainty(given.length), measured),
        Line(Cause.FITTING, given.fitting, "what spotting by hand leaves"),
    )


def _growth_words(expansion: Interval, swing: Interval, length: str) -> str:
    return f"{expansion.nominal * 1e6:g} µm/m/K × {swing.nominal:g} K × {length}"


def _root_sum_square(parts: Iterable[Interval]) -> Interval:
    squares = total(Interval(one.low**2, one.nominal**2, one.high**2) for one in parts)
    return Interval(math.sqrt(squares.low), math.sqrt(squares.nominal), math.sqrt(squares.high))

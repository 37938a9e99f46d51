"""What cuts, and what the match of the two halves rests on, as stated or assumed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from deflect.model.values import Interval

_NONE, _ALL = Interval.exactly(0.0), Interval.exactly(1.0)


@dataclass(frozen=True)
class Cutting:
    """What is cut.  Of a die that is not read from a file nothing is known.

    length: of the cut, mm; None: not stated; at_once: share of it that is cut at one moment (less than 1 where
    edges are stepped); shear_share: shear strength over tensile strength; dull_edge: what dull edges ask for
    more, as a share; clearance_tolerance: by how much the clearance a side may be off, mm.
    """

    length: float | None = None
    at_once: float = 1.0
    shear_share: Interval = _ALL
    dull_edge: Interval = _NONE
    clearance_tolerance: float = 0.0


class Fitted(StrEnum):
    """How the halves were brought to match."""

    BY_NUMBERS = "by numbers"
    TO_EACH_OTHER = "to each other"
    IN_THE_PRESS = "in the press"


@dataclass(frozen=True)
class Measuring:
    """How places on the halves are measured: a coordinate machine as A + L/K (a in mm, k in mm per mm, so that
    both terms are in mm), or optically as a share of the length."""

    optical: bool = False
    a: Interval = _NONE
    k: Interval = _ALL
    share: Interval = _NONE

    def uncertainty(self, length: float) -> Interval:
        """Uncertainty of a length in mm, mm."""
        if self.optical:
            return Interval(*(s * length for s in (self.share.low, self.share.nominal, self.share.high)))
        low, usual, high = (self.k.high, self.a.low), (self.k.nominal, self.a.nominal), (self.k.low, self.a.high)
        return Interval(*(a + length / k for k, a in (low, usual, high)))


_EXACT = Measuring()


@dataclass(frozen=True)
class Matching:
    """What the match of the halves rests on.  Of a die that is not read from a file nothing is stated.

    stated: whether the case file says anything of it; length: over which the halves must match, mm; expansion
    of the die and machine_expansion, 1/K; swing of the temperature of die and of machine, K, over the
    machining_time, h; strokes: between two settings or regrinds; key_play: of what holds the die, mm;
    fitting: what fitting by hand leaves, mm.
    """

    stated: bool = False
    fitted: Fitted = Fitted.BY_NUMBERS
    length: float = 0.0
    expansion: Interval = _NONE
    swing: Interval = _NONE
    machine_expansion: Interval = _NONE
    machine_swing: Interval = _NONE
    machining_time: float = 1.0
    strokes: int = 1
    key_play: Interval = _NONE
    fitting: Interval = _NONE
    measuring: Measuring = _EXACT

"""What a calibration found."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.model.press import Calibration, Press
from deflect.model.readings import Readings
from deflect.model.values import Interval


@dataclass(frozen=True)
class Fitted:
    """One fitted figure: its name, before and after with 95 % intervals; movable: whether readings moved it."""

    name: str
    before: Interval
    after: Interval

    @property
    def spread(self) -> float:
        """Half the width of the interval in logarithms."""
        return float(np.log(self.after.high / self.after.low) / 2)

    @property
    def gain(self) -> float:
        """By which share the interval has become narrower."""
        before = float(np.log(self.before.high / self.before.low) / 2)
        return 1.0 - self.spread / before


@dataclass(frozen=True)
class Residual:
    """One reading beside the fit, mm (an acceptance figure: mm per mm).

    force: N; measured, fitted; predicted: the range that the press file gave before; off: residual against a fit
    without this dial in standard deviations; disagrees: whether that is more than chance explains.
    """

    dial: str
    x: float
    y: float
    force: float
    measured: float
    fitted: float
    predicted: Interval
    off: float
    disagrees: bool

    @property
    def residual(self) -> float:
        return self.measured - self.fitted

    @property
    def held(self) -> bool:
        """Whether the earlier prediction's range held."""
        return self.predicted.low <= self.measured <= self.predicted.high


@dataclass(frozen=True)
class NextPlace:
    """Where one more dial, under the greatest force that was used, would narrow a figure's interval most, and to
    which share of its width."""

    name: str
    x: float
    y: float
    share: float


@dataclass(frozen=True)
class Fit:
    """What a calibration found.

    scatter: of the readings as a multiple of their stated uncertainty, after what was fitted; without: for each dial
    that disagrees, the figures without it.  loose: the figures with a bolster that nothing holds down, where that is
    not known; the intervals take them in.
    """

    press: Press
    readings: Readings
    figures: tuple[Fitted, ...]
    residuals: tuple[Residual, ...]
    scatter: float
    without: tuple[tuple[str, tuple[tuple[str, float], ...]], ...]
    next_places: tuple[NextPlace, ...]
    calibration: Calibration
    loose: tuple[tuple[str, float], ...] = ()

    @property
    def held(self) -> int:
        """How many readings lay within what was predicted before."""
        return sum(one.held for one in self.residuals)

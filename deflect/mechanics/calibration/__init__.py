"""A press fitted to what was measured on its table."""

from deflect.mechanics.calibration.fit import calibrate, without_dials
from deflect.mechanics.calibration.results import Fit, Fitted, NextPlace, Residual

__all__ = ["Fit", "Fitted", "NextPlace", "Residual", "calibrate", "without_dials"]

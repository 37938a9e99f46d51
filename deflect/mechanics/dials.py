"""What dial and feeler gauge read of a solved case at places that a fitter can reach."""

from __future__ import annotations

import numpy as np
from scipy.interpolate import LinearNDInterpolator

from deflect.mechanics.solution import Solution


def down_at(solution: Solution, place: tuple[float, float]) -> float:
    """How far the bolster's top goes down at a place (bolster axes, mm) from before the force, mm."""
    return -float(LinearNDInterpolator(solution.table_points, solution.table_movement)(*place))


def rim_gap(solution: Solution) -> tuple[float, tuple[float, float]]:
    """Greatest gap along the rim of the base, mm, and where (die axes); 0 where the rim is closed all round."""
    rim = np.ones(solution.outline_gap.shape, dtype=bool)
    rim[1:-1, 1:-1] = False
    gap = np.where(rim, np.nan_to_num(solution.outline_gap), 0.0)
    best = np.unravel_index(int(np.argmax(gap)), gap.shape)
    x, y = solution.outline[best]
    return float(gap[best]), (float(x), float(y))


def gap_at(solution: Solution, place: tuple[float, float]) -> float:
    """Gap at the corner of a patch nearest to a place (die axes), mm; 0 off the bearing."""
    away = np.hypot(*(solution.outline.reshape(-1, 2) - place).T)
    return float(np.nan_to_num(solution.outline_gap.ravel()[int(np.argmin(away))]))

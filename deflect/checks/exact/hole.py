"""An endless plate with shear and a round hole, bent one way far from it: closed form by Bessel functions, ours.

The rotations are those of a biharmonic potential, as in a plate without shear, and of a twist that dies away from the
hole as K2 (E. Reissner, J. Appl. Mech. 12 (1945) A69; from memory).  Unit radius, rigidity and moment.
"""

from __future__ import annotations

import numpy as np
from scipy.special import kv, kvp

from deflect.checks.exact.rectangles import NU
from deflect.mechanics.arrays import Floats


def hole_moment(radius_over_thickness: float) -> float:
    """Greatest moment along the hole's edge over the moment far away."""
    decay = np.sqrt(10.0) * radius_over_thickness
    twist = (1.0, decay * kvp(2, decay) / kv(2, decay), decay**2 * kvp(2, decay, 2) / kv(2, decay))
    none = (0.0, 0.0, 0.0)
    far = -1 / (4 * (1 - NU**2))
    square = np.array([1.0, 2.0, 2.0])  # r^2 and its slopes at the edge
    even, uneven = _moments(0, far * (1 - NU) * square, none), _moments(2, far * (1 + NU) * square, none)
    spread = _moments(0, (0.0, 1.0, -1.0), none)  # ln r
    parts = np.array([_moments(2, (1, -2, 6), none), _moments(2, (1, 0, 0), none), _moments(2, none, twist)])
    # No moment, no twist and no shear force at the edge.
    shear = (0.0, -8.0, decay**2 * (1 - NU))
    amounts = np.linalg.solve(np.vstack([parts[:, 0], parts[:, 2], shear]), [-uneven[0], -uneven[2], 0.0])
    along_even = even[1] - even[0] / spread[0] * spread[1]
    along_uneven = uneven[1] + amounts @ parts[:, 1]
    return float(along_even - along_uneven)


def _moments(waves: int, potential: Floats | tuple[float, ...], twist: tuple[float, ...]) -> Floats:
    """Moments mr, mt (over cos) and mrt (over sin) at the edge; each function with its first two slopes."""
    (f, df, ddf), (g, dg, ddg), n = potential, twist, waves
    turn_r, slope_r = -df + n * g, -ddf + n * (dg - g)
    turn_t, slope_t = n * f - dg, n * (df - f) - ddg
    around = turn_r + n * turn_t
    return np.array([slope_r + NU * around, around + NU * slope_r, (1 - NU) / 2 * (slope_t - n * turn_r - turn_t)])

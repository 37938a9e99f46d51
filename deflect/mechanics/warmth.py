"""A body that is warmer on top than below: it bows by itself, without stress, whatever its section.

Curvature alpha dT / h, domed upwards where the top is warmer: S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates
and Shells, 2nd ed. 1959, section 14; B. A. Boley, J. H. Weiner, Theory of Thermal Stresses (1960), section 12.2 (from
memory).  It holds for a body of one material whose temperature rises evenly from bottom to top.
"""

from __future__ import annotations

import numpy as np

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats
from deflect.mechanics.contract import Body
from deflect.mechanics.plate import Plate


def free_curvature(expansion: float, thickness: float) -> float:
    """Curvature, 1/mm per K, of a body of a thickness in mm; expansion in 1/K."""
    return expansion / thickness


def bowed(body: Body, curvature: float) -> Floats:
    """Motion (N,) of a free plate with a curvature both ways, 1/mm, middle and level kept; domed upwards."""
    plate = getattr(body, "plate", None)
    if not isinstance(plate, Plate):
        raise MechanicsFailed("solid bodies know no temperature: leave out --bodies solid, or top_warmer")
    x, y = plate.basis.doflocs
    return np.asarray(
        np.choose(plate.component, [-curvature * (x**2 + y**2) / 2, -curvature * x, -curvature * y]), dtype=float
    )

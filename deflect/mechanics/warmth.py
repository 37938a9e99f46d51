"""A body that is warmer on top than below: it bows by itself, without stress, whatever its section.

Curvature alpha dT / h, domed upwards where the top is warmer: S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates
and Shells, 2nd ed. 1959, section 14; B. A. Boley, J. H. Weiner, Theory of Thermal Stresses (1960), section 12.2 (from
memory).  It holds for a body of one material whose temperature rises evenly from bottom to top.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

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


def bow(curvature: float, length: float) -> float:
    """Rise of the middle over the ends of a length, mm, by a curvature in 1/mm."""
    return curvature * length**2 / 8


@dataclass(frozen=True)
class Layer:
    """A layer of a strip: thickness in mm, Young's modulus in MPa, free strain (by warmth, expansion times K)."""

    thickness: float
    youngs_modulus: float
    free_strain: float


def bonded_curvature(layers: Sequence[Layer]) -> float:
    """Curvature, 1/mm, of layers that hold fast to each other, the first one lowest; domed upwards where the upper
    ones would be longer.

    Neither force nor moment is left: S. Timoshenko, J. Opt. Soc. Am. 11 (1925) 233 for two layers, here for any
    number.  An upper end for a plate that is bolted on: bolts slip before.
    """
    bottom, rows = 0.0, []
    for layer in layers:
        rows.append((layer.youngs_modulus * layer.thickness, bottom + layer.thickness / 2, layer))
        bottom += layer.thickness
    stretch = sum(stiff for stiff, _, _ in rows)
    middle = sum(stiff * at for stiff, at, _ in rows) / stretch
    bending = sum(stiff * ((at - middle) ** 2 + layer.thickness**2 / 12) for stiff, at, layer in rows)
    return sum(stiff * (at - middle) * layer.free_strain for stiff, at, layer in rows) / bending

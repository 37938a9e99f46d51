"""What a plate is made of, as the plate feels it: stiffness per unit width, mass, faces, outer fibres."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.mechanics.arrays import Floats

# Shear correction of a homogeneous rectangular section: E. Reissner, J. Appl. Mech. 12 (1945) A69.
SHEAR_CORRECTION = 5.0 / 6.0


@dataclass(frozen=True, eq=False)
class PlateSection:
    """Stiffness of a plate per unit width.

    bending (3, 3): moments (mx, my, mxy) from curvatures (kx, ky, 2 kxy), N mm.
    shear (2, 2): shear forces from shear strains, N/mm.
    mass: kg/mm2.  to_top, to_underside: distance of the faces from the neutral plane, mm.
    thickening: mm2, times the sum of curvatures = movement of the faces beyond the mean deflection.
    squeeze, squeeze_below: mm/MPa, shortening of the material above the neutral plane under pressure on the
    top, and of that below it under pressure on what bears of the underside.
    fibres: of the outer fibres, each (3, 3): stresses (sx, sy, txy) from curvatures, MPa mm; signs do not count.
    ligament: share of the pitch that stands between holes, by which the smeared stress is raised (solid: 1).
    bearing_share: share of the underside that is material (ribs open below: less than 1).
    """

    bending: Floats
    shear: Floats
    mass: float
    to_top: float
    to_underside: float
    thickening: float
    squeeze: float
    squeeze_below: float
    fibres: tuple[Floats, ...]
    ligament: float = 1.0
    bearing_share: float = 1.0

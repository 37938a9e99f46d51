"""How the bed carries the bolster: compression-only land, hold-downs, walls."""

from __future__ import annotations

# The bolster's own local give at the land, as a share of half its thickness: measured by us against
# three-dimensional solids, bracket 0.05 to 0.25 (0.05 fits a land that only presses, 0.25 one that also
# pulls); one value for every case.
LAND_GIVE = (0.05, 0.18, 0.25)
# Movement of a loaded face against the plate's mean deflection under pressure p on that face, as a share
# of p t / 2E, and of the opposite face.  Derived: with the cubic transverse stress of a plate that
# carries p by shear, s = p (1/2 + 3z/2t - 2z^3/t^3), u_z integrates to 13/32 pt/E at the face against
# the mid-plane and (3/80 - 3/1120) pt/E in Reissner's mean, hence 2 (13/32 - 39/1120) = 0.743; both faces
# pressed alike shorten each half by exactly p t / 2E, hence the rest, 0.257, on the opposite face.
FACE_GIVE = 2 * (13 / 32 - 39 / 1120)
FAR_FACE_GIVE = 1.0 - FACE_GIVE
# Bracket of the former for ranges: at the edges of a contact less material takes part.
CONTACT_GIVE = (0.25, FACE_GIVE, 1.0)


def land_compliance(squeeze: float, bed_stiffness: float, give: float) -> float:
    """Compliance of the land per area, mm/MPa: the bolster's local give in series with the bed.

    squeeze: of the bolster's lower part, mm/MPa; bed_stiffness in N/mm3 (infinite: a rigid land); give: share of
    that squeeze.
    """
    return give * squeeze + 1.0 / bed_stiffness


def wall_stiffness(youngs_modulus: float, walled_share: float, wall_height: float) -> float:
    """Stiffness of a land on upright walls, N/mm3: columns of the walled share of the land's area.

    Derived: an upright wall shortens by p H / (E share) under the mean pressure p on the land.
    """
    return youngs_modulus * walled_share / wall_height

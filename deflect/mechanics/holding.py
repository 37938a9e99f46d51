"""How much of its force a blank holder needs to bend after the face."""

from __future__ import annotations

from deflect.mechanics.solution import Solution
from deflect.model.die import BlankHolder

# An evenly loaded, simply supported beam sags by (5/384) q L^4 / EI: Timoshenko, Strength of Materials, part I.
_EVEN_BEAM = 384.0 / 5.0


def bending_line_force(holder: BlankHolder, sag: float) -> float:
    """Force per length, N/mm, that bends the longer side of the ring by ``sag`` (mm): q = (384/5) E I s / L^4.

    The ring's sides are taken as beams on their ends, which is on the stiff side of what corners give.
    """
    length = max(holder.length, holder.width)
    return _EVEN_BEAM * holder.material.youngs_modulus * holder.inertia * sag / length**4


def share_for_bending(holder: BlankHolder, sag: float, cushion_force: float) -> float:
    """Share of the cushion's force that goes into bending the ring after a face that sags by ``sag`` mm."""
    return bending_line_force(holder, sag) * holder.girth / cushion_force


def sag_below(holder: BlankHolder, solution: Solution) -> float:
    """Range of the face error within the ring's middle line, mm: what the ring must follow."""
    x, y = solution.patches.centre.T
    inside = (abs(x) <= holder.length / 2) & (abs(y) <= holder.width / 2)
    error = solution.face.error[inside]
    return float(error.max() - error.min()) if error.size else 0.0

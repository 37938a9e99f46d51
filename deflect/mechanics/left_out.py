"""How large may be what the bodies leave out: closed forms, put beside the numbers of a case, never added to them."""

from __future__ import annotations

import math

from deflect.mechanics.support import FACE_GIVE
from deflect.model.material import Material

# Seconds in a minute, and mm in a metre of a rate or a slope.
_MINUTE = 60.0


def period(mass: float, movement: float, force: float) -> float:
    """Longest natural period, s, of a mass (kg) on what moves by ``movement`` (mm) under ``force`` (N).

    Derived: 2π √(m δ/F), all of the mass where the movement is greatest, so on the long side.
    """
    return 2 * math.pi * math.sqrt(mass * movement / 1e3 / force)


def overshoot(period: float, rise: float) -> float:
    """Most that a movement goes beyond its lasting value, as a share of it; the force rises evenly over ``rise`` (s).

    Derived: undamped mass on a spring, envelope of |sin(π r)|/(π r) with r = rise/period (as in Biggs, Introduction
    to Structural Dynamics, 1964, chapter 2; from memory).  No more than 1, that of a force put on at once.
    """
    return min(1.0, period / (math.pi * rise)) if rise > 0 else 1.0


def time_to_bottom(height: float, stroke: float, rate: float) -> float:
    """Time, s, in which a slide on a crank goes from ``height`` (mm above bottom dead centre) to the bottom.

    rate: strokes per minute; the connecting rod is taken as long.  Derived: h = H/2 (1 − cos ωt).
    """
    turn = math.acos(1 - 2 * min(height, stroke / 2) / stroke)
    return turn / (2 * math.pi) * _MINUTE / rate


def speed_at(height: float, stroke: float, rate: float) -> float:
    """Speed of that slide at a height, mm/s: ω √(h (H − h))."""
    low = min(height, stroke / 2)
    return 2 * math.pi * rate / _MINUTE * math.sqrt(low * (stroke - low))


def thermal_bow(expansion: float, difference: float, length: float, thickness: float) -> float:
    """Bow, mm, over a length of a free body whose faces differ by ``difference`` (K): α ΔT L²/(8 h).

    Curvature α ΔT/h: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 1959, section 14.
    """
    return expansion * difference * length**2 / (8 * thickness)


def edge_dent(pressure: float, *bodies: tuple[float, Material]) -> float:
    """Error, mm, of the give at the edge of a pressed area; bodies: thickness (mm) and material.

    Derived: half of a plane that is pressed evenly sinks at its edge by half of what it sinks far inside, whatever the
    way in which a body spreads its give around a force; here each patch gives by its own pressure alone.
    """
    give = sum(thickness / (2 * material.youngs_modulus) for thickness, material in bodies)
    return FACE_GIVE * pressure * give / 2

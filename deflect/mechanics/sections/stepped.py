"""A slab with a step in its top: an area that is thicker or thinner than the rest, its underside level.

The corner of a step is free of stress, as the land beside a T-slot is: over a shadow of the thicker part no more than
the thinner one bends, where the bend runs against the edge.  Along the edge both parts bend side by side, and what
their middles' different heights would stretch they hand each other as shear.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from deflect.mechanics.sections.plate_section import PlateSection
from deflect.mechanics.sections.slotted import SHADOW, SHADOW_POWER
from deflect.mechanics.sections.solid import plane_stress, solid_section
from deflect.model.material import Material
from deflect.model.values import Rectangle

# Share of the difference in twisting stiffness that the thicker part keeps in its shadow: ours, from solid elements,
# eight steps and three pockets within 4 %.
TWIST_IN_SHADOW = 0.2


@dataclass(frozen=True)
class StepForm:
    """A slab of ``thickness`` on ``plan`` that is ``stepped`` thick over ``area``, mm."""

    thickness: float
    stepped: float
    plan: Rectangle
    area: Rectangle

    @property
    def shadow(self) -> float:
        """How far from its edge the thicker part is free of stress, mm."""
        thin, thick = sorted((self.thickness, self.stepped))
        return float(SHADOW * (thick - thin) ** SHADOW_POWER * thin ** (1 - SHADOW_POWER))

    def sections(self, material: Material) -> tuple[PlateSection, ...]:
        """Of the step itself, and of the thicker part in its shadow: beyond a bend along x, along y, along both."""
        step = solid_section(self.stepped, material)
        slab = solid_section(self.thickness, material)
        thick, thin = (step, slab) if self.stepped > self.thickness else (slab, step)
        gained = [self._gained(way, material) for way in (0, 1)]
        own = step.bending.copy()
        own[[0, 1], [0, 1]] += gained
        shadowed = []
        for ways in ((0,), (1,), (0, 1)):
            stiff = [thin if way in ways else thick for way in (0, 1)]
            bending = np.diag([part.bending[way, way] for way, part in enumerate(stiff)] + [0.0])
            if thick is step:
                for way in {0, 1} - set(ways):
                    bending[way, way] += gained[way]
            bending[0, 1] = bending[1, 0] = material.poisson_ratio * min(bending[0, 0], bending[1, 1])
            twist = thick.bending[2, 2], thin.bending[2, 2]
            bending[2, 2] = TWIST_IN_SHADOW * twist[0] + (1 - TWIST_IN_SHADOW) * twist[1]
            shear = np.diag([part.shear[way, way] for way, part in enumerate(stiff)])
            shadowed.append(replace(thick, bending=bending, shear=shear))
        return (replace(step, bending=own), *shadowed)

    def _gained(self, way: int, material: Material) -> float:
        """What the step gains in bending stiffness because what lies beside it holds it in its plane, N mm.  Derived.

        Stretched alike, both would gain A A' d^2 / (A + A') for stretching stiffnesses A and A' and middles d apart;
        the shear between their middles (half a sine along the step, a parabola across half of each) leaves a share.
        """
        along, across = (self.area.length, self.area.width) if way == 0 else (self.area.width, self.area.length)
        beside = (self.plan.width if way == 0 else self.plan.length) - across
        if beside <= 0.0:
            return 0.0
        sheet = plane_stress(material)
        own, other = sheet[0, 0] * self.stepped * across, sheet[0, 0] * self.thickness * beside
        together = float(own * other / (own + other))
        gives = across / (2 * self.stepped) + beside / (2 * self.thickness)
        handed = 2 * 3 * material.shear_modulus / gives
        share = handed / (handed + together * (np.pi / along) ** 2)
        return share * together * ((self.stepped - self.thickness) / 2) ** 2 / across

    @property
    def areas(self) -> tuple[tuple[Rectangle, int], ...]:
        """Where those sections hold, numbered as they are: the later over the earlier."""
        area, plan, raised = self.area, self.plan, self.stepped > self.thickness
        # A shadow lies within a raised step and around a pocket; at the edge of the plan there is none.
        at_edge = (area.left <= plan.left, area.right >= plan.right, area.front <= plan.front, area.back >= plan.back)
        outwards = -self.shadow if raised else self.shadow
        left, right, front, back = (0.0 if edge else outwards for edge in at_edge)
        wide = _moved(area, plan, left, right, 0.0, 0.0)
        deep = _moved(area, plan, 0.0, 0.0, front, back)
        both = _moved(area, plan, left, right, front, back)
        parts = [(area, 3), (deep, 1), (wide, 2), (both, 0)] if raised else [(wide, 1), (deep, 2), (area, 0)]
        return tuple((part, kind) for part, kind in parts if part is not None)

    def lies_beyond(self, kind: int) -> bool:
        """Whether that section holds outside the step: a pocket's shadow, over which other steps may stand."""
        return kind > 0 and self.stepped < self.thickness


def _moved(area: Rectangle, plan: Rectangle, left: float, right: float, front: float, back: float) -> Rectangle | None:
    """The area with its sides moved outwards, as far as the plan goes; None: nothing is left of it."""
    low_x, high_x = max(area.left - left, plan.left), min(area.right + right, plan.right)
    low_y, high_y = max(area.front - front, plan.front), min(area.back + back, plan.back)
    if high_x <= low_x or high_y <= low_y:
        return None
    return Rectangle((low_x + high_x) / 2, (low_y + high_y) / 2, high_x - low_x, high_y - low_y)

"""A die on a press: what is checked."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from deflect.model.die import HEIGHT_DIGITS, Die, DieBase
from deflect.model.press import Press

# By how much a half of the die may pass the edge of bolster or slide, mm: sizes are written to the millimetre (ours).
EDGE_SLACK = 0.5


@dataclass(frozen=True)
class Case:
    """One die on one press.

    other_presses: those that could run it instead; input_hash: tells the files that it was read from, "" for none.
    """

    press: Press
    die: Die
    other_presses: tuple[Press, ...] = field(default=(), compare=False)
    input_hash: str = field(default="", compare=False)

    @property
    def base_force(self) -> float:
        """What goes through the die base into the bolster, N: the working force less the cushion's share."""
        return self.die.working_force - self.die.cushion_force

    @property
    def cushion_hangs(self) -> bool:
        """Whether the cushion's reaction comes back onto the bolster."""
        return self.press.cushion is not None and self.press.cushion.hangs_on_bolster

    @property
    def table_force(self) -> float:
        """What the bolster carries, N: the base's force, and the cushion's where it hangs on the bolster."""
        return self.base_force + (self.die.cushion_force if self.cushion_hangs else 0.0)

    @property
    def closed_height(self) -> float | None:
        """From the bolster's top to the slide's face over the closed die, mm: the die on its thickest shim (or
        what dirt lies below it), and on the sub-plate where there is one.

        It follows every change of base, half, shims and sub-plate; None: the die's closed height is not stated.
        """
        height = self.die.closed_height
        if height is None:
            return None
        placing, plate = self.die.placing, self.press.bolster.sub_plate
        thickest = max((below.thickness for below in (*placing.shims, *placing.dirt)), default=0.0)
        return round(height + thickest + (0.0 if plate is None else plate.thickness), HEIGHT_DIGITS)

    def with_base_thickness(self, thickness: float) -> Case:
        """The same case with another thickness of the die base, mm; steps in its top keep their height."""
        base = self.die.base
        steps = tuple(replace(s, thickness=s.thickness + thickness - base.thickness) for s in base.steps)
        return self.with_base(replace(base, thickness=thickness, steps=steps))

    def with_base(self, changed: DieBase) -> Case:
        """The same case with another die base; mass and height of the lower half follow, and with them the
        closed height. The half never weighs less than its base."""
        base, lower = self.die.base, self.die.lower
        more = changed.mass - base.mass
        lower = replace(
            lower,
            height=lower.height + changed.thickness - base.thickness,
            mass=max(lower.mass + more, changed.mass),
            base_mass=max(lower.base_mass + more, 0.0) if lower.mass_is_estimated else 0.0,
        )
        return replace(self, die=replace(self.die, base=changed, lower=lower))

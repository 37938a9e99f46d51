"""A die on a press: what is checked."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.die import Die
from deflect.model.press import Press


@dataclass(frozen=True)
class Case:
    """One die on one press."""

    press: Press
    die: Die

    @property
    def table_force(self) -> float:
        """What the bolster carries, N: the working force less the cushion's share where the
        cushion stands on the bed, the whole working force where it hangs on the bolster."""
        hangs = self.press.cushion is not None and self.press.cushion.hangs_on_bolster
        return self.die.working_force - (0.0 if hangs else self.die.cushion_force)

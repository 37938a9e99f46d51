"""One case on the desk: its two sheets, what was solved of them last, and what is being solved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from nicegui import run

from deflect.desk.check.papers import Sheet, read
from deflect.faults import GAVE_UP, CaseRefused, Fault, MechanicsFailed
from deflect.mechanics.glance import Glance, glance
from deflect.model.case import Case

DEMO_DIE, DEMO_PRESS = "rowan-trim", "alder-10mn"
# Factor on the mesh while a die is dragged: five times as quick, and off by some per cent.
_COARSER = 1.5


class Bench:
    """Sheets, the case that they make, and the state solved of it.

    ``seen`` is called with each state, whether it is under way, and after how many moves of the hand it was asked for.
    """

    def __init__(self, folder: Path, seen: Callable[[Glance, bool, int], None], failed: Callable[[str], None]) -> None:
        self.die, self.press = Sheet.demo("die", DEMO_DIE), Sheet.demo("press", DEMO_PRESS)
        self.case: Case | None = None
        self.glance: Glance | None = None
        self._folder, self._seen, self._failed = folder, seen, failed
        self._wanted: tuple[Case, float, int] | None = None
        self._shown: Case | None = None
        self.moves = 0
        self._solving = False

    def read(self) -> tuple[Fault, ...]:
        """Read both sheets; every mistake, or none and a new case."""
        try:
            self.case = read(self.die, self.press, self._folder)
        except CaseRefused as refused:
            self.case = None
            return refused.faults
        return ()

    def placed(self, x: float, y: float, degree: float) -> None:
        """Write where the die was set on the table."""
        self.die.write(("placing", "x"), f"{x:g} mm")
        self.die.write(("placing", "y"), f"{y:g} mm")
        if degree or self.die.value(("placing", "rotation")) is not None:
            self.die.write(("placing", "rotation"), f"{degree:g} degree")

    def moving(self, x: float, y: float, turn: float) -> Case | None:
        """The case with the die under way; turn in rad."""
        if self.case is None:
            return None
        placing = replace(self.case.die.placing, x=x, y=y, rotation=turn)
        return replace(self.case, die=replace(self.case.die, placing=placing))

    async def solve(self, case: Case, under_way: bool = False) -> None:
        """Solve a case at the usual values; of several that come meanwhile only the last is solved.

        under_way: on the coarser mesh, unless that is what is seen already: a die that is set down where it was held.
        """
        if under_way and case == self._shown and not self._solving:
            return
        self._wanted = (case, _COARSER if under_way else 1.0, self.moves)
        if self._solving:
            return
        self._solving = True
        try:
            while self._wanted is not None:
                (wanted, coarser, moves), self._wanted = self._wanted, None
                like = None if self.glance is None or coarser != 1.0 else self.glance.solution
                try:
                    seen = await run.io_bound(glance, wanted, like, coarser)
                except (MechanicsFailed, *GAVE_UP) as failed:
                    self._failed(str(failed))
                    continue
                if seen is None:  # the page is closing
                    return
                if coarser == 1.0:
                    self.glance = seen
                self._shown = wanted
                self._seen(seen, coarser != 1.0, moves)
        finally:
            self._solving = False

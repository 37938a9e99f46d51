"""The cautions of a study: those of a check, of the heaviest die in it."""

from __future__ import annotations

from functools import lru_cache

from deflect.advice import cautions
from deflect.faults import GAVE_UP, MechanicsFailed
from deflect.findings import Warned
from deflect.mechanics.analysis import analyse
from deflect.model.case import Case
from deflect.study.rows import Row, Stage
from deflect.study.shop import Shop, case_of


@lru_cache(maxsize=1)
def heaviest_cautions(shop: Shop) -> tuple[Warned, ...]:
    """Every caution, with the numbers of the heaviest die on the first press that takes it; none where nothing can be
    read."""
    readable = [die for die in shop.dies if die.read.value is not None]
    for die in sorted(readable, key=lambda one: -(one.read.value.lower.mass if one.read.value else 0.0)):
        for press in shop.presses:
            case = case_of(die, press, Stage.SCREENING)
            if isinstance(case, Row):
                continue
            found = _of(case)
            if found:
                return found
    return ()


def _of(case: Case) -> tuple[Warned, ...]:
    try:
        return cautions(analyse(case, 0, mesh_error=False))
    except (MechanicsFailed, *GAVE_UP):
        return ()

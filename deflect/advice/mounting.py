"""The rules of mounting, asked of a case that is not solved: heights, plans, slots, pins, masses, forces."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import cast

from deflect.advice.judging import judge
from deflect.advice.registry import all_rules
from deflect.findings import Analysis, Finding, Rule, Trouble
from deflect.model.case import Case

# The troubles whose rules ask about sizes, places and stated forces alone.
_MOUNTING = frozenset({
    Trouble.HEIGHT, Trouble.FOOTPRINT, Trouble.CLAMPING, Trouble.PINS, Trouble.MASS, Trouble.OVERLOAD,
    Trouble.FORCE_OVER_HEIGHT, Trouble.OFFSET,
})  # fmt: skip


@dataclass(frozen=True)
class _Unsolved:
    """All that these rules may read of an analysis."""

    case: Case


@cache
def mounting_rules() -> tuple[Rule, ...]:
    """The rules that need no solution."""
    return tuple(rule for rule in all_rules() if rule.trouble in _MOUNTING)


def mounting(case: Case) -> tuple[Finding, ...]:
    """Ask every rule of mounting that applies."""
    unsolved = cast(Analysis, _Unsolved(case))
    asked = (judge(rule, unsolved) for rule in mounting_rules())
    return tuple(finding for finding in asked if finding is not None)

"""Rules asked of a case that is not solved: those of mounting, and others that read nothing but the case."""

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
# Rules of other troubles that read the case alone.
_OTHERS = frozenset({"key-layout", "pick-up", "shear-force", "thin-rib"})


@dataclass(frozen=True)
class _Unsolved:
    """All that these rules may read of an analysis."""

    case: Case


@cache
def mounting_rules() -> tuple[Rule, ...]:
    """The rules that tell whether a die goes in: heights, plans, slots, pins, masses, forces."""
    return tuple(rule for rule in all_rules() if rule.trouble in _MOUNTING)


@cache
def other_rules() -> tuple[Rule, ...]:
    """The rules that need no solution either: hold-down, keys, ribs, stated force."""
    return tuple(rule for rule in all_rules() if rule.id in _OTHERS)


def mounting(case: Case) -> tuple[Finding, ...]:
    """Ask every rule of mounting that applies."""
    return _asked(mounting_rules(), case)


def unsolved(case: Case) -> tuple[Finding, ...]:
    """Ask every other rule that needs no solution and applies."""
    return _asked(other_rules(), case)


def _asked(rules: tuple[Rule, ...], case: Case) -> tuple[Finding, ...]:
    seen = cast(Analysis, _Unsolved(case))
    return tuple(finding for rule in rules if (finding := judge(rule, seen)) is not None)

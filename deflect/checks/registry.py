"""Checks as they are found in the families' folder, and their outcomes."""

from __future__ import annotations

import importlib
import math
import pkgutil
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import deflect.checks.families
from deflect.checks.check import Check, Row
from deflect.faults import DeflectError


@dataclass(frozen=True)
class Outcome:
    """A check, the family that it belongs to, and its rows once run."""

    family: str
    check: Check
    rows: tuple[Row, ...]

    @property
    def passed(self) -> bool:
        return bool(self.rows) and all(row.passed for row in self.rows)


@cache
def all_checks() -> tuple[tuple[str, Check], ...]:
    """Every check with its family's heading: families in their order, checks in the order of their files."""
    package = deflect.checks.families
    modules = [
        importlib.import_module(f"{package.__name__}.{info.name}") for info in pkgutil.iter_modules(package.__path__)
    ]
    found = [(m.HEADING, check) for m in sorted(modules, key=lambda m: (m.ORDER, m.__name__)) for check in m.CHECKS]
    ids = [check.id for _, check in found]
    twice = sorted({i for i in ids if ids.count(i) > 1})
    if twice:
        raise ValueError(f"two checks have the same id: {', '.join(twice)}")
    return tuple(found)


def run() -> Iterator[Outcome]:
    """Run every check, one after the other; one that breaks down has failed, and the others go on."""
    for family, check in all_checks():
        yield outcome_of(family, check)


def outcome_of(family: str, check: Check) -> Outcome:
    """Run one check."""
    try:
        return Outcome(family, check, check.run())
    except (DeflectError, ValueError, ArithmeticError, LookupError, RuntimeError) as fault:
        return Outcome(family, check, (Row(f"did not run: {fault}", math.nan, math.nan, 0.0),))

"""Rules, remedies and cautions as they are found in their folders."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from types import ModuleType

import deflect.cautions
import deflect.remedies
import deflect.rules
from deflect.findings import Caution, Remedy, Rule, Trouble


def _members(package: ModuleType, name: str) -> list[object]:
    modules = sorted(pkgutil.iter_modules(package.__path__), key=lambda info: info.name)
    return [getattr(importlib.import_module(f"{package.__name__}.{info.name}"), name) for info in modules]


@cache
def all_rules() -> tuple[Rule, ...]:
    """Every rule, in the order in which a die engineer asks."""
    order = {trouble: k for k, trouble in enumerate(Trouble)}
    rules = [r for r in _members(deflect.rules, "RULE") if isinstance(r, Rule)]
    return tuple(sorted(rules, key=lambda r: (order[r.trouble], r.id)))


@cache
def all_remedies() -> tuple[Remedy, ...]:
    """Every remedy, the quickest first."""
    remedies = [r for r in _members(deflect.remedies, "REMEDY") if isinstance(r, Remedy)]
    return tuple(sorted(remedies, key=lambda r: r.hours))


@cache
def all_cautions() -> tuple[Caution, ...]:
    """Every caution, in order."""
    cautions = [c for c in _members(deflect.cautions, "CAUTION") if isinstance(c, Caution)]
    return tuple(sorted(cautions, key=lambda c: c.order))

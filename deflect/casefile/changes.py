"""What is changed of a case file before it is read: a situation is a known case with a few other keys."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from deflect.casefile.document import Document
from deflect.casefile.kinds import CaseKind
from deflect.faults import CaseRefused


@dataclass(frozen=True)
class Changes:
    """Keys below [die] or [press].

    values: a table adds to that of the file, a list or a value takes its place; without: dotted keys, taken out first.
    """

    values: Mapping[str, Any] = field(default_factory=dict)
    without: tuple[str, ...] = ()

    def apply(self, document: Document, kind: CaseKind) -> None:
        """Change what was read of a document; raises CaseRefused where a key to be taken out is not there."""
        table = document.values[kind]
        for key in self.without:
            *above, last = key.split(".")
            parent = document.value((kind, *above))
            if not isinstance(parent, dict) or last not in parent:
                problem = "this key is to be taken out, and is not there"
                raise CaseRefused([document.fault((kind, *above, last), problem, "", "take it off the list")])
            del parent[last]
        _add(table, self.values)


AS_WRITTEN = Changes()


def _add(table: dict[str, Any], values: Mapping[str, Any]) -> None:
    for key, value in values.items():
        if isinstance(value, Mapping) and isinstance(table.get(key), dict):
            _add(table[key], value)
        else:
            table[key] = value

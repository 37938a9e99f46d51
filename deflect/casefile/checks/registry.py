"""Cross-checks that run as far as the parts they need could be read."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from deflect.casefile.parts.part import Objection

Subject = TypeVar("Subject")
Check = Callable[[Subject], Iterator[Objection]]


@dataclass
class Checks(Generic[Subject]):
    """The cross-checks of one subject, with the parts that each of them looks at."""

    entries: list[tuple[frozenset[str], Check[Subject]]] = field(default_factory=list)

    def needs(self, *parts: str) -> Callable[[Check[Subject]], Check[Subject]]:
        """Register a check that looks at these parts (dotted)."""

        def register(check: Check[Subject]) -> Check[Subject]:
            self.entries.append((frozenset(parts), check))
            return check

        return register

    def run(self, subject: Subject, readable: frozenset[str]) -> Iterator[Objection]:
        """All objections of the checks whose parts could be read."""
        for parts, check in self.entries:
            if parts <= readable:
                yield from check(subject)

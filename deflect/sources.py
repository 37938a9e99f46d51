"""Where a figure comes from, and how far it can be trusted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Tag(StrEnum):
    """How well a figure is founded."""

    GIVEN = "given in the case file"
    PUBLISHED = "published"
    DERIVED = "derived"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    OURS = "ours"


@dataclass(frozen=True)
class Source:
    """One source: what it is, and its tag."""

    text: str
    tag: Tag

    def __str__(self) -> str:
        return self.text if self.tag.value in self.text else f"{self.text} ({self.tag.value})"


GIVEN = Source("case file", Tag.GIVEN)
PRACTICE = Source("common practice, no source", Tag.PRACTICE)

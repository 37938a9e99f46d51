"""What a way to describe the land consists of."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from deflect.model.press import Land


@dataclass(frozen=True)
class LandKind:
    """One way to say how the bed carries the bolster.

    key: the key of [press.bed.land] that chooses it.  entry: what may be written there, as a
    pydantic annotation.  build: the written entry, read, → Land.  needs_acceptance: it works
    only with an allowed deflection.  example: a line of a case file.
    """

    key: str
    entry: Any
    build: Callable[[Any], Land]
    example: str
    needs_acceptance: bool = False

"""What a drawing is drawn with, so that drawings need not know the library behind it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from deflect.mechanics.arrays import Floats

BANDS = 8
"""Most bands of a coloured map: as many as can be told apart beside their numbers."""


@dataclass(frozen=True, eq=False)
class Bands:
    """Colours of a map in bands: colour map, norm, and the bands' edges."""

    colours: Any
    norm: Any
    edges: Floats


def _no_bands(values: Floats, zero: float | None = None) -> Bands:
    raise NotImplementedError


@dataclass(frozen=True, eq=False)
class Pen:
    """Inks of a drawing, and how it divides values into coloured bands."""

    ink: str
    dim: str
    paper: str
    soft: str
    banded: Callable[..., Bands] = _no_bands
    accent: str = "#0b7fab"
    alarm: str = "#d1495b"

"""Where the working force acts on the die.

on_return: share of a pattern's force that still acts as the slide begins to rise: a cut that is through
pushes no more, a pad or a spring does.  bottoms: the faces close solid on the sheet there, so that how the force
spreads follows from the faces, not from the pattern.
"""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.values import Rectangle


@dataclass(frozen=True)
class Patch:
    """Even pressure on a rectangle of the die's face (die axes); share of the table force."""

    share: float
    area: Rectangle
    name: str = ""
    on_return: float = 1.0
    bottoms: bool = False


@dataclass(frozen=True)
class Ring:
    """Even pressure between two rectangles (die axes); share of the table force."""

    share: float
    outer: Rectangle
    inner: Rectangle
    name: str = ""
    on_return: float = 1.0
    bottoms: bool = False


@dataclass(frozen=True)
class Line:
    """Even force per length along a polyline ((x, y), ...) in die axes, mm; share of the table force."""

    share: float
    points: tuple[tuple[float, float], ...]
    name: str = ""
    on_return: float = 1.0
    bottoms: bool = False


Pattern = Patch | Ring | Line

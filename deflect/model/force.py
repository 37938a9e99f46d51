"""Where the working force acts on the die."""

from __future__ import annotations

from dataclasses import dataclass

from deflect.model.values import Rectangle


@dataclass(frozen=True)
class Patch:
    """Even pressure on a rectangle of the die's face (die axes); share of the table force."""

    share: float
    area: Rectangle
    name: str = ""


@dataclass(frozen=True)
class Ring:
    """Even pressure between two rectangles (die axes); share of the table force."""

    share: float
    outer: Rectangle
    inner: Rectangle
    name: str = ""


@dataclass(frozen=True)
class Line:
    """Even force per length along a polyline ((x, y), ...) in die axes, mm; share of the table force."""

    share: float
    points: tuple[tuple[float, float], ...]
    name: str = ""


Pattern = Patch | Ring | Line

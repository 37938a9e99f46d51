"""Small values that the rest of the model is made of."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Interval:
    """A figure that is never known exactly: lowest, usual and highest value, in one unit."""

    low: float
    nominal: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.nominal <= self.high:
            raise ValueError(f"an interval needs low <= nominal <= high, got {self}")

    @staticmethod
    def exactly(value: float) -> Interval:
        return Interval(value, value, value)

    @property
    def is_exact(self) -> bool:
        return self.low == self.high

    def scaled(self, factor: float) -> Interval:
        """Every value times a factor that is not negative."""
        return Interval(factor * self.low, factor * self.nominal, factor * self.high)


EVEN = Interval.exactly(0.0)
"""A body of one temperature: its top is no warmer than its underside, K."""


@dataclass(frozen=True)
class Rectangle:
    """A rectangle in plan, mm: centre (x, y), length along x, width along y."""

    x: float
    y: float
    length: float
    width: float

    @property
    def left(self) -> float:
        return self.x - self.length / 2

    @property
    def right(self) -> float:
        return self.x + self.length / 2

    @property
    def front(self) -> float:
        return self.y - self.width / 2

    @property
    def back(self) -> float:
        return self.y + self.width / 2

    @property
    def area(self) -> float:
        return self.length * self.width

    def contains(self, other: Rectangle, slack: float = 1e-6) -> bool:
        """Whether ``other`` lies within this rectangle (slack in mm covers round-off)."""
        return (
            self.left - slack <= other.left
            and other.right <= self.right + slack
            and self.front - slack <= other.front
            and other.back <= self.back + slack
        )


@dataclass(frozen=True)
class StatedInput:
    """One input as the reader of a report should see it: where it stands, its value, its origin."""

    key: str
    shown: str
    origin: str
    is_default: bool

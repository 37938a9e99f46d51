"""What every part of a case file shares."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict

from deflect.casefile.fields import Figure, Spread
from deflect.casefile.locator import Path
from deflect.model.values import Interval, Rectangle
from deflect.sources import Source
from deflect.units import LENGTH, TEMPERATURE_DIFFERENCE

Derived = dict[Path, tuple[str, Source]]
"""Values that follow from others where they are not given: place within the part, as shown, source."""


class Part(BaseModel):
    """A table of a case file. Unknown keys are refused; defaults are read like what is written."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=True, arbitrary_types_allowed=True)

    def derived(self) -> Derived:
        """The values that this part works out itself, for the table of inputs."""
        return {}


def beneath(key: str, derived: Derived) -> Derived:
    """The same derived values seen from one table higher."""
    return {(key, *path): value for path, value in derived.items()}


Coordinate = Annotated[float, Figure("place from the centre, x to the right, y to the back", LENGTH, "-10 m", "10 m")]
Extent = Annotated[float, Figure("extent in plan", LENGTH, "1 mm", "20 m")]


TopWarmer = Annotated[
    Interval,
    Spread("how much warmer the top is than the underside", TEMPERATURE_DIFFERENCE, "-100 K", "100 K"),
]


class Spot(Part):
    """A place in plan."""

    x: Coordinate
    y: Coordinate


Spots = tuple[tuple[Coordinate, Coordinate], ...]
"""Places in plan, each as [x, y]."""


class Area(Part):
    """A rectangle in plan: its centre, length along x and width along y."""

    x: Coordinate
    y: Coordinate
    length: Extent
    width: Extent

    def build(self) -> Rectangle:
        return Rectangle(self.x, self.y, self.length, self.width)


@dataclass(frozen=True)
class Objection:
    """What a cross-check finds wrong, and at which place of the file."""

    path: Path
    problem: str
    allowed: str
    remedy: str


def shape_tag(forms: dict[type, str]) -> Any:
    """A function that names the form of an entry by the type of what is written or read."""

    def tag(value: Any) -> str | None:
        return next((name for form, name in forms.items() if isinstance(value, form)), None)

    return tag

"""The land's stiffness is given: measured, calibrated or taken from the maker."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Spread
from deflect.casefile.lands.kind import LandKind
from deflect.model.press import Land
from deflect.model.values import Interval
from deflect.units import LAND_STIFFNESS

Stiffness = Annotated[
    Interval,
    Spread("stiffness of the bed below the land, per area of land", LAND_STIFFNESS, "1 N/mm3", "1000 N/mm3"),
]


def build(stiffness: Interval) -> Land:
    return Land(stiffness, "stiffness of the land given in the press file")


KIND = LandKind("stiffness", Stiffness, build, 'stiffness = "20 to 100 N/mm3"')

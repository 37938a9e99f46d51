"""Plates with ribs on one side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from deflect.checks.check import Check, Row
from deflect.mechanics.sections import PlateSection
from deflect.mechanics.sections.ribbed import Core, Skin, core_section
from deflect.model.material import Material
from deflect.model.ribs import RibPattern, Ribs
from deflect.sources import Source, Tag

ORDER, HEADING = 55, "Ribbed sections"
# Pieces of a pitch; the ribs of the checks end between two of them.
_PIECES = 1000
_SECTION = "deflect.mechanics.sections.ribbed.core_section"


@dataclass(frozen=True)
class Tee:
    """A plate with ribs one way on one side, mm."""

    plate: float
    pitch: float
    height: float
    rib: float

    @property
    def middle(self) -> float:
        """Of one pitch, from the ribs' feet, mm."""
        first = self.rib * self.height**2 / 2 + self.pitch * self.plate * (self.height + self.plate / 2)
        return first / (self.rib * self.height + self.pitch * self.plate)

    @property
    def inertia(self) -> float:
        """Of one pitch about its middle, mm4: of each rectangle about its own middle, and Steiner's part."""
        parts = ((self.rib, self.height, self.height / 2), (self.pitch, self.plate, self.height + self.plate / 2))
        return sum(b * h**3 / 12 + b * h * (place - self.middle) ** 2 for b, h, place in parts)

    def section(self) -> PlateSection:
        """Of the production code, of a material without Poisson's effect and with a modulus of 1."""
        material = Material("unit", 1.0, 0.0, 1e-6, 100.0)
        pattern = RibPattern(self.plate, 0.0, self.rib, Ribs(self.pitch, self.rib), None)
        core = Core((self.rib, 0.0), (self.pitch, float("inf")))
        return core_section(self.plate + self.height, material, pattern, core, Skin.plain(material))


def _along(tee: Tee, printed: str) -> Sequence[Row]:
    section = tee.section()
    return (Row("inertia per pitch, mm4", tee.inertia, float(section.bending[0, 0]) * tee.pitch, 1e-9, printed),)


def _across(tee: Tee) -> Sequence[Row]:
    """One pitch of a strip under a unit moment, its curvature added up piece by piece: over a rib it is as thick as
    plate and rib together."""
    place = (np.arange(_PIECES) + 0.5) * tee.pitch / _PIECES
    thickness = np.where(place < tee.rib, tee.plate + tee.height, tee.plate)
    exact = 1 / float((12 / thickness**3).mean())
    return (Row("stiffness across the ribs over E, mm3", exact, float(tee.section().bending[1, 1]), 1e-9),)


_FIRST, _SECOND = Tee(40.0, 200.0, 300.0, 30.0), Tee(50.0, 250.0, 350.0, 40.0)

CHECKS = (
    Check(
        "O02",
        "A plate with T-ribs one way on one side bends along them as the composite section does.",
        Source("Steiner's theorem; the same by the finite elements of sectionproperties 3.10.2", Tag.DERIVED),
        _SECTION,
        "Exact but for round-off, without Poisson's effect; printed are the digits of that program.",
        {
            "40 mm, ribs 300 x 30 every 200 mm": partial(_along, _FIRST, "1.909667e8"),
            "50 mm, ribs 350 x 40 every 250 mm": partial(_along, _SECOND, "4.096718e8"),
        },
    ),
    Check(
        "O03",
        "Across its ribs such a plate is little stiffer than without them.",
        Source("S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 1959, section 86", Tag.MEMORY),
        _SECTION,
        "Exact but for round-off: the code takes the book's view of a rib's foot.",
        {"40 mm, ribs 300 x 30 every 200 mm": partial(_across, _FIRST),
         "50 mm, ribs 350 x 40 every 250 mm": partial(_across, _SECOND)},
    ),
)  # fmt: skip

"""Plates with a square pattern of round holes: where there are none.  Slot's constants are among the checks."""

from __future__ import annotations

import pytest

from deflect.mechanics.sections import perforated_section, slot_constants, solid_section
from deflect.model.material import Material

NU = 0.3
STEEL = Material("steel", 210_000.0, NU, 7.85e-6, 120.0)


def test_no_holes_are_a_solid_slab() -> None:
    assert slot_constants(1.0) == pytest.approx((1.0, NU, 1.0))
    holes, solid = perforated_section(200.0, STEEL, 150.0, 1e-9), solid_section(200.0, STEEL)
    assert holes.bending == pytest.approx(solid.bending, rel=1e-6)
    assert holes.shear == pytest.approx(solid.shear, rel=1e-6)
    assert holes.mass == pytest.approx(solid.mass, rel=1e-6)

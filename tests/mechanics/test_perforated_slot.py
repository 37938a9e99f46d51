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


def test_ligaments_raise_the_stress_and_poissons_ratio_scales() -> None:
    """Holes of 90 mm every 150 leave 0.4 of the pitch; nu* goes with the material's own."""
    holes = perforated_section(300.0, STEEL, 150.0, 90.0)
    assert holes.ligament == pytest.approx(0.4)
    assert solid_section(300.0, STEEL).ligament == 1.0
    iron = Material("iron", 110_000.0, 0.24, 7.2e-6, 120.0)
    bending = perforated_section(300.0, iron, 150.0, 90.0).bending
    # The table prints 0.2365 for 0.3.
    assert bending[0, 1] / bending[0, 0] == pytest.approx(0.2365 * 0.24 / 0.3, rel=1e-3)

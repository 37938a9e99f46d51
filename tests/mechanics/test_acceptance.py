"""The acceptance test's reading: a sag is what lies below the chord between the ends, wherever and however they stand.

By its definition alone: tables are moved as quadratic surfaces, which their elements carry exactly.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from deflect.faults import MechanicsFailed
from deflect.mechanics.acceptance import Sag, measure_sag, reference
from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import condense_table
from deflect.model.material import Material
from deflect.model.press import Acceptance, Bed, Bolster, Land, Press
from deflect.model.values import Interval, Rectangle

STEEL = Material("steel", 206_000.0, 0.3, 7.85e-6, 120.0)
NONE = Interval.exactly(0.0)
# Off the middle of the bolster both ways.
OPENING = Rectangle(150.0, -100.0, 1000.0, 600.0)
PRESS = Press(
    "check",
    1e6,
    Bolster(2400.0, 1400.0, 100.0, 0.0, STEEL),
    Bed(OPENING, Land(Interval.exactly(np.inf), "rigid")),
    Acceptance(1 / 6000, 0.6, 1200.0, 800.0),
    None,
    NONE,
    NONE,
    None,
)
# Bowl, tilts both ways, and sinking: mm by mm from the opening's middle.
BOWL_X, BOWL_Y, TILT_X, TILT_Y, SUNK = 3e-7, 5e-7, 2e-4, -3e-4, 0.7


def bowl(x: Floats, y: Floats) -> Floats:
    x, y = x - OPENING.x, y - OPENING.y
    return BOWL_X * x**2 + BOWL_Y * y**2 + TILT_X * x + TILT_Y * y - SUNK


def read(press: Press, surface: Callable[[Floats, Floats], Floats] = bowl) -> Sag:
    """The sag of a table whose every node is moved to ``surface``; its sections do not turn, so that it stays as thick
    as it is."""
    table = condense_table(press.bolster, press.bed.opening, 200.0)
    x, y = table.plate.basis.doflocs
    deflection = np.zeros(x.size, dtype=bool)
    for row, dofs in enumerate(table.plate.basis.dofs.element_dofs):
        deflection[dofs] = row % 3 == 0
    return measure_sag(table, np.where(deflection, surface(x, y), 0.0), press)


def test_sag_is_read_from_the_chord_about_the_middle_of_the_opening() -> None:
    sag = read(PRESS)
    assert (sag.reference_length, sag.reference_width) == pytest.approx((1200.0, 800.0))
    assert sag.along_x == pytest.approx(BOWL_X * 600.0**2, rel=1e-9)
    assert sag.along_y == pytest.approx(BOWL_Y * 400.0**2, rel=1e-9)
    ends = (BOWL_X * 600.0**2 + BOWL_Y * 400.0**2) / 2
    assert sag.sinking == pytest.approx(SUNK - ends, rel=1e-9)
    assert sag.slope == pytest.approx(BOWL_Y * 400.0**2 / 800.0, rel=1e-9)


def test_a_table_that_only_sinks_and_tilts_does_not_sag() -> None:
    sag = read(PRESS, lambda x, y: 2e-3 * x - 1e-3 * y - 0.4)
    assert (sag.along_x, sag.along_y) == pytest.approx((0.0, 0.0), abs=1e-12)
    # The ends stand about the opening's middle, which is not the bolster's.
    assert sag.sinking == pytest.approx(0.4 - 2e-3 * OPENING.x + 1e-3 * OPENING.y, rel=1e-9)


def test_without_an_acceptance_test_the_opening_is_the_reference() -> None:
    press = replace(PRESS, acceptance=None)
    assert reference(press) == (1000.0, 600.0)
    sag = read(press)
    assert (sag.reference_length, sag.reference_width) == pytest.approx((1000.0, 600.0))
    assert sag.along_x == pytest.approx(BOWL_X * 500.0**2, rel=1e-9)


def test_the_reference_ends_where_the_bolster_does() -> None:
    """A reference longer than the table is shortened about the opening's middle, at both ends alike."""
    sag = read(replace(PRESS, acceptance=Acceptance(1 / 6000, 0.6, 3000.0, 1800.0)))
    half_x, half_y = 1200.0 - OPENING.x, 700.0 + OPENING.y
    assert (sag.reference_length, sag.reference_width) == pytest.approx((2 * half_x, 2 * half_y))
    assert sag.along_x == pytest.approx(BOWL_X * half_x**2, rel=1e-9)
    assert sag.along_y == pytest.approx(BOWL_Y * half_y**2, rel=1e-9)


def test_what_lies_over_a_cut_out_is_not_read() -> None:
    """The chord begins at the first point on material: the sag is that of the parabola over what is left."""
    cut_out = Rectangle(OPENING.x - 500.0, OPENING.y, 400.0, 100.0)
    sag = read(replace(PRESS, bolster=replace(PRESS.bolster, openings=(cut_out,))))
    # From 600 mm left of the middle up to 300 there is nothing to read: 900 mm are left.
    assert sag.reference_length == pytest.approx(900.0)
    assert sag.along_x == pytest.approx(BOWL_X * 450.0**2, rel=1e-9)
    assert sag.along_y == pytest.approx(BOWL_Y * 400.0**2, rel=1e-9)


def test_a_line_over_a_cut_out_is_refused() -> None:
    cut_out = Rectangle(OPENING.x, OPENING.y, 1300.0, 100.0)
    with pytest.raises(MechanicsFailed, match=r"reference_length and reference_width against the cut-outs"):
        read(replace(PRESS, bolster=replace(PRESS.bolster, openings=(cut_out,))))

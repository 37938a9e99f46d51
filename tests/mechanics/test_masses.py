"""Centre of mass of a half, against moments by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deflect.casefile import read_case
from deflect.mechanics.masses import lower_mass, plan_centre, upper_mass
from deflect.model.die import DieBase, Step
from deflect.model.material import Material
from deflect.model.ribs import RibPattern, Ribs
from deflect.model.values import Rectangle

IRON = Material("iron", 110e3, 0.26, 7.2e-6, 40.0)


def test_a_step_on_one_side_draws_the_centre_to_it() -> None:
    """Block 2000 x 1000 x 200 with 100 mm more on its right quarter: x = 0.5e8 x 750 / (4e8 + 0.5e8)."""
    step = Step(Rectangle(750.0, 0.0, 500.0, 1000.0), 300.0)
    base = DieBase(2000.0, 1000.0, 200.0, IRON, steps=(step,))
    assert plan_centre(base) == (pytest.approx(0.5e8 * 750 / 4.5e8), 0.0)
    assert base.mass == pytest.approx(4.5e8 * 7.2e-6)


def test_a_pad_of_a_ribbed_base_counts_by_what_it_fills() -> None:
    """A pad in one cell of four: its hollow, 450 x 450 less nothing, over the core of 140 mm."""
    row = Ribs(500.0, 20.0)
    ribs = RibPattern(40.0, 20.0, 20.0, row, row, pads=(Rectangle(250.0, 250.0, 300.0, 300.0),))
    base = DieBase(1020.0, 1020.0, 200.0, IRON, ribs=ribs)
    x, y = plan_centre(base)
    volume = base.mass / IRON.density
    assert x == pytest.approx(300 * 300 * 140 * 250 / volume, rel=1e-12)
    assert x == y


def test_halves_of_a_demo_die() -> None:
    die = read_case("willow-cast-trim", "cedar-8mn").die
    lower, upper = lower_mass(die), upper_mass(die)
    above = die.lower.mass - die.base.mass
    middle = (die.base.thickness + die.lower.height) / 2
    by_hand = (die.base.mass * die.base.centre_height + above * middle) / die.lower.mass
    assert lower.height == pytest.approx(by_hand, rel=1e-12)
    assert (upper.height, upper.sure) == (die.upper.height / 2, 0.0)
    heavier = replace(die, lower=replace(die.lower, mass=2 * die.lower.mass))
    assert lower_mass(heavier).height > lower.height

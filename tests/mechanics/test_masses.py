"""Centre of mass of a half, against moments by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deflect.casefile import read_case
from deflect.mechanics.masses import lower_mass, plan_centre, upper_mass
from deflect.model.die import Block, DieBase, Half, Step
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
    base, half = die.upper.base, die.upper
    assert base is not None
    # The upper half hangs: heights count from its face, its base from the slide.
    rest = half.mass - base.mass
    over_back = (base.mass * base.centre_height + rest * (base.thickness + half.height) / 2) / half.mass
    assert upper.height == pytest.approx(half.height - over_back, rel=1e-12)
    assert upper.sure == pytest.approx(base.mass / half.mass, rel=1e-12)
    unknown = upper_mass(replace(die, upper=replace(half, base=None)))
    assert (unknown.height, unknown.sure) == (half.height / 2, 0.0)
    heavier = replace(die, lower=replace(die.lower, mass=2 * die.lower.mass))
    assert lower_mass(heavier).height > lower.height


def test_blocks_draw_the_centre_to_where_they_stand() -> None:
    """Base 2000 x 1000 x 200 of 2880 kg, a punch of 1000 kg on its right and 500 kg of which nothing is stated, both
    from 200 to 600 mm: moments by hand."""
    die = read_case("willow-cast-trim", "cedar-8mn").die
    base = DieBase(2000.0, 1000.0, 200.0, IRON)
    punch = Block(Rectangle(400.0, -100.0, 600.0, 400.0), 200.0, 600.0, 1000.0)
    half = Half(600.0, 4380.0, False, blocks=(punch,))
    lower = lower_mass(replace(die, base=base, lower=half))
    assert lower.x == pytest.approx(1000 * 400 / 4380)
    assert lower.y == pytest.approx(-1000 * 100 / 4380)
    assert lower.height == pytest.approx((2880 * 100 + 1000 * 400 + 500 * 400) / 4380)
    assert lower.sure == pytest.approx(3880 / 4380)
    upper = upper_mass(replace(die, upper=replace(half, base=base)))
    assert upper.height == pytest.approx(600 - lower.height)

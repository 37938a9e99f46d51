"""The blank holder in a die file."""

from __future__ import annotations

from deflect.casefile import read_die


def test_the_draw_die_states_its_blank_holder() -> None:
    holder = read_die("hazel-draw").blank_holder
    assert holder is not None
    assert (holder.length, holder.width, holder.ring, holder.thickness) == (2000.0, 1000.0, 220.0, 160.0)
    assert holder.girth == 6000.0
    assert holder.material.youngs_modulus == 174_000.0


def test_a_die_without_one_says_nothing() -> None:
    assert read_die("maple-restrike").blank_holder is None

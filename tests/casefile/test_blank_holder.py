"""The blank holder in a die file."""

from __future__ import annotations

import pytest
from case_bench import DIE, Bench

from deflect.casefile import read_die
from deflect.model.ring import RingRibs

HOLDER = """\
[die.blank_holder]
length = "1200 mm"
width = "700 mm"
ring = "160 mm"
thickness = "120 mm"
material = "ductile iron GJS-600-3"
ribs = {skin = "50 mm", walls = "40 mm", pitch = "300 mm", thickness = "35 mm"}
"""


def test_the_draw_die_states_its_blank_holder() -> None:
    holder = read_die("hazel-draw").blank_holder
    assert holder is not None
    assert (holder.length, holder.width, holder.ring, holder.thickness) == (2000.0, 1000.0, 220.0, 160.0)
    assert holder.girth == 6000.0
    assert holder.material.youngs_modulus == 174_000.0


def test_a_die_without_one_says_nothing() -> None:
    assert read_die("maple-restrike").blank_holder is None


def test_a_ring_with_ribs_is_read(bench: Bench) -> None:
    bench.die.write_text(DIE + HOLDER, encoding="utf-8")
    holder = read_die(bench.die).blank_holder
    assert holder is not None
    assert holder.ribs == RingRibs(50.0, 40.0, 300.0, 35.0, thinnest=30.0)
    assert holder.told == "skin 50, walls 40, ribs 35 mm every 300 mm"


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ('"40 mm"', '"75 mm"', "between its walls"),
        ('"50 mm"', '"110 mm"', "below its skin"),
        ('"300 mm"', '"50 mm"', "between its ribs"),
    ],
)
def test_a_ring_without_a_hollow_is_refused(bench: Bench, old: str, new: str, where: str) -> None:
    bench.die.write_text(DIE + HOLDER.replace(old, new), encoding="utf-8")
    (fault,) = bench.die_faults()
    assert fault.key == "die.blank_holder.ribs"
    assert fault.problem == f"the ring has no hollow {where}"


@pytest.mark.parametrize("ring", ["700 mm", "900 mm"])
def test_a_ring_without_an_opening_is_refused(bench: Bench, ring: str) -> None:
    bench.die.write_text(DIE + HOLDER.replace('"160 mm"', f'"{ring}"'), encoding="utf-8")
    (fault,) = bench.die_faults()
    assert fault.key == "die.blank_holder.ring"
    assert "leaves no opening within a middle line of 1200 mm by 700 mm" in fault.problem


def test_a_pin_told_twice_is_refused(bench: Bench) -> None:
    """Two pins at one place would carry twice what a pin does."""
    pins = 'cushion_pins = [["-600 mm", "0 mm"], ["600 mm", "0 mm"], ["-600 mm", "0 mm"]]'
    bench.spoil(bench.die, 'name = "Test die"', f'name = "Test die"\n{pins}')
    (fault,) = bench.die_faults()
    assert fault.key == "die.cushion_pins[3]"
    assert "where pin 1 stands" in fault.problem

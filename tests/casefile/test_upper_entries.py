"""Slide, upper half and blank holder in case files: what is read, and what is refused."""

from __future__ import annotations

import pytest
from case_bench import DIE, PRESS, Bench

from deflect.casefile import read_die, read_press
from deflect.model.die import Die
from deflect.model.press import Press
from deflect.model.ring import Wanted

SLIDE = """
[press.slide]
length = "3800 mm"
width = "2000 mm"

[press.slide.body]
thickness = "800 mm"
material = "steel S355"
points = [["-900 mm", "0 mm"], ["900 mm", "0 mm"]]
"""
GUIDES = """
[press.slide.body.guides]
stiffness = "300 kN/mm"
length = "800 mm"
above = "600 mm"
"""
UPPER = """
[die.upper.base]
length = "2600 mm"
width = "1400 mm"
thickness = "300 mm"
material = "ductile iron GJS-600-3"
"""
HOLDER = """
[die.blank_holder]
length = "1400 mm"
width = "900 mm"
ring = "150 mm"
thickness = "120 mm"
material = "ductile iron GJS-600-3"
"""
SPRINGS = """
[[die.blank_holder.springs]]
x = "-700 mm"
y = "0 mm"
force = "150 kN"

[[die.blank_holder.springs]]
x = "700 mm"
y = "0 mm"
force = "100 kN"
"""


def press_of(bench: Bench, text: str) -> Press:
    bench.press.write_text(text, encoding="utf-8")
    return read_press(bench.press)


def die_of(bench: Bench, text: str) -> Die:
    bench.die.write_text(text, encoding="utf-8")
    return read_die(bench.die)


def test_a_slide_is_read_with_its_defaults(bench: Bench) -> None:
    press = press_of(bench, PRESS + SLIDE + GUIDES)
    assert press.slide is not None
    body = press.slide.body
    assert body is not None
    assert body.points == ((-900.0, 0.0), (900.0, 0.0))
    assert (body.stiffness.low, body.stiffness.nominal, body.stiffness.high) == (2e6, 4e6, 8e6)
    assert body.mass == pytest.approx(3800 * 2000 * 800 * 7.85e-6)
    assert body.guides is not None
    # K = n k h^2 / 4, by hand.
    assert body.guides.tilt_stiffness == pytest.approx(4 * 3e5 * 800**2 / 4)


def test_an_upper_base_gives_the_upper_half_its_plan(bench: Bench) -> None:
    die = die_of(bench, DIE + UPPER)
    assert die.upper.base is not None
    assert (die.upper_plan.length, die.upper_plan.width) == (2600.0, 1400.0)


def test_faces_bottom_where_nothing_cuts(bench: Bench) -> None:
    assert [p.bottoms for p in die_of(bench, DIE).patterns] == [True]
    assert [p.bottoms for p in die_of(bench, DIE.replace('"form"', '"trim"')).patterns] == [False]
    stated = DIE.replace('kind = "patch"', 'kind = "patch"\nbottoms = false')
    assert [p.bottoms for p in die_of(bench, stated).patterns] == [False]


def test_a_blank_holder_on_springs_is_read(bench: Bench) -> None:
    wanted = HOLDER + 'wanted = {left = "60 %", right = "60 %"}\nleast_force = "200 kN"\n' + SPRINGS
    holder = die_of(bench, DIE + wanted).blank_holder
    assert holder is not None
    assert holder.carried is not None
    assert holder.carried.wanted == Wanted(left=0.6, right=0.6)
    assert holder.carried.springs is not None
    assert holder.carried.springs.total == 250e3
    assert not holder.carried.springs.coupled


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (GUIDES, "", "cannot keep the slide upright"),
        ('"900 mm", "0 mm"]]', '"1800 mm", "0 mm"]]', "reaches beyond the slide"),
        ('length = "3800 mm"\n', "", "but no length"),
    ],
)
def test_a_slide_that_cannot_be_is_refused(bench: Bench, old: str, new: str, told: str) -> None:
    bench.press.write_text((PRESS + SLIDE + GUIDES).replace(old, new, 1), encoding="utf-8")
    assert any(told in fault.problem for fault in bench.press_faults())


def test_upper_clamps_beside_the_slide_are_refused(bench: Bench) -> None:
    clamps = '[[die.upper.clamps]]\nx = "1250 mm"\ny = "0 mm"\nforce = "60 kN"\n'
    bench.die.write_text(DIE + UPPER + clamps, encoding="utf-8")
    small = SLIDE.replace('"3800 mm"', '"2400 mm"')
    bench.press.write_text(PRESS + small + GUIDES, encoding="utf-8")
    assert any("beside the slide" in fault.problem for fault in bench.case_faults())


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (UPPER.replace('"300 mm"', '"600 mm"'), "thicker than its half is high"),
        (UPPER.replace('"2600 mm"', '"600 mm"'), "reaches beyond the upper base"),
        (HOLDER + "springs_coupled = true\n" + SPRINGS, "one pressure, but their forces differ"),
        (HOLDER + 'spring_limit = "120 kN"\n' + SPRINGS, "set higher than a spring may be"),
        (HOLDER + 'pin_heights = ["0 mm"]\n', "1 heights are given for 0 cushion pins"),
    ],
)
def test_an_upper_half_or_holder_that_cannot_be_is_refused(bench: Bench, more: str, told: str) -> None:
    bench.die.write_text(DIE + more, encoding="utf-8")
    assert any(told in fault.problem for fault in bench.die_faults())


def test_every_spring_that_cannot_be_is_told_at_its_own_line(bench: Bench) -> None:
    """Two that are set too high, and forces that differ on one line: three mistakes, not the first of them."""
    holder = HOLDER + 'springs_coupled = true\nspring_limit = "20 kN"\n' + SPRINGS
    bench.die.write_text(DIE + holder, encoding="utf-8")
    faults = bench.die_faults()
    springs = (DIE + holder).count("x = ", (DIE + holder).index(SPRINGS))
    told = [fault.key for fault in faults]
    assert told.count("die.blank_holder.springs_coupled") == 1
    high = [key for key in told if key.startswith("die.blank_holder.springs[")]
    assert len(high) == len(set(high)) == springs
    assert all("20 kN" in fault.allowed for fault in faults if fault.key in high)


@pytest.mark.parametrize(
    ("mass", "told"), [("500 kg", "far below that of its section"), ("299 t", "a solid block of its size")]
)
def test_the_mass_of_a_slide_is_that_of_its_size(bench: Bench, mass: str, told: str) -> None:
    body = SLIDE.replace("[press.slide.body]\n", f'[press.slide.body]\nmass = "{mass}"\n')
    bench.press.write_text(PRESS + body + GUIDES, encoding="utf-8")
    (fault,) = bench.press_faults()
    assert fault.key == "press.slide.body.mass"
    assert told in fault.problem


def test_a_point_of_the_slide_told_twice_is_refused(bench: Bench) -> None:
    assert '["900 mm", "0 mm"]]' in SLIDE
    body = SLIDE.replace('["900 mm", "0 mm"]]', '["900 mm", "0 mm"], ["900 mm", "0 mm"]]')
    bench.press.write_text(PRESS + body + GUIDES, encoding="utf-8")
    (fault,) = bench.press_faults()
    assert fault.key == "press.slide.body.points[3]"
    assert "where point 2 stands" in fault.problem


def test_slots_of_the_slide_leave_a_floor_in_its_face_plate(bench: Bench) -> None:
    """A slab of 900 mm has room for slots 65 mm deep, a face plate of 80 mm has not."""
    slots = '[press.slide]\nt_slots = {width = "36 mm", pitch = "200 mm", direction = "y", depth = "65 mm"}\n'
    slotted = SLIDE.replace("[press.slide]\n", slots)
    assert press_of(bench, f"{PRESS}{slotted}{GUIDES}").slide is not None
    ribs = (
        '[press.slide.body.ribs]\ntop = "50 mm"\nbottom = "80 mm"\nouter_walls = "40 mm"\n'
        'along_x = {pitch = "400 mm", thickness = "30 mm"}\nalong_y = {pitch = "400 mm", thickness = "30 mm"}\n'
    )
    bench.add(bench.press, ribs)
    (fault,) = bench.press_faults()
    assert fault.key == "press.slide.t_slots.depth"
    assert "face plate of 80 mm" in fault.problem
    assert "up to 56 mm" in fault.allowed

"""Ribs, steps and slots in case files: what is read, what is refused."""

from __future__ import annotations

import pytest
from case_bench import Bench

from deflect.casefile import read_die, read_press
from deflect.model.ribs import THINNEST_CAST, THINNEST_WELDED

ROWS = 'along_x = {pitch = "300 mm", thickness = "40 mm"}\nalong_y = {pitch = "400 mm", thickness = "50 mm"}\n'
RIBS = f'[die.base.ribs]\ntop = "60 mm"\nouter_walls = "50 mm"\n{ROWS}'
BOX = f'[press.bolster.ribs]\ntop = "60 mm"\nbottom = "50 mm"\nouter_walls = "40 mm"\n{ROWS}'


def test_ribs_of_a_base_are_read(bench: Bench) -> None:
    bench.add(bench.die, RIBS)
    die = read_die(bench.die)
    ribs = die.base.ribs
    assert ribs is not None
    assert ribs.is_open
    assert (ribs.top, ribs.walls, ribs.thinnest) == (60.0, 50.0, THINNEST_CAST)
    assert ribs.along_x is not None
    # 1450 mm between the middles of the walls: five bays of 290 mm.
    assert ribs.along_x.places(1500.0, 50.0) == pytest.approx((-435.0, -145.0, 145.0, 435.0))
    assert die.lower.base_mass == die.base.mass < 0.5 * die.base.solid.mass
    assert {one.key for one in die.inputs} >= {"die.base.ribs.top", "die.base.ribs.along_x.pitch"}


def test_ribs_of_a_bolster_are_read_and_weighed(bench: Bench) -> None:
    bench.add(bench.press, BOX)
    press = read_press(bench.press)
    ribs = press.bolster.ribs
    assert ribs is not None
    assert not ribs.is_open
    assert ribs.thinnest == THINNEST_WELDED
    skins = 4000.0 * 2200.0 * 110.0 * 7.85e-6
    assert skins < press.bolster.mass < 4000.0 * 2200.0 * 220.0 * 7.85e-6


def test_steps_are_read_and_weighed(bench: Bench) -> None:
    bench.spoil(
        bench.die,
        'thickness = "320 mm"',
        'thickness = "320 mm"\n'
        'steps = [{x = "0 mm", y = "0 mm", length = "1 m", width = "500 mm", thickness = "420 mm"}]',
    )
    base = read_die(bench.die).base
    more = 1000.0 * 500.0 * 100.0
    volume = base.plan.area * 320.0 + more
    assert base.mass == pytest.approx(volume * base.material.density)
    assert base.centre_height == pytest.approx((base.plan.area * 320.0 * 160.0 + more * 370.0) / volume)


PAD = '{x = "AT mm", y = "0 mm", length = "300 mm", width = "300 mm"}'
OFF, ONE, TWO = (PAD.replace("AT", at) for at in ("1400", "0", "100"))

# What is written instead, and where it is refused and how; no place: it is taken.
DIE = [
    ('top = "60 mm"', 'top = "310 mm"', "top", "leave no hollow", "300 mm together", "total height"),
    ('"50 mm"\nalong_x', '"500 mm"\nalong_x', "", "", "", ""),
    ('outer_walls = "50 mm"', 'outer_walls = "745 mm"', "outer_walls", "too large", "500 mm", "check"),
    ('thickness = "40 mm"', 'thickness = "280 mm"', "along_x", "leave no hollow between", "thinner than", "pitch"),
    ('pitch = "300 mm"', 'pitch = "60 mm"', "along_x", "the outermost rib, 60 mm from", "65 mm or more", "outer_walls"),
    (ROWS, "", "along_x", "no rib stands between the outer walls along_x and along_y", "one way at least", "give"),
    ("outer_walls", 'bottom = "40 mm"\nouter_walls', "", "", "", ""),
    ('pitch = "400 mm"', 'pitch = "2 m"', "", "", "", ""),
    (ROWS, f"{ROWS}pads = [{OFF}]\n", "pads[1]", "reaches beyond the body", "x -1400 to 1400", "check its place"),
    (ROWS, f"{ROWS}pads = [{ONE}, {TWO}]\n", "pads[2]", "the pad overlaps pad 1", "do not overlap", "join"),
]


@pytest.mark.parametrize(("old", "new", "key", "problem", "allowed", "remedy"), DIE)
def test_ribs_of_a_base_refused(
    bench: Bench, old: str, new: str, key: str, problem: str, allowed: str, remedy: str
) -> None:
    bench.add(bench.die, RIBS.replace(old, new, 1))
    if not key:
        assert read_die(bench.die).base.ribs is not None
        return
    fault = next(fault for fault in bench.die_faults() if fault.key == f"die.base.ribs.{key}")
    assert problem in fault.problem
    assert allowed in fault.allowed
    assert remedy in fault.remedy


def test_a_box_needs_ribs_both_ways(bench: Bench) -> None:
    one_way = BOX.replace('along_y = {pitch = "400 mm", thickness = "50 mm"}\n', "")
    bench.add(bench.press, one_way)
    (fault,) = bench.press_faults()
    assert fault.key == "press.bolster.ribs.along_y"
    assert "hang from the top skin" in fault.problem
    assert "both ways" in fault.allowed


def test_ribs_and_steps_exclude_each_other_and_both_are_told_of(bench: Bench) -> None:
    bench.spoil(
        bench.die,
        'thickness = "320 mm"',
        'thickness = "320 mm"\n'
        'steps = [{x = "1400 mm", y = "0 mm", length = "1 m", width = "500 mm", thickness = "420 mm"}]',
    )
    bench.add(bench.die, RIBS)
    problems = [fault.problem for fault in bench.die_faults()]
    assert any("has no steps" in problem for problem in problems)
    assert any("the step" in problem and "reaches beyond" in problem for problem in problems)


@pytest.mark.parametrize(("depth", "fits"), [("60 mm", True), ("30 mm", False), ("160 mm", False)])
def test_depth_of_slots(bench: Bench, depth: str, fits: bool) -> None:
    slots = f't_slots = {{width = "36 mm", pitch = "200 mm", direction = "y", depth = "{depth}"}}'
    bench.spoil(bench.press, 'thickness = "220 mm"', f'thickness = "220 mm"\n{slots}')
    if fits:
        assert read_press(bench.press).bolster.as_plate.t_slots is not None
        return
    (fault,) = bench.press_faults()
    assert fault.key == "press.bolster.t_slots.depth"
    assert "more than 36 mm, up to 154 mm" in fault.allowed


def test_heads_of_slots_must_not_meet(bench: Bench) -> None:
    """Their land would be less than nothing, and so would the stiffness be."""
    slots = 't_slots = {width = "60 mm", pitch = "100 mm", direction = "y", depth = "80 mm"}'
    bench.spoil(bench.press, 'thickness = "220 mm"', f'thickness = "220 mm"\n{slots}')
    (fault,) = bench.press_faults()
    assert fault.key == "press.bolster.t_slots.pitch"
    assert "would meet" in fault.problem
    assert "122 mm or more" in fault.allowed


def test_depth_of_slots_in_a_ribbed_bolster(bench: Bench) -> None:
    slots = 't_slots = {width = "36 mm", pitch = "200 mm", direction = "y", depth = "60 mm"}'
    bench.spoil(bench.press, 'thickness = "220 mm"', f'thickness = "220 mm"\n{slots}')
    bench.add(bench.press, BOX)
    (fault,) = bench.press_faults()
    assert fault.key == "press.bolster.t_slots.depth"
    assert "top skin" in fault.problem


def test_mass_of_a_ribbed_bolster(bench: Bench) -> None:
    bench.spoil(bench.press, 'thickness = "220 mm"', 'thickness = "220 mm"\nmass = "1 t"')
    bench.add(bench.press, BOX)
    (fault,) = bench.press_faults()
    assert "far below that of the ribbed bolster" in fault.problem

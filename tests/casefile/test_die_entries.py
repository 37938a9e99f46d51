"""Mistakes in single entries of a die file: file, line, key, value, what is allowed, what to do."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from case_bench import Bench, check_fault

from deflect.casefile import read_die
from deflect.faults import Fault

Only = Callable[[tuple[Fault, ...]], Fault]

DIE_ENTRIES = [
    ('operation = "form"', 'operation = "drawing"', "die.operation", '"drawing"', "not known", '"draw"', '"draw"?'),
    (
        'working_force = "6 MN"',
        'working_force = "6 mN"',
        "die.working_force",
        '"6 mN"',
        "mN is not known",
        "MN",
        '"MN"',
    ),
    ('working_force = "6 MN"', 'working_force = "0 N"', "die.working_force", '"0 N"', "too small", "1 kN to", "check"),
    (
        'working_force = "6 MN"',
        'working_force = "612 t"',
        "die.working_force",
        '"612 t"',
        "unit of a mass",
        "tf",
        '"tf"',
    ),
    (
        'height = "550 mm"',
        'height = "550 mm"\nmass = 9500',
        "die.lower.mass",
        "9500",
        "the unit is missing",
        "5 kg to 100 t",
        'write "9500 kg"',
    ),
    (
        'kind = "patch"',
        'kind = "pach"',
        "die.forces[1].kind",
        '"pach"',
        "kind of pattern is not known",
        '"patch", "ring", "line"',
        'did you mean "patch"?',
    ),
    ('kind = "patch"', 'name = "x"', "die.forces[1]", "{name", "kind is missing", '"ring"', 'kind = "patch"'),
    (
        'width = "500 mm"',
        'wdth = "500 mm"',
        "die.forces[1].wdth",
        '"500 mm"',
        "not known",
        "x, y, length, width",
        'did you mean "width"?',
    ),
    (
        'width = "500 mm"',
        'width = "500 mm"\nshare = 40',
        "die.forces[1].share",
        "40",
        "the share is too large",
        "0.01 % to 100 %",
        "check",
    ),
    (
        'thickness = "320 mm"',
        'thickness = "320 mm"\nbearing = "ful"',
        "die.base.bearing",
        '"ful"',
        "not known",
        '"full"',
        'did you mean "full"?',
    ),
    (
        'thickness = "320 mm"',
        'thickness = "320 mm"\nbearing = {kind = "frme", width = "200 mm"}',
        "die.base.bearing.kind",
        '"frme"',
        "not known",
        '"frame", "pads", "strips", "risers"',
        'did you mean "frame"?',
    ),
    (
        'name = "Test die"',
        'name = "Test die"\nside_thrust = "0.5 to 0.1 %"',
        "die.side_thrust",
        '"0.5 to 0.1 %"',
        "does not rise",
        "0 % to 50 %",
        "low end first",
    ),
    (
        'name = "Test die"',
        'name = "Test die"\nplacing = {keyed = "yes"}',
        "die.placing.keyed",
        '"yes"',
        "yes or no",
        "true or false",
        "write true or false",
    ),
    (
        'name = "Test die"',
        'name = "Test die"\nclamps = "four"',
        "die.clamps",
        '"four"',
        "a list is expected",
        "a list",
        "[[die.clamps]]",
    ),
    (
        'name = "Test die"',
        'name = "Test die"\nlimits = {spoting = "0.03 mm"}',
        "die.limits.spoting",
        '"0.03 mm"',
        "not known",
        "spotting, bedding, matching",
        'did you mean "spotting"?',
    ),
    (
        'name = "Test die"',
        'name = "Test die"\nclosed_height = "1.05"',
        "die.closed_height",
        '"1.05"',
        "the unit is missing",
        "30 mm to 5 m",
        'write "1.05 mm"',
    ),
    (
        'name = "Test die"',
        'name = "Test die"\nforce_height = "-5 mm"',
        "die.force_height",
        '"-5 mm"',
        "too small",
        "0 mm to 2 m",
        "check the figure",
    ),
    (
        'name = "Test die"',
        'name = "Test die"\ncushion_pins = [["0 mm", "20 m"]]',
        "die.cushion_pins[1][2]",
        '"20 m"',
        "too large",
        "-10 m to 10 m",
        "check the figure",
    ),
    (
        'name = "Test die"',
        'name = "Test die"\nplacing = {may_move = {x = "-1 mm", y = "0 mm"}}',
        "die.placing.may_move.x",
        '"-1 mm"',
        "too small",
        "0 mm to 10 m",
        "check the figure",
    ),
    (
        'height = "550 mm"',
        'height = "550 mm"\nlength = "3 m"',
        "die.lower.length",
        '"3 m"',
        "not known",
        "height, mass, flange",
        "take it out",
    ),
    (
        'height = "550 mm"',
        'height = "550 mm"\nflange = {thickness = "2 mm"}',
        "die.lower.flange.thickness",
        '"2 mm"',
        "too small",
        "5 mm to 500 mm",
        "check the figure",
    ),
    (
        'height = "500 mm"',
        'height = "500 mm"\nflange = {slots = []}',
        "die.upper.flange.slots",
        "[]",
        "0 entries",
        "at least 1",
        "add",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "value", "problem", "allowed", "remedy"), DIE_ENTRIES)
def test_die_entry(
    bench: Bench, old: str, new: str, key: str, value: str, problem: str, allowed: str, remedy: str
) -> None:
    line = bench.spoil(bench.die, old, new)
    faults = [fault for fault in bench.die_faults() if fault.key == key]
    where = line - 1 if key == "die.forces[1]" else line
    assert len(faults) == 1
    check_fault(faults[0], bench.die, where, (key, value, problem, allowed, remedy))


MISSING = [
    ('working_force = "6 MN"\n', "die.working_force", 1, "1 kN to 200 MN", 'working_force = "6 MN"'),
    ('thickness = "320 mm"\n', "die.base.thickness", 6, "15 mm to 1.5 m", 'thickness = "200 mm"'),
    ('operation = "form"\n', "die.operation", 1, '"draw", "trim"', 'operation = "draw"'),
    ('material = "ductile iron GJS-600-3"\n', "die.base.material", 6, "youngs_modulus", "add material"),
    ('[die.upper]\nheight = "500 mm"\n', "die.upper", 1, "height, mass", "add upper"),
]


@pytest.mark.parametrize(("gone", "key", "line", "allowed", "remedy"), MISSING)
def test_missing_entry(bench: Bench, only: Only, gone: str, key: str, line: int, allowed: str, remedy: str) -> None:
    bench.spoil(bench.die, gone, "")
    fault = only(bench.die_faults())
    assert (fault.key, fault.line, fault.value) == (key, line, "")
    assert "is missing" in fault.problem
    assert allowed in fault.allowed
    assert remedy in fault.remedy


POINTS = [
    ('[["0 mm", "0 mm"]]', "die.forces[2].points", "1 entries", "at least 2"),
    ('[["0 mm", "0 mm"], ["9 mm"]]', "die.forces[2].points[2][2]", "a value is missing", "two lengths"),
    ('[["0 mm", "0 mm"], ["9 mm", "1 mm", "1 mm"]]', "die.forces[2].points[2]", "3 entries", "up to 2"),
    ('[["0 mm", "0 mm"], ["9 mm", 5]]', "die.forces[2].points[2][2]", "the unit is missing", "-10 m to 10 m"),
    ('[["0 mm", "0 mm"], 5]', "die.forces[2].points[2]", "a list is expected", "a list"),
    ('[["0 mm", "0 mm"], ["0 mm", "0 mm"]]', "die.forces[2]", "lie on one spot", "1 mm or more"),
]


@pytest.mark.parametrize(("points", "key", "problem", "allowed"), POINTS)
def test_points_of_a_line(bench: Bench, only: Only, points: str, key: str, problem: str, allowed: str) -> None:
    bench.spoil(bench.die, 'kind = "patch"', 'kind = "patch"\nshare = 0.5')
    bench.add(bench.die, f'[[die.forces]]\nkind = "line"\nshare = 0.5\npoints = {points}')
    fault = only(bench.die_faults())
    assert fault.key == key
    assert problem in fault.problem
    assert allowed in fault.allowed


def test_multi_line_lists_tell_the_line_of_the_entry(bench: Bench, only: Only) -> None:
    bench.spoil(bench.die, 'kind = "patch"', 'kind = "patch"\nshare = 0.5')
    line = bench.add(
        bench.die, '[[die.forces]]\nkind = "line"\nshare = 0.5\npoints = [\n["0 mm", "0 mm"],\n["9 mm", "1,5 mm"],\n]'
    )
    assert only(bench.die_faults()).line == line + 5


def test_ring_turned_inside_out(bench: Bench, only: Only) -> None:
    bench.spoil(
        bench.die,
        'kind = "patch"\nx = "0 mm"\ny = "0 mm"\nlength = "800 mm"\nwidth = "500 mm"',
        'kind = "ring"\nx = "0 mm"\ny = "0 mm"\nouter_length = "800 mm"\nouter_width = "500 mm"\n'
        'inner_length = "700 mm"\ninner_width = "500 mm"',
    )
    fault = only(bench.die_faults())
    assert fault.key == "die.forces[1]"
    assert "does not lie inside" in fault.problem


def test_no_force_at_all(bench: Bench, only: Only) -> None:
    text = bench.die.read_text()
    bench.die.write_text(text[: text.index("[[die.forces]]")].replace("[die]\n", "[die]\nforces = []\n"))
    fault = only(bench.die_faults())
    assert (fault.key, fault.problem) == ("die.forces", "the list has 0 entries")


@pytest.mark.parametrize("alias", ["die.lower_shoe", 'die."lower shoe"', "die.base_plate"])
def test_other_names_of_the_base(bench: Bench, alias: str) -> None:
    plain = read_die(bench.die)
    bench.spoil(bench.die, "[die.base]", f"[{alias}]")
    assert read_die(bench.die) == plain
    assert [one.origin for one in read_die(bench.die).inputs] == [one.origin for one in plain.inputs]


def test_base_described_twice(bench: Bench) -> None:
    bench.add(bench.die, "[die.lower_shoe]")
    assert "the die base is described twice" in [fault.problem for fault in bench.die_faults()]

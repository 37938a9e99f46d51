"""Lift-off, cut and match of the halves in a die file: read, assumed, refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from case_bench import Bench, check_fault

from deflect.casefile import read_die
from deflect.faults import Fault
from deflect.model.matching import Fitted
from deflect.model.values import Interval

Only = Callable[[tuple[Fault, ...]], Fault]

ALL = """
[die.lift_off]
upper_pad = false
stripping = "5 to 10 %"
guides = "0 to 40 kN"
stuck_panel = "12 kN"
sealed_area = "0.8 m2"
suction = "0 to 100 %"
required_reserve = "2"

[die.cutting]
length = "7.2 m"
at_once = "50 %"
shear_share = "0.7"
dull_edge = "15 to 30 %"
clearance_tolerance = "20 µm"

[die.matching]
fitted = "to each other"
length = "2 m"
expansion = "12.5 µm/m/K"
swing = "1 to 3 K"
machine_expansion = "11.5 um/m/K"
machine_swing = "2 K"
machining_time = "30 min"
strokes = 500
key_play = "0.02 mm"
fitting = "5 µm"

[die.matching.measuring]
kind = "optical"
per_length = "0.03 mm/m"
"""


def test_everything_in_inside_units(bench: Bench) -> None:
    bench.add(bench.die, ALL)
    die = read_die(bench.die)
    lift, cut, match = die.lift_off, die.cutting, die.matching
    assert (lift.stripping.low, lift.stripping.high) == pytest.approx((0.05, 0.10))
    assert lift.reaching == Interval.exactly(1.0)
    assert (lift.guides.high, lift.stuck_panel.nominal) == (40e3, 12e3)
    assert lift.sealed_area == pytest.approx(0.8e6)
    assert (lift.suction.high, lift.required) == pytest.approx((1.0, 2.0))
    assert (cut.length, cut.at_once, cut.shear_share.nominal) == pytest.approx((7200.0, 0.5, 0.7))
    assert (cut.dull_edge.high, cut.clearance_tolerance) == pytest.approx((0.3, 0.02))
    assert match.stated
    assert match.fitted is Fitted.TO_EACH_OTHER
    assert (match.length, match.expansion.nominal, match.machine_expansion.nominal) == pytest.approx(
        (2000.0, 12.5e-6, 11.5e-6)
    )
    assert (match.swing.high, match.machine_swing.nominal, match.machining_time) == pytest.approx((3.0, 2.0, 0.5))
    assert (match.strokes, match.key_play.nominal, match.fitting.nominal) == pytest.approx((500, 0.02, 0.005))
    assert match.measuring.optical
    assert match.measuring.uncertainty(2000.0).nominal == pytest.approx(0.06)


def test_what_is_left_out_is_assumed_and_told_with_its_source(bench: Bench) -> None:
    die = read_die(bench.die)
    assert not die.matching.stated
    assert die.lift_off.stripping == Interval(0.05, 0.075, 0.2)
    assert die.lift_off.reaching == Interval(0.0, 0.2, 1.0)
    assert die.lift_off.sealed_area == pytest.approx(800 * 500)
    assert die.matching.length == pytest.approx(800.0)
    assert die.cutting.length is None
    told = {one.key: one for one in die.inputs if one.key.startswith(("die.lift_off", "die.cutting.", "die.matching"))}
    assert len(told) == 8 + 5 + 10 + 4
    for one in told.values():
        assert one.is_default, one.key
        assert any(tag in one.origin for tag in ("published", "memory", "common practice, no source", "ours")), one.key
    assert told["die.lift_off.sealed_area"].shown == "0.4 m²"
    assert told["die.lift_off.reaching"].shown == "0 % / 20 % / 100 %"
    assert told["die.cutting.length"].shown == "not stated"


@pytest.mark.parametrize(("pad", "ends"), [("true", (0.0, 0.1, 0.2)), ("false", (1.0, 1.0, 1.0))])
def test_a_pad_in_the_upper_half_keeps_stripping_off_the_lower_one(
    bench: Bench, pad: str, ends: tuple[float, float, float]
) -> None:
    """0 to 0.2 with an upper pad, 1 without: common practice, no source."""
    bench.add(bench.die, f"[die.lift_off]\nupper_pad = {pad}")
    reaching = read_die(bench.die).lift_off.reaching
    assert (reaching.low, reaching.nominal, reaching.high) == pytest.approx(ends)


def test_a_stated_share_counts_before_the_pad(bench: Bench) -> None:
    bench.add(bench.die, '[die.lift_off]\nupper_pad = true\nreaching = "40 %"')
    assert read_die(bench.die).lift_off.reaching.nominal == pytest.approx(0.4)


def test_an_empty_table_counts_as_stated(bench: Bench) -> None:
    bench.add(bench.die, "[die.matching]")
    assert read_die(bench.die).matching.stated


def test_only_the_lines_of_a_trim_die_are_its_cut(bench: Bench) -> None:
    patch = 'kind = "patch"\nx = "0 mm"\ny = "0 mm"\nlength = "800 mm"\nwidth = "500 mm"'
    line = 'kind = "line"\nclosed = true\npoints = [["0 mm", "0 mm"], ["300 mm", "0 mm"], ["300 mm", "400 mm"]]'
    bench.spoil(bench.die, patch, line)
    assert read_die(bench.die).cutting.length is None
    bench.spoil(bench.die, '"form"', '"trim"')
    assert read_die(bench.die).cutting.length == pytest.approx(300 + 400 + 500)


def test_the_panel_below_the_blank_holder_may_seal() -> None:
    """Hazel's ring: 2000 + 220 mm by 1000 + 220 mm."""
    assert read_die("hazel-draw").lift_off.sealed_area == pytest.approx(2220 * 1220)


ENTRIES = [
    ("lift_off", "strippng", '"5 %"', "not known", "stripping", 'did you mean "stripping"?'),
    ("lift_off", "stripping", '"60 %"', "too large", "0 % to 50 %", "check the figure"),
    ("lift_off", "reaching", '"20 to 0 %"', "does not rise", "0 % to 100 %", "low end first"),
    ("lift_off", "upper_pad", '"yes"', "yes or no", "true or false", "write true or false"),
    ("lift_off", "sealed_area", '"0.8"', "the unit is missing", "0 m2 to 60 m2", 'write "0.8 m²"'),
    ("lift_off", "sealed_area", '"900 mm"', "unit of a length", "an area", "0.8 m2"),
    ("lift_off", "guides", '"2 t"', "unit of a mass", "0 kN to 10 MN", "tf"),
    ("lift_off", "required_reserve", '"0.5"', "too small", "1 to 10", "check the figure"),
    ("cutting", "at_once", '"0 %"', "too small", "1 % to 100 %", "check the figure"),
    ("cutting", "clearance_tolerance", '"10"', "the unit is missing", "0 mm to 0.5 mm", 'write "10 mm"'),
    ("matching", "fitted", '"by hand"', "not known", '"by numbers", "to each other", "in the press"', "take one"),
    ("matching", "swing", '"2"', "the unit is missing", "0 K to 40 K", 'write "2 K"'),
    ("matching", "expansion", '"11.5"', "the unit is missing", "µm/m/K", "11.5 µm/m/K"),
    ("matching", "expansion", '"11.5 ppm"', "not known", "µm/m/K", "11.5 µm/m/K"),
    ("matching", "machining_time", '"8 K"', "unit of a temperature difference", "1 min to 2000 h", "8 h"),
    ("matching", "strokes", '"500"', "whole number", "from 1 to", "write for example"),
    ("matching", "measuring", '{kind = "optcal"}', "not known", '"coordinate", "optical"', 'did you mean "optical"?'),
    ("matching", "measuring", '{k = "200"}', "the unit is missing", "mm/µm", "200 mm/µm"),
]


@pytest.mark.parametrize(("table", "key", "written", "problem", "allowed", "remedy"), ENTRIES)
def test_entry(
    bench: Bench, only: Only, table: str, key: str, written: str, problem: str, allowed: str, remedy: str
) -> None:
    line = bench.add(bench.die, f"[die.{table}]\n{key} = {written}")
    fault = only(bench.die_faults())
    assert fault.key.startswith(f"die.{table}.{key}")
    assert fault.line == line + 1
    told = (problem in fault.problem, allowed in fault.allowed or allowed in fault.problem, remedy in fault.remedy)
    assert told == (True, True, True), str(fault)


CROSS = [
    (
        '[die.lift_off]\nsealed_area = "5 m2"',
        ("die.lift_off.sealed_area", '"5 m2"', "greater than the die in plan, 4.2 m²", "up to 4.2 m²", "may seal"),
    ),
    (
        '[die.matching]\nlength = "4 m"',
        ("die.matching.length", '"4 m"', "greater than the die's diagonal", "up to 3176.476 mm", "straight distance"),
    ),
    (
        '[die.matching]\nmeasuring = {kind = "optical", a = "5 µm"}',
        ("die.matching.measuring.a", '"5 µm"', "does not take a", "optical: per_length", 'kind = "coordinate"'),
    ),
    (
        '[die.matching]\nmeasuring = {per_length = "0.03 mm/m"}',
        ("die.matching.measuring.per_length", '"0.03', "does not take per_length", "coordinate: a and k", "optical"),
    ),
]


@pytest.mark.parametrize(("added", "parts"), CROSS)
def test_cross_check(bench: Bench, only: Only, added: str, parts: tuple[str, str, str, str, str]) -> None:
    line = bench.add(bench.die, added)
    check_fault(only(bench.die_faults()), bench.die, line + 1, parts)


def test_all_mistakes_of_all_tables_are_told_at_once(bench: Bench) -> None:
    bench.add(
        bench.die,
        '[die.lift_off]\nsealed_area = "5 m2"\nguides = "2 t"\n[die.cutting]\nlength = "7.2"\n'
        '[die.matching]\nlength = "4 m"\nswing = "2"\nmeasuring = {kind = "optical", k = "9 mm/µm"}',
    )
    assert [fault.key for fault in bench.die_faults()] == [
        "die.lift_off.sealed_area",
        "die.lift_off.guides",
        "die.cutting.length",
        "die.matching.length",
        "die.matching.swing",
        "die.matching.measuring.k",
    ]

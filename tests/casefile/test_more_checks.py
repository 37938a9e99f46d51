"""Masses, cut-outs, shims, bedding-in, and the keys for cones, dirt, posts and a sub-plate."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from case_bench import Bench

from deflect.casefile import read_case, read_die, read_press, template
from deflect.casefile.checks.die import HEAVIEST_HALF, LIGHTEST_HALF
from deflect.faults import Fault
from deflect.mechanics.acceptance import acceptance_sag, bed_stiffness
from deflect.model.die import Shim
from deflect.model.press import SupportPost
from deflect.model.values import Rectangle
from deflect.units import show_mass

Only = Callable[[tuple[Fault, ...]], Fault]

SLAB = 'thickness = "220 mm"'
LAND = "[press.bed.land]"
CUSHION = '[press.cushion]\nforce = "2 MN"'
TOP = 'name = "Test die"'
BASE_MASS = 2.8 * 1.5 * 0.32 * 7200
POST = 'x = "0 mm"\ny = "0 mm"\nstiffness = "2000 kN/mm"\n'


def cut(x: float, y: float, length: float, width: float) -> str:
    return f'{SLAB}\nopenings = [{{x = "{x} mm", y = "{y} mm", length = "{length} mm", width = "{width} mm"}}]'


def shim(x: float, size: float) -> str:
    return f'{{x = "{x} mm", y = "0 mm", length = "{size} mm", width = "{size} mm", thickness = "0.1 mm"}}'


def test_estimated_lower_mass_is_the_solid_base_and_what_stands_on_it(bench: Bench) -> None:
    lower = read_die(bench.die).lower
    above = 2.8 * 1.5 * 0.23 * 2600
    assert lower.mass == pytest.approx(BASE_MASS + above)
    assert lower.mass_range.low == pytest.approx(BASE_MASS + above * 2.2 / 2.6)
    assert lower.mass_range.high == pytest.approx(BASE_MASS + above * 3.0 / 2.6)


@pytest.mark.parametrize("thickness", [100.0, 320.0, 500.0])
def test_another_base_changes_the_estimate_as_reading_it_would(bench: Bench, thickness: float) -> None:
    changed = read_case(bench.die, bench.press).with_base_thickness(thickness).die
    bench.spoil(bench.die, '"320 mm"', f'"{thickness} mm"')
    bench.spoil(bench.die, '"550 mm"', f'"{230 + thickness} mm"')
    again = read_die(bench.die)
    assert changed.lower.mass == pytest.approx(again.lower.mass)
    assert changed.lower.base_mass == pytest.approx(again.lower.base_mass)


def test_a_half_never_weighs_less_than_its_base(bench: Bench) -> None:
    bench.spoil(bench.die, 'height = "550 mm"', 'height = "550 mm"\nmass = "9 t"')
    thicker = read_case(bench.die, bench.press).with_base_thickness(400.0).die
    assert thicker.lower.mass == pytest.approx(thicker.base.mass)


@pytest.mark.parametrize(("half", "height"), [("lower", 550), ("upper", 500)])
def test_stated_mass_of_a_half_is_held_against_its_size(bench: Bench, only: Only, half: str, height: int) -> None:
    solid = 2.8 * 1.5 * height * 7.85
    for share, side in ((0.09, "below"), (1.6, "above")):
        text = bench.die.read_text(encoding="utf-8")
        bench.spoil(bench.die, f'height = "{height} mm"', f'height = "{height} mm"\nmass = "{share * solid:.0f} kg"')
        fault = only(bench.die_faults())
        assert fault.key == f"die.{half}.mass"
        assert fault.line is not None
        assert f"far {side}" in fault.problem
        assert fault.allowed == f"{show_mass(LIGHTEST_HALF * solid)} to {show_mass(HEAVIEST_HALF * solid)}"
        bench.die.write_text(text, encoding="utf-8")


SPREAD = 'hold_downs = {number = 4, preload = "200 kN", stiffness = "1500 kN/mm"}\n'
ACCEPTANCE = '[press.acceptance]\nslope = "0.17 mm/m"\n'

PRESS = [
    ([(SLAB, SLAB + '\nmass = "4 t"')], "press.bolster.mass", "far below", "0.3 to 1.5 times"),
    ([(LAND, SPREAD + LAND), (SLAB, cut(1325, -900, 300, 200))], "press.bed.hold_downs", "cut-out", "places with"),
    ([(LAND, SPREAD + LAND), (SLAB, cut(-900, 900, 1300, 200))], "press.bed.hold_downs", "cut-out", "places with"),
    (
        [(SLAB, cut(0, 0, 3000, 1400)), (CUSHION, CUSHION + '\nstands_on = "bolster"')],
        "press.cushion.stands_on",
        "takes all of it above",
        "material above",
    ),
    (
        [(SLAB, cut(0, 0, 2900, 200)), (CUSHION, ACCEPTANCE)],
        "press.acceptance.reference_length",
        "wholly over a cut-out",
        "both ends",
    ),
    (
        [(CUSHION, ACCEPTANCE + 'reference_width = "400 mm"')],
        "press.acceptance.reference_width",
        "too short",
        "440 mm to 2200 mm",
    ),
    ([(LAND, f'[[press.bed.posts]]\n{POST}{LAND}')], "press.bed.posts", "the same room", "posts, or a cushion"),
    (
        [(CUSHION, ""), (LAND, f'[[press.bed.posts]]\n{POST.replace("0 mm", "1450 mm", 1)}{LAND}')],
        "press.bed.posts[1]",
        "beyond the bed opening",
        "x -1500 to 1500",
    ),
    (
        [(CUSHION, ""), (LAND, f'[[press.bed.posts]]\n{POST}[[press.bed.posts]]\n{POST}{LAND}')],
        "press.bed.posts[2]",
        "overlaps post 1",
        "stand apart",
    ),
    (
        [(CUSHION, ""), (SLAB, cut(0, 0, 600, 400)), (LAND, f'[[press.bed.posts]]\n{POST}{LAND}')],
        "press.bed.posts[1]",
        "below a cut-out",
        "bolster all over",
    ),
    (
        [("[press.bed]", '[press.bolster.sub_plate]\nlength = "4.1 m"\nwidth = "1 m"\nthickness = "80 mm"\n'
          'material = "steel S355"\n[press.bed]')],
        "press.bolster.sub_plate",
        "beyond the bolster",
        "x -2000 to 2000",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "key", "problem", "allowed"), PRESS)
def test_press_refuses(
    bench: Bench, only: Only, changes: list[tuple[str, str]], key: str, problem: str, allowed: str
) -> None:
    for old, new in changes:
        bench.spoil(bench.press, old, new)
    fault = only(bench.press_faults())
    assert fault.key == key
    assert fault.line is not None
    assert problem in fault.problem
    assert allowed in fault.allowed


def test_loaded_area_over_a_cut_out(bench: Bench) -> None:
    bench.spoil(bench.press, SLAB, cut(0, 0, 2500, 1400))
    bench.spoil(bench.press, CUSHION, ACCEPTANCE)
    assert "press.acceptance.loaded_share" in {fault.key for fault in bench.press_faults()}


def test_assumed_hold_downs_leave_out_cut_outs(bench: Bench) -> None:
    every = len(read_press(bench.press).bed.hold_downs)
    bench.spoil(bench.press, SLAB, cut(500, 900, 300, 200))
    press = read_press(bench.press)
    assert len(press.bed.hold_downs) == every - 1
    shown = {one.key: one.shown for one in press.inputs}
    assert f"none to {every - 1} bolts" in shown["press.bed.hold_downs.assumed"]


def test_clamp_over_a_cut_out(bench: Bench, only: Only) -> None:
    bench.spoil(bench.press, SLAB, cut(1300, 0, 300, 300))
    bench.spoil(bench.die, TOP, TOP + '\nclamps = [{x = "1300 mm", y = "0 mm", force = "60 kN"}]')
    fault = only(bench.case_faults())
    assert fault.key == "die.clamps[1]"
    assert "pull at a cut-out" in fault.problem
    bench.spoil(bench.die, 'y = "0 mm", force', 'y = "200 mm", force')
    read_case(bench.die, bench.press)


def test_small_and_overlapping_shims(bench: Bench, only: Only) -> None:
    bench.spoil(bench.die, TOP, f"{TOP}\nshims = [{shim(0, 49)}]")
    fault = only(bench.die_faults())
    assert (fault.key, fault.remedy) == ("die.shims[1]", "use a field of 100 mm or more a side")
    assert "as a point" in fault.problem
    bench.spoil(bench.die, shim(0, 49), f"{shim(0, 100)}, {shim(99, 100)}")
    fault = only(bench.die_faults())
    assert fault.key == "die.shims[2]"
    assert "overlaps shim 1" in fault.problem
    bench.spoil(bench.die, shim(99, 100), shim(100, 100))
    read_die(bench.die)


BEDDED = '[die.bedded]\npress = "press.toml"\nforce = "6 MN"\n'


@pytest.mark.parametrize(
    ("old", "new", "key", "problem"),
    [
        ('force = "6 MN"\n', 'force = "11 MN"\n', "die.bedded.force", "above the rated force of that press, 10 MN"),
        ('length = "2800 mm"', 'length = "4100 mm"', "die.bedded.press", "bedded in on, the die base, 4100 mm"),
        (TOP, TOP + '\ncushion_force = "2.1 MN"', "die.bedded.press", "more than the cushion gives"),
    ],
)
def test_bedding_press_is_checked(bench: Bench, only: Only, old: str, new: str, key: str, problem: str) -> None:
    bench.add(bench.die, BEDDED)
    read_die(bench.die)
    text = bench.die.read_text(encoding="utf-8")
    head, middle, tail = text.rpartition(old)
    bench.die.write_text(head + (new if middle else "") + tail, encoding="utf-8")
    fault = only(bench.die_faults())
    assert fault.key == key
    assert fault.line is not None
    assert problem in fault.problem


def test_cones_and_dirt(bench: Bench) -> None:
    bench.add(bench.die, "[die.placing]\nconed = true\nkeyed = true\n")
    dirt = '[[die.dirt]]\nx = "0 mm"\ny = "0 mm"\nlength = "80 mm"\nwidth = "60 mm"\nheight = "0.2 mm"\n'
    bench.add(bench.die, dirt)
    placing = read_die(bench.die).placing
    assert placing.coned
    assert placing.keyed
    assert placing.dirt == (Shim(Rectangle(0, 0, 80, 60), pytest.approx(0.2)),)
    assert "die.dirt[1].height" in {one.key for one in read_die(bench.die).inputs}
    bench.spoil(bench.die, 'length = "80 mm"', 'length = "3 m"')
    assert [fault.key for fault in bench.die_faults()] == ["die.dirt[1]"]


def test_posts_have_a_usual_gap_and_head(bench: Bench) -> None:
    bench.spoil(bench.press, CUSHION, f"[[press.bed.posts]]\n{POST}")
    press = read_press(bench.press)
    assert press.bed.posts == (SupportPost(0, 0, pytest.approx(2e6), pytest.approx(0.05), 200),)
    assert {"press.bed.posts[1].gap", "press.bed.posts[1].head"} <= {one.key for one in press.inputs if one.is_default}


@pytest.mark.parametrize("stated", ["", '\nmass = "15 t"'])
def test_sub_plate_adds_to_the_mass(bench: Bench, stated: str) -> None:
    bench.spoil(bench.press, SLAB, SLAB + stated)
    without = read_press(bench.press).bolster.mass
    plate = 'length = "3 m"\nwidth = "1.5 m"\nthickness = "80 mm"\nmaterial = "steel S355"\n'
    bench.spoil(bench.press, "[press.bed]", f"[press.bolster.sub_plate]\n{plate}[press.bed]")
    bolster = read_press(bench.press).bolster
    assert bolster.sub_plate is not None
    assert bolster.sub_plate.area == Rectangle(0, 0, 3000, 1500)
    assert bolster.mass - without == pytest.approx(3 * 1.5 * 0.08 * 7850)


def test_press_template_meets_its_own_allowance(tmp_path: Path) -> None:
    path = tmp_path / "press.toml"
    path.write_text(template("press"), encoding="utf-8")
    press = read_press(path)
    assert press.acceptance is not None
    assert acceptance_sag(press, bed_stiffness(press).nominal).slope <= press.acceptance.slope


@pytest.mark.parametrize("written", ["2800 mm", "2800mm", "2.8 m"])
def test_quantity_without_quotes(bench: Bench, only: Only, written: str) -> None:
    line = bench.spoil(bench.die, 'length = "2800 mm"', f"length = {written}")
    fault = only(bench.die_faults())
    assert fault.line == line
    assert fault.remedy == f'write it in quotes: length = "{written}"'


def test_shoe_is_the_base(bench: Bench) -> None:
    bench.spoil(bench.die, "[die.base]", "[die.shoe]")
    (fault,) = (one for one in bench.die_faults() if one.key == "die.shoe")
    assert fault.remedy == 'did you mean base ("lower shoe")?'


def test_the_force_that_the_panel_needs_is_read(bench: Bench) -> None:
    bench.spoil(bench.die, TOP, f'{TOP}\nleast_force = "5.5 MN"')
    assert read_die(bench.die).least_force == pytest.approx(5.5e6)


def test_a_panel_cannot_need_more_than_the_die_gives(bench: Bench, only: Only) -> None:
    bench.spoil(bench.die, TOP, f'{TOP}\nleast_force = "6.5 MN"')
    fault = only(bench.die_faults())
    assert fault.key == "die.least_force"
    assert "need more" in fault.problem
    assert "6 MN" in fault.allowed


def test_what_the_table_takes_is_read(bench: Bench) -> None:
    bench.spoil(bench.press, SLAB, f'{SLAB}\ntakes = "cones"')
    assert read_press(bench.press).bolster.takes == "cones"

"""Mistakes in single entries of a press file: file, line, key, value, what is allowed, what to do."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from case_bench import Bench, check_fault

from deflect.casefile import read_press
from deflect.faults import Fault
from deflect.model.press import CushionGuides

Only = Callable[[tuple[Fault, ...]], Fault]

PRESS_ENTRIES = [
    (
        'thickness = "220 mm"',
        "thickness = 220",
        "press.bolster.thickness",
        "220",
        "the unit is missing",
        "30 mm to 1.5 m, in mm",
        'write "220 mm"',
    ),
    (
        'thickness = "220 mm"',
        "thickness = true",
        "press.bolster.thickness",
        "true",
        "a length is expected",
        "30 mm to 1.5 m",
        '"200 mm"',
    ),
    (
        'thickness = "220 mm"',
        "thickness = 1979-05-27",
        "press.bolster.thickness",
        "1979-05-27",
        "a length is expected",
        "30 mm to 1.5 m",
        '"200 mm"',
    ),
    (
        'thickness = "220 mm"',
        'thickness = "0,22 m"',
        "press.bolster.thickness",
        '"0,22 m"',
        "comma",
        "30 mm to 1.5 m",
        'write "0.22 m"',
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 kg"',
        "press.bolster.thickness",
        '"220 kg"',
        "unit of a mass",
        "in mm, µm, cm, m, in, ft",
        '"200 mm"',
    ),
    (
        'thickness = "220 mm"',
        'thickness = "2 m"',
        "press.bolster.thickness",
        '"2 m"',
        "the length is too large",
        "30 mm to 1.5 m",
        "check the figure",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "-220 mm"',
        "press.bolster.thickness",
        '"-220 mm"',
        "the length is too small",
        "30 mm to 1.5 m",
        "check the figure",
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "1000 ton"',
        "press.rated_force",
        '"1000 ton"',
        "several sizes",
        "50 kN to 200 MN",
        'write "1000 tf"',
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "0 MN"',
        "press.rated_force",
        '"0 MN"',
        "the force is too small",
        "50 kN to 200 MN",
        "check the figure",
    ),
    (
        'rated_force = "10 MN"',
        'rated_farce = "10 MN"\nrated_force = "10 MN"',
        "press.rated_farce",
        '"10 MN"',
        "this key is not known",
        "rated_force",
        'did you mean "rated_force"?',
    ),
    ('name = "Test press"', 'name = ""', "press.name", '""', "the text is empty", "1 to 120 characters", "write"),
    (
        'name = "Test press"',
        "name = 5",
        "press.name",
        "5",
        "a text is expected",
        "1 to 120 characters",
        "double quotes",
    ),
    ('name = "Test press"', f'name = "{"x" * 121}"', "press.name", '"xxx', "121 characters", "120", "shorten"),
    (
        'name = "Test press"',
        'name = "a\\u001bb"',
        "press.name",
        '"a\\x1bb"',
        "control characters",
        "seen",
        "leave them out",
    ),
    ('name = "Test press"', 'name = "a\\nb"', "press.name", '"a\\nb"', "control characters", "seen", "leave them out"),
    (
        'material = "steel S355"',
        'material = "steel S35"',
        "press.bolster.material",
        '"steel S35"',
        "not known",
        '"cast iron GJL-250"',
        'did you mean "steel S355"?',
    ),
    (
        'material = "steel S355"',
        "material = 5",
        "press.bolster.material",
        "5",
        "one of the listed words",
        '"steel S355"',
        "write for example",
    ),
    (
        'material = "steel S355"',
        'material = {youngs_modulus = "200 GPa"}',
        "press.bolster.material",
        "{youngs_modulus",
        "lack poisson_ratio, density, permitted_stress",
        "all four",
        "like =",
    ),
    (
        'material = "steel S355"',
        'material = {like = "steel S355", density = "7850"}',
        "press.bolster.material.density",
        '"7850"',
        "the unit is missing",
        "1000 kg/m3",
        '"7850 kg/m3"',
    ),
    (
        'material = "steel S355"',
        'material = {lik = "steel S355"}',
        "press.bolster.material.lik",
        '"steel S355"',
        "this key is not known",
        "like",
        'did you mean "like"?',
    ),
    (
        'width = "1400 mm"}',
        'with = "1400 mm", width = "1400 mm"}',
        "press.bed.opening.with",
        '"1400 mm"',
        "not known",
        "length, width, x, y",
        'did you mean "width"?',
    ),
    (
        'opening = {length = "3000 mm", width = "1400 mm"}',
        'opening = "3000 mm"',
        "press.bed.opening",
        '"3000 mm"',
        "a table is expected",
        "a table",
        "heading",
    ),
    (
        'stiffness = "20 to 100 N/mm3"',
        'stiffness = "20-100 N/mm3"',
        "press.bed.land.stiffness",
        '"20-100 N/mm3"',
        "the word to",
        "1 N/mm3 to 1000 N/mm3",
        'write "20 to 100 N/mm3"',
    ),
    (
        'stiffness = "20 to 100 N/mm3"',
        'stifness = "20 N/mm3"',
        "press.bed.land.stifness",
        '"20 N/mm3"',
        "not known",
        "stiffness",
        'did you mean "stiffness"?',
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "10 MN"\nshut_height = 1250',
        "press.shut_height",
        "1250",
        "the unit is missing",
        "50 mm to 5 m",
        'write "1250 mm"',
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "10 MN"\nslide_adjustment = "-1 mm"',
        "press.slide_adjustment",
        '"-1 mm"',
        "too small",
        "0 mm to 3 m",
        "check the figure",
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "10 MN"\nclamps_required = 3',
        "press.clamps_required",
        "3",
        "outside the allowed range",
        "from 4 to 200",
        "check it",
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "10 MN"\ncrane_capacity = "200 kN"',
        "press.crane_capacity",
        '"200 kN"',
        "unit of a force",
        "50 kg to 1000 t",
        '"12.5 t"',
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "10 MN"\nclamped_thickness = "90 to 40 mm"',
        "press.clamped_thickness",
        '"90 to 40 mm"',
        "does not rise",
        "5 mm to 500 mm",
        "low end first",
    ),
    (
        'rated_force = "10 MN"',
        'rated_force = "10 MN"\nforce_over_height = [{height = "7 mm"}]',
        "press.force_over_height[1].force",
        "",
        "force is missing",
        "1 kN to 200 MN",
        "add it",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\npermitted_mass = "1 kg"',
        "press.bolster.permitted_mass",
        '"1 kg"',
        "too small",
        "10 kg to 300 t",
        "check the figure",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\nmoving = "yes"',
        "press.bolster.moving",
        '"yes"',
        "yes or no",
        "true or false",
        "write true or false",
    ),
    (
        "[press.cushion]",
        '[press.cushion]\n[press.slide]\nlenght = "4 m"',
        "press.slide.lenght",
        '"4 m"',
        "not known",
        "length, width, t_slots, permitted_mass",
        'did you mean "length"?',
    ),
    (
        'force = "2 MN"',
        'force = "2 MN"\nstands_on = "floor"',
        "press.cushion.stands_on",
        '"floor"',
        "not known here",
        '"bed", "bolster"',
        "take one of the list",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "value", "problem", "allowed", "remedy"), PRESS_ENTRIES)
def test_press_entry(
    bench: Bench, old: str, new: str, key: str, value: str, problem: str, allowed: str, remedy: str
) -> None:
    line = bench.spoil(bench.press, old, new)
    faults = [fault for fault in bench.press_faults() if fault.key == key]
    where = line if key != "press.rated_farce" else line - 1
    assert len(faults) == 1
    check_fault(faults[0], bench.press, where, (key, value, problem, allowed, remedy))


HOLD_DOWNS = [
    ('"many"', "press.bed.hold_downs", "not known", '"unknown", "none"'),
    ("5", "press.bed.hold_downs", "one of the listed words", '"unknown", "none"'),
    ('{number = 1, preload = "1 kN", stiffness = "9 kN/mm"}', "press.bed.hold_downs.number", "outside", "2 to 200"),
    (
        '{number = 4.5, preload = "1 kN", stiffness = "9 kN/mm"}',
        "press.bed.hold_downs.number",
        "a whole number",
        "2 to",
    ),
    ('{number = 4, preload = "1 kN"}', "press.bed.hold_downs.stiffness", "is missing", "1 kN/mm to"),
    ("[5]", "press.bed.hold_downs[1]", "a table is expected", "its own keys"),
    (
        '[{x = "1900 mm", y = "0 mm", preload = "1 kN"}]',
        "press.bed.hold_downs[1].stiffness",
        "is missing",
        "1 kN/mm to",
    ),
]


@pytest.mark.parametrize(("written", "key", "problem", "allowed"), HOLD_DOWNS)
def test_hold_downs(bench: Bench, only: Only, written: str, key: str, problem: str, allowed: str) -> None:
    bench.spoil(bench.press, "[press.bed]", f"[press.bed]\nhold_downs = {written}")
    fault = only(bench.press_faults())
    assert fault.key == key
    assert problem in fault.problem
    assert allowed in fault.allowed


def test_key_that_looks_like_a_tag(bench: Bench, only: Only) -> None:
    bench.spoil(bench.press, "[press.bed]", '[press.bed]\nhold_downs = {"=spread" = 1}')
    faults = bench.press_faults()
    assert "press.bed.hold_downs.=spread" in [fault.key for fault in faults]


def test_control_characters_never_reach_the_screen(bench: Bench) -> None:
    bench.spoil(bench.press, "[press.bed]", '[press.bed]\n"\\u001b[31m" = "\\u001b[31m"')
    assert "\x1b" not in "".join(map(str, bench.press_faults()))


def test_note_may_run_over_lines(bench: Bench) -> None:
    bench.spoil(bench.press, "[press]\n", '[press]\nnote = """one\ntwo"""\n')
    assert read_press(bench.press).note == "one\ntwo"


def test_a_cushion_is_level_unless_its_guides_are_stated(bench: Bench) -> None:
    cushion = read_press(bench.press).cushion
    assert cushion is not None
    assert cushion.guides is None
    text = bench.press.read_text(encoding="utf-8")
    bench.press.write_text(text + 'guides = {stiffness = "200 kN/mm", length = "600 mm"}\n', encoding="utf-8")
    cushion = read_press(bench.press).cushion
    assert cushion is not None
    assert cushion.guides == CushionGuides(4, 2e5, 600.0)
    # K = n k h^2 / 4, by hand.
    assert cushion.guides.tilt_stiffness == pytest.approx(4 * 2e5 * 600**2 / 4)

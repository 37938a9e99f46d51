"""From the written case to the model: values in N, mm, MPa, rad and kg, defaults, estimates, inputs."""

from __future__ import annotations

import math

import pytest
from case_bench import PRESS, Bench

from deflect.casefile import demo_cases, read_case, read_die, read_press
from deflect.casefile.lands import land_kinds
from deflect.casefile.lands.kind import LandKind
from deflect.casefile.parts.material import MATERIALS
from deflect.model.die import Flange
from deflect.model.press import ForceAtHeight, HoldDown, Land, PinField, Slide, TSlots
from deflect.model.values import Interval, Rectangle

OPENING = 'opening = {length = "3000 mm", width = "1400 mm"}'
STIFF = 'stiffness = "20 to 100 N/mm3"'
THICK = 'thickness = "220 mm"'


def test_press_in_inside_units(bench: Bench) -> None:
    press = read_press(bench.press)
    assert press.rated_force == 10e6
    assert press.bolster.plan == Rectangle(0, 0, 4000, 2200)
    assert press.bolster.material.youngs_modulus == 210e3
    assert press.bolster.material.density == pytest.approx(7.85e-6)
    assert press.bolster.mass == pytest.approx(4 * 2.2 * 0.22 * 7850)
    assert press.bed.opening == Rectangle(0, 0, 3000, 1400)
    assert press.bed.land.stiffness == Interval(20, math.sqrt(2000), 100)
    assert press.friction == Interval(0.10, 0.15, 0.20)
    slope = press.table_slope
    assert (slope.low, slope.nominal, slope.high) == pytest.approx((0, 2e-5, 1e-4))
    assert press.acceptance is None
    assert press.permitted_offset is None
    assert press.cushion is not None
    assert not press.cushion.hangs_on_bolster


def test_die_in_inside_units(bench: Bench) -> None:
    bench.spoil(bench.die, 'name = "Test die"', 'name = "Test die"\nthrust_direction = "90 degree"')
    bench.add(
        bench.die, '[die.placing]\nrotation = "-90 degree"\n[die.sheet]\nthickness = "1 mm"\ntensile_strength = "1 GPa"'
    )
    die = read_die(bench.die)
    assert die.working_force == 6e6
    assert die.cushion_force == 0
    assert die.side_thrust == Interval(0.001, 0.005, 0.02)
    assert die.thrust_direction == pytest.approx(math.pi / 2)
    assert die.placing.rotation == pytest.approx(-math.pi / 2)
    assert (die.limits.spotting, die.limits.bedding, die.limits.matching) == pytest.approx((0.03, 0.3, 0.015))
    assert die.upper.mass == pytest.approx(2.8 * 1.5 * 0.5 * 2600)
    assert die.upper.mass_is_estimated
    assert die.sheet is not None
    assert die.sheet.clearance == pytest.approx(0.1)
    assert not die.placing.keyed


def test_given_mass_is_taken(bench: Bench) -> None:
    bench.spoil(bench.die, 'height = "550 mm"', 'height = "550 mm"\nmass = "9.5 t"')
    die = read_die(bench.die)
    assert (die.lower.mass, die.lower.mass_is_estimated) == (9500, False)


def test_mass_leaves_out_cut_outs_and_pin_holes(bench: Bench) -> None:
    """Pin holes in the bed opening (3.0 by 1.4 m), less the part of it that a cut-out has taken (1 by 0.7 m)."""
    cut = 'openings = [{x = "0 mm", y = "700 mm", length = "1000 mm", width = "600 mm"}]'
    bench.spoil(bench.press, THICK, f'{THICK}\n{cut}\npin_holes = {{pitch = "150 mm", diameter = "50 mm"}}')
    bolster = read_press(bench.press).bolster
    drilled = (3.0 * 1.4 - 1.0 * 0.3) * math.pi / 4 / 9
    assert bolster.mass == pytest.approx((4 * 2.2 - 1.0 * 0.6 - drilled) * 0.22 * 7850)
    assert bolster.pin_field is not None
    assert bolster.pin_field.region == Rectangle(0, 0, 3000, 1400)


def test_reference_sizes_follow_the_loaded_share(bench: Bench) -> None:
    bench.add(bench.press, '[press.acceptance]\nslope = "0.002 in/ft"\nloaded_share = "50 %"\nreference_width = "1 m"')
    acceptance = read_press(bench.press).acceptance
    assert acceptance is not None
    assert acceptance.slope == pytest.approx(1 / 6000)
    assert (acceptance.reference_length, acceptance.reference_width) == (2000, 1000)


def test_cushion_that_hangs_on_the_bolster(bench: Bench) -> None:
    bench.spoil(bench.press, 'force = "2 MN"', 'force = "2 MN"\nstands_on = "bolster"')
    bench.spoil(bench.die, 'name = "Test die"', 'name = "Test die"\ncushion_force = "1 MN"')
    assert read_case(bench.die, bench.press).table_force == pytest.approx(6e6)


@pytest.mark.parametrize("name", MATERIALS)
def test_materials_of_the_table(bench: Bench, name: str) -> None:
    bench.spoil(bench.press, '"steel S355"', f'"{name}"')
    material = read_press(bench.press).bolster.material
    assert material.name == name
    assert 1e5 < material.youngs_modulus < 2.2e5
    assert 0.25 < material.poisson_ratio < 0.31
    assert 7e-6 < material.density < 8e-6
    assert 30 < material.permitted_stress < 150


def test_own_material(bench: Bench) -> None:
    values = 'youngs_modulus = "200 GPa", poisson_ratio = 0.29, density = "7.8 t/m3", permitted_stress = "95 MPa"'
    bench.spoil(bench.press, 'material = "steel S355"', f'material = {{name = "plate", {values}}}')
    material = read_press(bench.press).bolster.material
    assert (material.name, material.youngs_modulus, material.poisson_ratio) == ("plate", 200e3, 0.29)


def test_own_values_in_place_of_single_ones(bench: Bench) -> None:
    bench.spoil(bench.press, '"steel S355"', '{like = "steel S355", permitted_stress = "80 MPa"}')
    material = read_press(bench.press).bolster.material
    assert (material.youngs_modulus, material.permitted_stress) == (210e3, 80)
    shown = {one.key: one for one in read_press(bench.press).inputs}
    assert not shown["press.bolster.material.permitted_stress"].is_default
    assert shown["press.bolster.material.youngs_modulus"].is_default


# Mounting


def test_mounting_figures_of_a_press(bench: Bench) -> None:
    bench.spoil(
        bench.press,
        'rated_force = "10 MN"',
        """rated_force = "10 MN"
shut_height = "1.25 m"
slide_adjustment = "400 mm"
force_over_height = [{height = "7 mm", force = "10 MN"}, {height = "2 cm", force = "6000 kN"}]
clamps_required = 6
clamped_thickness = {low = "30 mm", usual = "60 mm", high = "80 mm"}
crane_capacity = "20 t\"""",
    )
    slots = 't_slots = {width = "28 mm", pitch = "200 mm", direction = "y"}'
    pins = 'pin_holes = {pitch = "150 mm", diameter = "50 mm", clearance = "5 mm", hole = {x = "75 mm", y = "0 mm"}}'
    bench.spoil(bench.press, THICK, f'{THICK}\npermitted_mass = "25 t"\nmoving = true\n{slots}\n{pins}')
    bench.add(bench.press, f'[press.slide]\nlength = "3.9 m"\nwidth = "2.1 m"\npermitted_mass = "12 t"\n{slots}')
    press = read_press(bench.press)
    assert (press.shut_height, press.slide_adjustment) == (1250.0, 400.0)
    assert press.force_over_height == (ForceAtHeight(7.0, 10e6), ForceAtHeight(20.0, 6e6))
    assert press.clamps_required == 6
    assert press.clamped_thickness == Interval(30.0, 60.0, 80.0)
    assert press.crane_capacity == 20e3
    assert (press.bolster.permitted_mass, press.bolster.moving) == (25e3, True)
    assert press.bolster.pin_field == PinField(150.0, 50.0, press.bed.opening, 5.0, (75.0, 0.0))
    t_slots = TSlots(28.0, 200.0, "y", 0.0)
    assert press.slide == Slide(3900.0, 2100.0, t_slots, 12e3)
    assert press.slide.plan == Rectangle(0, 0, 3900, 2100)
    assert t_slots.bolt_diameter == 24.0


def test_mounting_figures_of_a_die(bench: Bench) -> None:
    slots = 'slots = [["-600 mm", "-700 mm"], ["60 cm", "0.7 m"]]'
    top = 'closed_height = "1040 mm"\nforce_height = "5 mm"\ncushion_pins = [["75 mm", "-75 mm"]]'
    placing = 'placing = {may_move = {x = "200 mm", y = "0 mm"}, may_turn = true}'
    bench.spoil(bench.die, 'name = "Test die"', f'name = "Test die"\n{top}\n{placing}')
    flange = f'flange = {{thickness = "70 mm", slot_width = "36 mm", {slots}}}'
    bench.spoil(bench.die, 'height = "500 mm"', f'height = "500 mm"\nlength = "2 m"\n{flange}')
    die = read_die(bench.die)
    assert die.closed_height == 1040.0
    assert die.overlap == 550.0 + 500.0 - 1040.0
    assert (die.force_height, die.cushion_pins) == (5.0, ((75.0, -75.0),))
    assert (die.placing.may_move, die.placing.may_turn) == ((200.0, 0.0), True)
    assert die.lower.flange is None
    assert die.upper.flange == Flange(70.0, 36.0, ((-600.0, -700.0), (600.0, 700.0)))
    assert die.upper_plan == Rectangle(0, 0, 2000, 1500)
    assert die.upper.mass == pytest.approx(2.0 * 1.5 * 0.5 * 2600)


def test_what_is_left_out_of_mounting_stays_unknown(bench: Bench) -> None:
    press, die = read_press(bench.press), read_die(bench.die)
    assert (press.shut_height, press.slide_adjustment, press.slide, press.crane_capacity) == (None,) * 4
    assert (press.force_over_height, press.bolster.permitted_mass, press.bolster.moving) == ((), None, False)
    assert (die.closed_height, die.force_height, die.cushion_pins, die.upper.flange) == (None,) * 4
    assert (die.placing.may_move, die.placing.may_turn) == ((0.0, 0.0), False)
    assert die.upper_plan == die.base.plan


# Hold-downs


def test_unknown_hold_downs_are_many_or_none(bench: Bench) -> None:
    bed = read_press(bench.press).bed
    assert not bed.hold_downs_known
    assert {(one.x, one.y) for one in bed.hold_downs} == {
        (x, y) for x in (-1500.0, -500.0, 500.0, 1500.0) for y in (-900.0, 900.0)
    }
    assert {(one.preload, one.stiffness) for one in bed.hold_downs} == {(200e3, 1.5e6)}


def test_no_hold_downs(bench: Bench) -> None:
    bench.spoil(bench.press, OPENING, f'{OPENING}\nhold_downs = "none"')
    bed = read_press(bench.press).bed
    assert (bed.hold_downs, bed.hold_downs_known) == ((), True)


def test_listed_hold_downs(bench: Bench) -> None:
    one = '{x = "1750 mm", y = "0 mm", preload = "200 kN", stiffness = "1500 kN/mm"}'
    bench.spoil(bench.press, OPENING, f"{OPENING}\nhold_downs = [{one}]")
    assert read_press(bench.press).bed.hold_downs == (HoldDown(1750, 0, 200e3, 1.5e6),)


@pytest.mark.parametrize("opening", [OPENING, OPENING.replace("3000", "4000"), OPENING.replace("1400", "2200")])
@pytest.mark.parametrize("number", [2, 4, 16])
def test_spread_hold_downs_stand_on_the_land(bench: Bench, opening: str, number: int) -> None:
    spread = f'hold_downs = {{number = {number}, preload = "200 kN", stiffness = "1500 kN/mm"}}'
    bench.spoil(bench.press, OPENING, f"{opening}\n{spread}")
    press = read_press(bench.press)
    hollow, places = press.bed.opening, {(round(one.x, 6), round(one.y, 6)) for one in press.bed.hold_downs}
    assert len(places) == number
    for x, y in places:
        assert press.bolster.plan.contains(Rectangle(x, y, 0, 0))
        assert not (hollow.left < x < hollow.right and hollow.front < y < hollow.back)
        assert (-x, y) in places or (x, -y) in places


def test_spread_hold_downs_go_round_the_middle_of_the_land(bench: Bench) -> None:
    """Land 500 mm wide at the sides and 400 mm at front and back: a way round of 2 · (3500 + 1800) mm,
    walked from the middle of the front in steps of a quarter, the first one half as long."""
    spread = 'hold_downs = {number = 4, preload = "200 kN", stiffness = "1500 kN/mm"}'
    bench.spoil(bench.press, OPENING, f"{OPENING}\n{spread}")
    places = {(one.x, one.y) for one in read_press(bench.press).bed.hold_downs}
    assert places == {(1325, -900), (1325, 900), (-1325, 900), (-1325, -900)}


@pytest.mark.parametrize(
    ("opening", "places"),
    [
        (OPENING.replace("3000", "4000"), {(x, y) for x in (-1500, -500, 500, 1500) for y in (-900, 900)}),
        (OPENING.replace("1400", "2200"), {(x, y) for x in (-1750, 1750) for y in (-550, 550)}),
    ],
)
def test_assumed_hold_downs_stand_where_there_is_land(
    bench: Bench, opening: str, places: set[tuple[float, float]]
) -> None:
    bench.spoil(bench.press, OPENING, opening)
    assert {(one.x, one.y) for one in read_press(bench.press).bed.hold_downs} == places


# Lands


def test_kinds_of_land_are_found_by_scanning() -> None:
    assert set(land_kinds()) == {"stiffness", "walls", "from_allowance", "spanning_walls"}
    assert all(isinstance(kind, LandKind) for kind in land_kinds().values())


@pytest.mark.parametrize("kind", land_kinds().values(), ids=lambda kind: kind.key)
def test_example_of_each_kind_of_land_reads(bench: Bench, kind: LandKind) -> None:
    bench.spoil(bench.press, STIFF, kind.example)
    bench.add(bench.press, '[press.acceptance]\nslope = "0.17 mm/m"')
    land = read_press(bench.press).bed.land
    assert isinstance(land, Land)
    assert land.origin
    assert (land.stiffness is None) == kind.needs_acceptance


def test_walls_make_a_stiffness(bench: Bench) -> None:
    """k = 210 GPa · 0.25 / 1200 mm = 43.75 N/mm3, from half to one and a half times that."""
    bench.spoil(bench.press, STIFF, 'walls = {share = "25 %", height = "1200 mm"}')
    press = read_press(bench.press)
    assert press.bed.land.stiffness == Interval(21.875, 43.75, 65.625)
    shown = {one.key: one.shown for one in press.inputs}
    assert shown["press.bed.land.walls.stiffness"] == "21.88 N/mm³ / 43.75 N/mm³ / 65.62 N/mm³"


# The table of inputs


def test_every_input_has_a_value_and_an_origin(bench: Bench) -> None:
    for given in (*read_press(bench.press).inputs, *read_die(bench.die).inputs):
        assert given.key.startswith(("press.", "die."))
        assert given.shown
        assert given.origin
        assert given.is_default != ("toml, line" in given.origin)


def test_given_input_names_its_line(bench: Bench) -> None:
    line = bench.spoil(bench.press, THICK, 'thickness = "0.22 m"')
    (given,) = [one for one in read_press(bench.press).inputs if one.key == "press.bolster.thickness"]
    assert (given.shown, given.origin, given.is_default) == ("0.22 m", f"press.toml, line {line}", False)


DEFAULTS = [
    ("press.friction", "0.1 / 0.15 / 0.2", "common practice, no source"),
    ("press.table_slope", "0 mm/m / 0.02 mm/m / 0.1 mm/m", "common practice, no source"),
    ("press.bolster.mass", "15.2 t", "estimated"),
    ("press.bolster.material.youngs_modulus", "210 GPa", "from memory"),
    ("press.bolster.material.permitted_stress", "120 MPa", "common practice, no source"),
    ("press.bed.hold_downs", "unknown", "ours"),
    ("press.bed.hold_downs.assumed", "none to 8 bolts along the long edges, each 200 kN, 1500 kN/mm", "from memory"),
    ("press.cushion.stands_on", "bed", "common practice, no source"),
    ("press.acceptance", "not stated", "ours"),
    ("press.shut_height", "not stated", "the closed height of the die is not checked"),
    ("press.slide", "not stated", "the upper half is not checked"),
    ("press.force_over_height", "not stated", "ours"),
    ("press.clamps_required", "4", "DGUV Information 209-008 (published)"),
    ("press.clamped_thickness", "40 mm / 65 mm / 90 mm", "common practice, no source"),
    ("press.crane_capacity", "not stated", "ours"),
    ("press.bolster.permitted_mass", "not stated", "not checked"),
    ("press.bolster.moving", "false", "ours"),
    ("die.closed_height", "not stated", "not checked"),
    ("die.force_height", "not stated", "not checked"),
    ("die.cushion_pins", "not stated", "not checked"),
    ("die.lower.flange", "not stated", "not checked"),
    ("die.upper.length", "2800 mm", "as the die base"),
    ("die.placing.may_move", '{x = "0 mm", y = "0 mm"}', "way of the panel"),
    ("die.placing.may_turn", "false", "way of the panel"),
    ("die.side_thrust", "0.1 % / 0.5 % / 2 %", "common practice, no source"),
    ("die.thrust_direction", "not stated", "the worse of x and y"),
    ("die.limits.spotting", "0.03 mm", "common practice, no source"),
    ("die.limits.bedding", "0.3 mm", "common practice, no source"),
    ("die.limits.matching", "0.015 mm", "common practice, no source"),
    ("die.base.bearing", "full", "ours"),
    ("die.base.material.poisson_ratio", "0.275", "from memory"),
    ("die.base.material.youngs_modulus", "174 GPa", "EN 1563 (published)"),
    ("die.upper.mass", "5.46 t", "from memory"),
    ("die.placing.x", "0 mm", "common practice, no source"),
    ("die.cushion_force", "0 kN", "ours"),
]


@pytest.mark.parametrize(("key", "shown", "origin"), DEFAULTS)
def test_default_names_its_source(bench: Bench, key: str, shown: str, origin: str) -> None:
    inputs = {one.key: one for one in (*read_press(bench.press).inputs, *read_die(bench.die).inputs)}
    assert inputs[key].is_default
    assert inputs[key].shown == shown
    assert origin in inputs[key].origin


def test_bolt_of_a_t_slot_is_told(bench: Bench) -> None:
    for width, bolt, origin in (("36 mm", "30 mm", "BS 2485 (published)"), ("18 mm", "16 mm", "from memory")):
        bench.spoil(bench.press, THICK, f'{THICK}\nt_slots = {{width = "{width}", pitch = "200 mm", direction = "x"}}')
        inputs = {one.key: one for one in read_press(bench.press).inputs}
        assert inputs["press.bolster.t_slots.bolt"].shown == bolt
        assert origin in inputs["press.bolster.t_slots.bolt"].origin
        bench.press.write_text(PRESS, encoding="utf-8")


def test_points_of_force_over_height_name_their_lines(bench: Bench) -> None:
    points = 'force_over_height = [\n{height = "7 mm", force = "9 MN"},\n{height = "9 mm", force = "8 MN"},\n]'
    line = bench.spoil(bench.press, 'rated_force = "10 MN"', f'rated_force = "10 MN"\n{points}')
    inputs = {one.key: one for one in read_press(bench.press).inputs}
    given = inputs["press.force_over_height[2].force"]
    assert (given.shown, given.origin) == ("8 MN", f"press.toml, line {line - 1}")


def test_default_land_is_told(bench: Bench) -> None:
    bench.spoil(bench.press, f"[press.bed.land]\n{STIFF}", '[press.acceptance]\nslope = "0.17 mm/m"')
    inputs = {one.key: one for one in read_press(bench.press).inputs}
    assert inputs["press.bed.land"].is_default
    assert "from_allowance" in inputs["press.bed.land"].shown


def test_no_input_is_listed_twice() -> None:
    for kind, reader in (("press", read_press), ("die", read_die)):
        for name in demo_cases(kind):
            keys = [one.key for one in reader(name).inputs]
            assert len(keys) == len(set(keys))

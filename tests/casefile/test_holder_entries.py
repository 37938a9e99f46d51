"""Keys, cones, guides and bolts of clamps in a die file: what is read, what is refused, what is assumed."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Callable
from dataclasses import replace

import pytest
from case_bench import DIE, Bench
from jsonschema import Draft202012Validator

from deflect.casefile import read_case, read_die, schema
from deflect.faults import Fault
from deflect.mechanics.bolts import THREADS, clamp_force
from deflect.model.die import Clamp, Placing
from deflect.model.holder import ClampBolt, ConeForm, Grade, Guide, Key, LocatingCone, Seat, Tightening

Only = Callable[[tuple[Fault, ...]], Fault]

TOP = 'name = "Test die"'
SLAB = 'thickness = "220 mm"'
SLOTS = f'{SLAB}\nt_slots = {{width = "28 mm", pitch = "200 mm", direction = "y"}}'
KEY = '{x = "0 mm", y = "500 mm", slot = "90 degree"}'
CONE = '{x = "900 mm", y = "0 mm"}'
GUIDE = '{x = "1300 mm", y = "600 mm", engagement = "60 mm", clearance = "0.03 mm", stiffness = "100 kN/mm", '
GUIDE += 'permitted_force = "50 kN"}'
BOLT = 'bolt = {thread = "M24", grade = "8.8", tightening = "torque wrench"}'
BY_FEEL = 'bolt = {thread = "M24", grade = "10.9"}'
FORCE = 'force = "60 kN"'


def clamp(more: str) -> str:
    return f'clamps = [{{x = "0 mm", y = "600 mm", {more}}}]'


def test_what_is_stated_is_read(bench: Bench) -> None:
    bench.spoil(
        bench.die,
        TOP,
        f'{TOP}\nguides = [{GUIDE[:-1]}, direction = "90 degree"}}]\n'
        'guide_offset = {x = "0.02 mm", y = "-10 µm"}\n'
        f'keys = [{KEY[:-1]}, seat = "keyway", play = "10 µm", length = "60 mm", height = "15 mm", width = "30 mm", '
        'permitted_pressure = "200 MPa", permitted_shear = "80 MPa"}]\n'
        f'cones = [{CONE[:-1]}, half_angle = "20 degree", floats = "0 degree", form = "ball", seat_error = "0.05 mm", '
        'diameter = "50 mm", height = "10 mm", permitted_pressure = "120 MPa"}]',
    )
    die = read_die(bench.die)
    assert die.guides == (Guide(1300, 600, 60, pytest.approx(0.03), 1e5, 5e4, pytest.approx(math.pi / 2)),)
    assert die.guide_offset == pytest.approx((0.02, -0.01))
    (key,), (cone,) = die.placing.keys, die.placing.cones
    assert replace(key, slot=0.0, play=0.0) == Key(0, 500, 0.0, Seat.KEYWAY, 0.0, 60, 15, 30, 200, 80)
    assert (key.slot, key.play) == pytest.approx((math.pi / 2, 0.01))
    assert replace(cone, half_angle=0.0) == LocatingCone(900, 0, 0.0, 0.0, ConeForm.BALL, 0.05, 50, 10, 120)
    assert cone.half_angle == pytest.approx(math.radians(20))
    assert die.placing.keyed
    assert die.placing.coned
    assert die.placing.held


def test_defaults_carry_their_source(bench: Bench) -> None:
    bench.spoil(bench.die, TOP, f"{TOP}\nkeys = [{KEY}]\ncones = [{CONE}]\n{clamp(BOLT)}\nguides = [{GUIDE}]")
    die = read_die(bench.die)
    assert die.placing.keys[0] == replace(Key(0, 500, math.pi / 2), slot=die.placing.keys[0].slot)
    assert die.placing.cones[0] == LocatingCone(900, 0)
    defaults = {one.key: one for one in die.inputs if one.is_default}
    for key, source in (
        ("die.keys[1].play", "ISO 286, from memory"),
        ("die.keys[1].seat", "common practice, no source"),
        ("die.keys[1].permitted_pressure", "DIN 6892, from memory"),
        ("die.keys[1].width", "throat"),
        ("die.cones[1].half_angle", "common practice, no source"),
        ("die.cones[1].floats", "the cone is fixed"),
        ("die.cones[1].seat_error", "measure it; ours"),
        ("die.guides[1].direction", "as a post does"),
        ("die.guide_offset", "in line; ours"),
        ("die.clamps[1].lever", "0.5 to 0.67"),
        ("die.clamps[1].force", "VDI 2230 (published)"),
    ):
        assert source in defaults[key].origin, key
    assert defaults["die.clamps[1].force"].shown == "47 kN / 69 kN / 89.2 kN, tightened with about 710 Nm"


@pytest.mark.parametrize(("flag", "name", "told"), [("keyed", "keys", "cross key"), ("coned", "cones", "floating")])
def test_the_short_form_says_what_it_assumes(bench: Bench, flag: str, name: str, told: str) -> None:
    bench.spoil(bench.die, TOP, f"{TOP}\nplacing = {{{flag} = true}}")
    die = read_die(bench.die)
    assert (die.placing.keys, die.placing.cones) == ((), ())
    assert die.placing.held
    (assumed,) = (one for one in die.inputs if one.key == f"die.{name}")
    assert told in assumed.shown
    assert assumed.is_default
    assert "usual arrangement is assumed; common practice, no source" in assumed.origin


def test_a_free_die_has_nothing_assumed(bench: Bench) -> None:
    assert not {"die.keys", "die.cones"} & {one.key for one in read_die(bench.die).inputs}


def test_a_clamp_by_its_bolt(bench: Bench) -> None:
    bench.spoil(bench.die, TOP, f"{TOP}\n{clamp(BOLT + ', lever = 0.6')}")
    (found,) = read_die(bench.die).placing.clamps
    assert found.bolt == ClampBolt("M24", Grade.G8_8, Tightening.TORQUE_WRENCH)
    assert found.lever == pytest.approx(0.6)
    assert found.force == clamp_force(found).nominal


def test_a_bolt_is_tightened_by_feel_unless_stated(bench: Bench) -> None:
    bench.spoil(bench.die, TOP, f"{TOP}\n{clamp(BY_FEEL)}")
    die = read_die(bench.die)
    assert die.placing.clamps[0].bolt == ClampBolt("M24", Grade.G10_9, Tightening.BY_FEEL)
    assert "die.clamps[1].bolt.tightening" in {one.key for one in die.inputs if one.is_default}


def test_a_clamp_by_its_force_stays_as_it_is(bench: Bench) -> None:
    bench.spoil(bench.die, TOP, f"{TOP}\n{clamp(FORCE)}")
    assert read_die(bench.die).placing.clamps == (Clamp(0, 600, 60e3),)


def test_keys_make_a_die_keyed() -> None:
    with pytest.raises(ValueError, match="is keyed"):
        Placing(keys=(Key(0, 0, 0),))
    with pytest.raises(ValueError, match="is coned"):
        Placing(cones=(LocatingCone(0, 0),))


DIE_REFUSES = [
    (clamp('lever = "50 %"'), "die.clamps[1]", "neither a force nor a bolt", "either force", 'force = "60 kN"'),
    (clamp(f'force = "60 kN", {BOLT}'), "die.clamps[1]", "a force and a bolt as well", "either force", "M24"),
    (clamp('force = "60 kN", lever = 0.5'), "die.clamps[1]", "lever belongs to a bolt", "beside bolt", "lever out"),
    (clamp(BOLT.replace("M24", "M23")), "die.clamps[1].bolt.thread", "not known", '"M24x2"', 'did you mean "M'),
    (clamp(BOLT.replace("8.8", "9.8")), "die.clamps[1].bolt.grade", "not known", '"8.8", "10.9"', 'did you mean "8.8"'),
    (clamp(BOLT.replace("torque wrench", "hand")), "die.clamps[1].bolt.tightening", "not known", '"by feel"', "list"),
    (clamp(f"{BOLT}, lever = 1.2"), "die.clamps[1].lever", "too large", "10 % to 100 %", "check"),
    (
        "keys = [" + KEY.replace(', slot = "90 degree"', "") + "]",
        "die.keys[1].slot",
        "slot is missing",
        "degree",
        "add it",
    ),
    (
        f"keys = [{KEY.replace('500', '720')}]",
        "die.keys[1]",
        "reaches beyond the die base",
        "y -750 to 750 mm",
        "x and y",
    ),
    (f'keys = [{KEY[:-1]}, plya = "1 mm"}}]', "die.keys[1].plya", "not known", "play", 'did you mean "play"?'),
    (f'keys = [{KEY[:-1]}, seat = "slot"}}]', "die.keys[1].seat", "not known", '"T-slot", "keyway"', "T-slot"),
    (f'keys = [{KEY[:-1]}, play = "3 mm"}}]', "die.keys[1].play", "too large", "0 mm to 2 mm", "check"),
    (f"cones = [{CONE.replace('900', '1380')}]", "die.cones[1]", "reaches beyond the die base", "x -1400", "x and y"),
    (
        f'cones = [{CONE[:-1]}, half_angle = "75 degree"}}]',
        "die.cones[1].height",
        "above the tip",
        "up to 16.077 mm",
        "between flank and axis",
    ),
    (f"guides = [{GUIDE.replace('1300', '1401')}]", "die.guides[1]", "stands off the die base", "x -1400", "x and y"),
    (
        "guides = [" + GUIDE.replace('stiffness = "100 kN/mm", ', "") + "]",
        "die.guides[1].stiffness",
        "is missing",
        "kN/mm",
        "",
    ),
    (
        'guide_offset = {x = "0.1 mm", y = "0 mm"}',
        "die.guide_offset",
        "no guide is listed",
        "with guides",
        "[[die.guides]]",
    ),
    (
        f"keys = [{KEY}]\nplacing = {{keyed = false}}",
        "die.placing.keyed",
        "keyed says no",
        "keyed = true",
        "take keyed out",
    ),
    (f"cones = [{CONE}]\nplacing = {{coned = false}}", "die.placing.coned", "lists 1", "coned = true", "or the cones"),
]


@pytest.mark.parametrize(("more", "key", "problem", "allowed", "remedy"), DIE_REFUSES)
def test_die_refuses(bench: Bench, only: Only, more: str, key: str, problem: str, allowed: str, remedy: str) -> None:
    bench.spoil(bench.die, TOP, f"{TOP}\n{more}")
    check(only(bench.die_faults()), key, problem, allowed, remedy)


def check(fault: Fault, key: str, problem: str, allowed: str, remedy: str) -> None:
    assert fault.key == key
    assert fault.line is not None
    assert problem in fault.problem
    assert allowed in fault.allowed
    assert remedy in fault.remedy


CUT = SLOTS + '\nopenings = [{x = "900 mm", y = "0 mm", length = "400 mm", width = "400 mm"}]'

PAIR_REFUSES = [
    (SLAB, f"keys = [{KEY}]", "die.keys[1]", "states no T-slots", "T-slots in the press file", "add t_slots"),
    (
        SLOTS,
        f"keys = [{KEY.replace('0 mm', '40 mm', 1)}]",
        "die.keys[1]",
        "misses the nearest T-slot by 40 mm",
        "x = 0 mm",
        "move",
    ),
    (SLOTS, f'keys = [{KEY}]\nplacing = {{x = "60 mm"}}', "die.keys[1]", "by 60 mm", "x = 0 mm", "keyway"),
    (SLOTS, f"keys = [{KEY.replace('90', '0')}]", "die.keys[1].slot", "turned by 90 degree", "holds across", "keyway"),
    (
        SLOTS,
        f'keys = [{KEY[:-1]}, width = "36 mm"}}]',
        "die.keys[1].width",
        "a throat of 28 mm",
        "up to 28 mm",
        "width out",
    ),
    (
        CUT,
        'keys = [{x = "800 mm", y = "0 mm", slot = "90 degree"}]',
        "die.keys[1]",
        "over a cut-out",
        "bolster below",
        "move the key",
    ),
    (CUT, f"cones = [{CONE}]", "die.cones[1]", "the cone stands over a cut-out", "bolster below", "move the cone"),
    (
        SLOTS,
        clamp(BOLT.replace("M24", "M30")),
        "die.clamps[1].bolt.thread",
        "M30 does not go into a throat of 28 mm",
        "up to M28",
        "",
    ),
]


@pytest.mark.parametrize(("slab", "more", "key", "problem", "allowed", "remedy"), PAIR_REFUSES)
def test_pair_refuses(
    bench: Bench, only: Only, slab: str, more: str, key: str, problem: str, allowed: str, remedy: str
) -> None:
    bench.spoil(bench.press, SLAB, slab)
    bench.spoil(bench.die, TOP, f"{TOP}\n{more}")
    read_die(bench.die)
    fault = only(bench.case_faults())
    assert fault.file == str(bench.die)
    check(fault, key, problem, allowed, remedy)


@pytest.mark.parametrize(
    "more",
    [
        f"keys = [{KEY}]",
        f"keys = [{KEY.replace('0 mm', '0.4 mm', 1)}]",
        f"keys = [{KEY.replace('90', '-90')}]",
        f'keys = [{KEY}]\nplacing = {{x = "-200 mm"}}',
        'keys = [{x = "0 mm", y = "0 mm", slot = "0 degree"}]\nplacing = {rotation = "90 degree", y = "0 mm"}',
        'keys = [{x = "100 mm", y = "0 mm", slot = "0 degree", seat = "keyway", width = "40 mm"}]',
        clamp(BOLT),
    ],
)
def test_what_fits_is_read(bench: Bench, more: str) -> None:
    bench.spoil(bench.press, SLAB, SLOTS)
    bench.spoil(bench.press, 'width = "2200 mm"', 'width = "3000 mm"')
    bench.spoil(bench.press, 'width = "1400 mm"', 'width = "1800 mm"')
    bench.spoil(bench.die, TOP, f"{TOP}\n{more}")
    read_case(bench.die, bench.press)


def test_every_mistake_is_told_at_once(bench: Bench) -> None:
    bench.spoil(bench.press, SLAB, SLOTS)
    more = f'{clamp("lever = 0.5")}\nkeys = [{KEY.replace("0 mm", "40 mm", 1)}, {KEY[:-1]}, plya = "1 mm"}}]'
    bench.spoil(bench.die, TOP, f"{TOP}\n{more}\ncones = [{CONE.replace('900', '1380')}]")
    assert {fault.key for fault in bench.case_faults()} == {"die.clamps[1]", "die.keys[2].plya", "die.cones[1]"}


def test_schema_knows_what_holds_a_die() -> None:
    validator = Draft202012Validator(schema("die"))
    good = f"{TOP}\n{clamp(BOLT)}\nkeys = [{KEY}]\ncones = [{CONE}]\nguides = [{GUIDE}]"
    assert validator.is_valid(tomllib.loads(DIE.replace(TOP, good, 1)))
    for old, new in (("M24", "M23"), ("slot =", "slit ="), ("clearance", "clearence"), ('"900 mm"', "900")):
        assert not validator.is_valid(tomllib.loads(DIE.replace(TOP, good.replace(old, new), 1)))
    assert set(schema("die")["$defs"]["BoltPart"]["properties"]["thread"]["enum"]) == set(THREADS)

"""Quantities: what is read, what is refused and with which words, what is shown."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deflect import units
from deflect.faults import DeflectError, QuantityRefused
from deflect.units import KINDS, SPELLINGS, Kind, parse, parse_range

READ = [
    ("200 mm", units.LENGTH, 200.0),
    ("200mm", units.LENGTH, 200.0),
    ("  2.8 m ", units.LENGTH, 2800.0),
    ("30 µm", units.LENGTH, 0.03),
    ("30 \u03bcm", units.LENGTH, 0.03),
    ("30 um", units.LENGTH, 0.03),
    ("4 cm", units.LENGTH, 40.0),
    ("2 in", units.LENGTH, 50.8),
    ("2 ft", units.LENGTH, 609.6),
    ("1e3 mm", units.LENGTH, 1000.0),
    ("+5 mm", units.LENGTH, 5.0),
    ("-5 mm", units.LENGTH, -5.0),
    ("\u22125 mm", units.LENGTH, -5.0),
    ("5\u202fmm", units.LENGTH, 5.0),
    (".5 mm", units.LENGTH, 0.5),
    ("5. mm", units.LENGTH, 5.0),
    ("500 N", units.FORCE, 500.0),
    ("60 kN", units.FORCE, 60e3),
    ("10 MN", units.FORCE, 10e6),
    ("1 tf", units.FORCE, 9806.65),
    ("1 lbf", units.FORCE, 4.4482216152605),
    ("12.5 t", units.MASS, 12500.0),
    ("0.8 m2", units.AREA, 0.8e6),
    ("50 cm²", units.AREA, 5000.0),
    ("30 min", units.TIME, 0.5),
    ("11.5 um/m/K", units.EXPANSION, 11.5e-6),
    ("200 mm/µm", units.LENGTH_PER_ERROR, 200e3),
    ("1.5", units.FACTOR, 1.5),
    ("150 %", units.FACTOR, 1.5),
    ("12 lb", units.MASS, 5.44310844),
    ("9500 kg", units.MASS, 9500.0),
    ("210 GPa", units.STRESS, 210e3),
    ("340 MPa", units.STRESS, 340.0),
    ("340 N/mm2", units.STRESS, 340.0),
    ("340 N/mm²", units.STRESS, 340.0),
    ("1000 psi", units.STRESS, 6.894757293168361),
    ("180 degree", units.ANGLE, math.pi),
    ("180 deg", units.ANGLE, math.pi),
    ("180 °", units.ANGLE, math.pi),
    ("2 mrad", units.ANGLE, 0.002),
    ("2 rad", units.ANGLE, 2.0),
    ("0.17 mm/m", units.SLOPE, 0.00017),
    ("170 µm/m", units.SLOPE, 0.00017),
    ("0.002 in/ft", units.SLOPE, 1 / 6000),
    ("5 K", units.TEMPERATURE_DIFFERENCE, 5.0),
    ("5 °C", units.TEMPERATURE_DIFFERENCE, 5.0),
    ("40 N/mm3", units.LAND_STIFFNESS, 40.0),
    ("40 N/mm³", units.LAND_STIFFNESS, 40.0),
    ("1500 kN/mm", units.SPRING_STIFFNESS, 1.5e6),
    ("1500 N/mm", units.SPRING_STIFFNESS, 1500.0),
    ("7850 kg/m3", units.DENSITY, 7.85e-6),
    ("7850 kg/m³", units.DENSITY, 7.85e-6),
    ("7.85 kg/dm3", units.DENSITY, 7.85e-6),
    ("7.85 t/m³", units.DENSITY, 7.85e-6),
    ("60 %", units.SHARE, 0.6),
    ("0.6", units.SHARE, 0.6),
    (0.6, units.SHARE, 0.6),
    (1, units.SHARE, 1.0),
    ("15 %", units.FRICTION, 0.15),
]


@pytest.mark.parametrize(("text", "kind", "value"), READ)
def test_reads(text: object, kind: Kind, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-12)


REFUSED = [
    # a comma, or digits in groups, could be read in two ways
    ("0,2 mm", units.LENGTH, "comma", 'write "0.2 mm"'),
    ("1,5 MN", units.FORCE, "comma", 'write "1.5 MN"'),
    ("0,200 mm", units.LENGTH, "comma", 'write "0.2 mm"'),
    ("10,000 kg", units.MASS, "comma", 'write "10000 kg" or "10 kg", whichever is meant'),
    ("1.234,5 kg", units.MASS, "comma", 'write "1234.5 kg"'),
    ("1,234.5 kg", units.MASS, "comma", 'write "1234.5 kg"'),
    ("1,5,3 mm", units.LENGTH, "comma", "write one number"),
    ("10 000 kg", units.MASS, "groups", 'write "10000 kg"'),
    ("10\u00a0000 kg", units.MASS, "groups", 'write "10000 kg"'),
    ("10'000 kg", units.MASS, "groups", 'write "10000 kg"'),
    ("10\u2019000 kg", units.MASS, "groups", 'write "10000 kg"'),
    ("10_000 kg", units.MASS, "groups", 'write "10000 kg"'),
    ("10 000,5 kg", units.MASS, "groups", 'write "10000.5 kg"'),
    ("10.000 kg", units.MASS, "10.000 may be 10 or 10000", 'write "10 kg" or "10000 kg"'),
    ("12.500 kN", units.FORCE, "12.500 may be 12.5 or 12500", 'write "12.5 kN" or "12500 kN"'),
    ("1.234.567 N", units.FORCE, "several points", 'write "1234567 N"'),
    ("1 2 mm", units.LENGTH, "not one number", "write one number"),
    # tons
    ("12 ton", units.FORCE, "several sizes", 'write "12 tf" for tonne-force, "24000 lbf" for short tons'),
    ("12 tons", units.MASS, "several sizes", 'write "12 t" for tonnes of 1000 kg, "24000 lb"'),
    ("12 to", units.MASS, "several sizes", 'write "12 t"'),
    ("12 ton", units.LENGTH, "several sizes", 'write for example "200 mm"'),
    # units: missing, of another kind, unknown, or in the wrong case
    ("5", units.LENGTH, "the unit is missing", 'write "5 mm"'),
    (200, units.LENGTH, "the unit is missing", 'write "200 mm"'),
    (9500, units.MASS, "the unit is missing", 'write "9500 kg" or "9500 t"'),
    (6.5, units.FORCE, "the unit is missing", 'write "6.5 kN" or "6.5 MN"'),
    ("5 kg", units.FORCE, "kg is the unit of a mass; a force is expected", 'write "kN" or "N"'),
    ("5 t", units.FORCE, "t is the unit of a mass; a force is expected", 'write "tf"'),
    ("5 kN", units.MASS, "kN is the unit of a force; a mass is expected", '"12.5 t"'),
    ("40 N/mm2", units.LAND_STIFFNESS, "N/mm2 is the unit of a stress", '"40 N/mm3"'),
    ("5 KN", units.FORCE, "KN is not known", 'did you mean "kN"?'),
    ("5 MM", units.LENGTH, "MM is not known", 'did you mean "mm"?'),
    ("5 mN", units.FORCE, "mN is not known", 'write "MN"'),
    ("5 mPa", units.STRESS, "mPa is not known", 'did you mean "MPa"?'),
    ("5 inch", units.LENGTH, "inch is not known", 'write "in"'),
    ('5 "', units.LENGTH, "not known", 'write "in"'),
    ("5 bar", units.STRESS, "bar is not known", "1 bar = 0.1 MPa"),
    ("5 furlong", units.LENGTH, "furlong is not known", '"200 mm"'),
    ("5 to 7 mm", units.LENGTH, "no range", "usual one alone"),
    ("60 % to 70 %", units.SHARE, "no range", "usual one alone"),
    ("5 mm 3", units.LENGTH, "mm 3 is not known", 'did you mean "mm"?'),
    # no number at all
    ("", units.LENGTH, "nothing is written", '"200 mm"'),
    ("about 5 mm", units.LENGTH, "does not start with a number", '"200 mm"'),
    ("\u0663 mm", units.LENGTH, "does not start with a number", '"200 mm"'),
    ("nan mm", units.LENGTH, "not a finite figure", "finite"),
    ("inf mm", units.LENGTH, "not a finite figure", "finite"),
    ("-inf mm", units.LENGTH, "not a finite figure", "finite"),
    ("1e999 mm", units.LENGTH, "not a finite figure", "finite"),
    ("1e308 m", units.LENGTH, "not a finite figure", "finite"),
    (math.nan, units.SHARE, "not a finite figure", "finite"),
    (10**400, units.SHARE, "not a finite figure", "finite"),
    (True, units.LENGTH, "a length is expected", '"200 mm"'),
    (True, units.SHARE, "a share is expected", '"60 %"'),
    (["5 mm"], units.LENGTH, "a length is expected", '"200 mm"'),
    ("5 mm" + " " * 5 + "m" * 90, units.LENGTH, "characters are no quantity", '"200 mm"'),
]


@pytest.mark.parametrize(("text", "kind", "problem", "remedy"), REFUSED)
def test_refuses_with_words(text: object, kind: Kind, problem: str, remedy: str) -> None:
    with pytest.raises(QuantityRefused) as refused:
        parse(text, kind)
    assert problem in refused.value.problem
    assert remedy in refused.value.remedy
    assert refused.value.allowed
    assert isinstance(refused.value, DeflectError)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_refusal_names_every_allowed_unit(kind: Kind) -> None:
    with pytest.raises(QuantityRefused) as refused:
        parse("5 xyz", kind)
    assert all(unit in refused.value.allowed for unit in kind.units)
    assert kind.name in refused.value.allowed


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_examples_are_themselves_allowed(kind: Kind) -> None:
    assert math.isfinite(parse(kind.example, kind))


def test_no_unit_has_two_kinds() -> None:
    written = [unit for kind in KINDS if not kind.bare for unit in kind.units]
    assert len(written) == len(set(written))
    assert set(SPELLINGS).isdisjoint(written)
    assert set(SPELLINGS.values()) <= set(written)


@given(
    kind=st.sampled_from(KINDS),
    number=st.floats(-1e6, 1e6, allow_nan=False).map(lambda x: float(f"{x:.6g}")),
    data=st.data(),
)
def test_every_unit_reads_as_number_times_size(kind: Kind, number: float, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(sorted(kind.units)))
    assert parse(f"{number:.7e} {unit}", kind) == pytest.approx(number * kind.units[unit], rel=1e-9, abs=1e-300)


@given(st.text(max_size=100), st.sampled_from(KINDS))
def test_any_text_is_read_or_refused(text: str, kind: Kind) -> None:
    try:
        value = parse(text, kind)
    except QuantityRefused as refused:
        value, told = 0.0, refused.problem
    else:
        told = ""
    assert math.isfinite(value)
    assert told.isprintable()


RANGES = [
    ("20 to 100 N/mm3", units.LAND_STIFFNESS, (20, math.sqrt(2000), 100)),
    ("20 N/mm3 to 100 N/mm³", units.LAND_STIFFNESS, (20, math.sqrt(2000), 100)),
    ("40 N/mm3", units.LAND_STIFFNESS, (40, 40, 40)),
    ("0.1 to 0.2", units.FRICTION, (0.1, math.sqrt(0.02), 0.2)),
    ("10 to 20 %", units.FRICTION, (0.1, math.sqrt(0.02), 0.2)),
    ("0 to 0.1 mm/m", units.SLOPE, (0, 5e-5, 1e-4)),
    ("1 cm to 2 m", units.LENGTH, (10, 1005, 2000)),
    ({"low": 0.1, "usual": "15 %", "high": "0.2"}, units.FRICTION, (0.1, 0.15, 0.2)),
    ({"low": "20 N/mm3", "usual": "30 N/mm3", "high": "90 N/mm3"}, units.LAND_STIFFNESS, (20, 30, 90)),
]


@pytest.mark.parametrize(("written", "kind", "values"), RANGES)
def test_reads_ranges(written: object, kind: Kind, values: tuple[float, float, float]) -> None:
    assert parse_range(written, kind) == pytest.approx(values, rel=1e-12)


REFUSED_RANGES = [
    ("100 to 20 N/mm3", units.LAND_STIFFNESS, "does not rise", "low end first"),
    ("20-100 N/mm3", units.LAND_STIFFNESS, "with the word to", 'write "20 to 100 N/mm3"'),
    ("20 \u2013 100 N/mm3", units.LAND_STIFFNESS, "with the word to", 'write "20 to 100 N/mm3"'),
    ("20 to 100", units.LAND_STIFFNESS, "the unit is missing", '"100 N/mm3"'),
    ("0,1 to 0.2 %", units.FRICTION, "comma", 'write "0.1 %"'),
    ({"low": 0.1, "high": 0.2}, units.FRICTION, "low, usual and high", "write all three"),
    ({"low": 0.3, "usual": 0.15, "high": 0.2}, units.FRICTION, "does not rise", "low end first"),
    ({"low": 0.1, "usual": "0,15", "high": 0.2}, units.FRICTION, "usual: 0,15 has a comma", 'write "0.15"'),
]


@pytest.mark.parametrize(("written", "kind", "problem", "remedy"), REFUSED_RANGES)
def test_refuses_ranges_with_words(written: object, kind: Kind, problem: str, remedy: str) -> None:
    with pytest.raises(QuantityRefused) as refused:
        parse_range(written, kind)
    assert problem in refused.value.problem
    assert remedy in refused.value.remedy


@given(st.sampled_from(KINDS), st.floats(0, 1e6), st.floats(0, 1e6))
def test_usual_value_lies_in_its_range(kind: Kind, one: float, other: float) -> None:
    low, high = sorted((one, other))
    unit = next(iter(kind.units))
    ends = parse_range(f"{low:.17e} to {high:.17e} {unit}", kind)
    assert ends[0] <= ends[1] <= ends[2]


SHOWN = [
    (units.show_length(2800.0), "2800 mm"),
    (units.show_length(0.15), "0.15 mm"),
    (units.show_length(-0.0001), "0 mm"),
    (units.show_deflection(0.12), "0.120 mm"),
    (units.show_deflection(-0.0001), "0.000 mm"),
    (units.show_micrometres(0.00152), "1.5 µm"),
    (units.show_point(-675.2, -0.3), "x = −675 mm, y = 0 mm"),
    (units.show_force(12.5e6), "12.5 MN"),
    (units.show_force(437.5e3), "437.5 kN"),
    (units.show_force(-437.5e3), "-437.5 kN"),
    (units.show_force(20.0), "20 N"),
    (units.show_mass(12400.0), "12.4 t"),
    (units.show_mass(850.0), "850 kg"),
    (units.show_stress(120.0), "120 MPa"),
    (units.show_stress(210e3), "210 GPa"),
    (units.show_angle(math.pi / 2), "90 degree"),
    (units.show_slope(1 / 6000), "0.167 mm/m"),
    (units.show_share(0.125), "12.5 %"),
    (units.show_density(7.85e-6), "7850 kg/m³"),
    (units.show_land_stiffness(43.75), "43.75 N/mm³"),
    (units.show_spring_stiffness(1.5e6), "1500 kN/mm"),
]


@pytest.mark.parametrize(("shown", "expected"), SHOWN)
def test_shows(shown: str, expected: str) -> None:
    assert shown == expected


@given(st.floats(-1e9, 1e9))
def test_shown_forces_read_back_to_what_is_shown(newton: float) -> None:
    """Rounding is to 0.001 MN, 0.1 kN or 1 N by the size of the force: never more than half of that."""
    half_a_step = 500.0 if abs(newton) >= 1e6 else 50.0 if abs(newton) >= 1e3 else 0.5
    shown = units.show_force(newton)
    try:
        back = parse(shown, units.FORCE)
    except QuantityRefused:
        assert "may be" in str(shown) or "." in shown
        return
    assert back == pytest.approx(newton, rel=1e-9, abs=half_a_step * (1 + 1e-6))

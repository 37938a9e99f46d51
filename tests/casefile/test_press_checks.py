"""Cross-checks within a press file, and what they must let pass."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from case_bench import Bench

from deflect.casefile import read_press
from deflect.faults import Fault

Only = Callable[[tuple[Fault, ...]], Fault]

OPENING = 'opening = {length = "3000 mm", width = "1400 mm"}'

REFUSED = [
    (
        OPENING,
        'opening = {length = "4100 mm", width = "1400 mm"}',
        "press.bed.opening",
        "beyond the bolster",
        "4000 mm by 2200 mm",
        "check length and width",
    ),
    (
        OPENING,
        'opening = {length = "3000 mm", width = "1400 mm", x = "600 mm"}',
        "press.bed.opening",
        "beyond",
        "inside the bolster",
        "x and y of the opening",
    ),
    (
        OPENING,
        'opening = {length = "4000 mm", width = "2200 mm"}',
        "press.bed.opening",
        "no land to rest on",
        "10 mm or more left and right, or front and back",
        "smaller",
    ),
    (
        OPENING,
        'opening = {length = "3000 mm", width = "1400 mm", x = "500 mm", y = "400 mm"}',
        "press.bed.opening",
        "no land to rest on",
        "10 mm or more",
        "place",
    ),
    (
        OPENING,
        'opening = {length = "3998 mm", width = "1400 mm"}',
        "press.bed.opening",
        "narrower than 10 mm at left and right",
        "no land, or 10 mm or more",
        "check the sizes",
    ),
    (
        "[press.bed.land]",
        'hold_downs = [{x = "0 mm", y = "0 mm", preload = "9 kN", stiffness = "9 kN/mm"}]\n[press.bed.land]',
        "press.bed.hold_downs[1]",
        "over the bed opening",
        "places on the land",
        "bolster's centre",
    ),
    (
        "[press.bed.land]",
        'hold_downs = [{x = "2.1 m", y = "0 mm", preload = "9 kN", stiffness = "9 kN/mm"}]\n[press.bed.land]',
        "press.bed.hold_downs[1]",
        "beside the bolster",
        "x -2000 to 2000 mm",
        "check x and y",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\nopenings = [{x = "0 mm", y = "900 mm", length = "1 m", width = "500 mm"}]',
        "press.bolster.openings[1]",
        "beyond the bolster",
        "y -1100 to 1100 mm",
        "check its place",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\nopenings = [{x = "0 mm", y = "0 mm", length = "1 m", width = "2200 mm"}]',
        "press.bolster.openings[1]",
        "parts the bolster in two",
        "left and right",
        "smaller",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\nopenings = [{x = "0 mm", y = "0 mm", length = "1 m", width = "1 m"}, '
        '{x = "900 mm", y = "0 mm", length = "1 m", width = "1 m"}]',
        "press.bolster.openings[2]",
        "overlaps cut-out 1",
        "do not overlap",
        "join them",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\npin_holes = {pitch = "50 mm", diameter = "50 mm"}',
        "press.bolster.pin_holes.diameter",
        "leave next to nothing at a pitch of 50 mm",
        "at most 45 mm",
        "check diameter",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\npin_holes = {pitch = "150 mm", diameter = "50 mm", '
        'region = {x = "0 mm", y = "0 mm", length = "5 m", width = "1 m"}}',
        "press.bolster.pin_holes.region",
        "beyond the bolster",
        "x -2000 to 2000 mm",
        "check its place",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\nt_slots = {width = "60 mm", pitch = "60 mm", direction = "y"}',
        "press.bolster.t_slots.width",
        "leave nothing at a pitch of 60 mm",
        "smaller than the pitch",
        "check width",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\nmass = "150 t"',
        "press.bolster.mass",
        "above that of the solid slab, 15.2 t",
        "1.5 times",
        "leave the mass out",
    ),
    (
        "[press.cushion]",
        '[press.acceptance]\nslope = "0.17 mm/m"\nreference_length = "4.5 m"\n[press.cushion]',
        "press.acceptance.reference_length",
        "larger than the bolster",
        "up to 4000 mm",
        "on the bolster's top",
    ),
    (
        'force = "2 MN"',
        'force = "11 MN"',
        "press.cushion.force",
        "stronger than the press",
        "rated force",
        "check both",
    ),
    (
        'stiffness = "20 to 100 N/mm3"',
        "from_allowance = true",
        "press.bed.land",
        "no allowed deflection is given",
        "[press.acceptance] with slope",
        "0.17 mm/m",
    ),
    (
        '[press.bed.land]\nstiffness = "20 to 100 N/mm3"',
        "",
        "press.bed.land",
        "no land is described",
        "stiffness or walls",
        "give",
    ),
    (
        'stiffness = "20 to 100 N/mm3"',
        'stiffness = "40 N/mm3"\nwalls = {share = "25 %", height = "1.2 m"}',
        "press.bed.land",
        "described by stiffness and walls",
        "exactly one of",
        "keep one",
    ),
    ('stiffness = "20 to 100 N/mm3"', "", "press.bed.land", "described by none", "exactly one of", "keep one"),
    (
        'stiffness = "20 to 100 N/mm3"',
        "from_allowance = false",
        "press.bed.land.from_allowance",
        "describes no land",
        "true",
        "walls",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "problem", "allowed", "remedy"), REFUSED)
def test_refuses(
    bench: Bench, only: Only, old: str, new: str, key: str, problem: str, allowed: str, remedy: str
) -> None:
    bench.spoil(bench.press, old, new)
    fault = only(bench.press_faults())
    assert fault.key == key
    assert fault.line is not None
    assert problem in fault.problem
    assert allowed in fault.allowed
    assert remedy in fault.remedy


RATED = 'rated_force = "10 MN"'
SLIDE = "[press.cushion]"
MOUNTING = [
    (
        RATED,
        RATED + '\nshut_height = "400 mm"\nslide_adjustment = "400 mm"',
        "press.slide_adjustment",
        "leaves nothing of the shut height of 400 mm",
        "less than",
        "the greatest one",
    ),
    (
        RATED,
        RATED + '\nforce_over_height = [{height = "7 mm", force = "11 MN"}]',
        "press.force_over_height[1].force",
        "more here than its rated force",
        "up to 10 MN",
        "check both",
    ),
    (
        RATED,
        RATED + '\nforce_over_height = [{height = "7 mm", force = "9 MN"}, {height = "7 mm", force = "8 MN"}]',
        "press.force_over_height[2]",
        "height does not rise",
        "from the lowest to the highest",
        "in order",
    ),
    (
        RATED,
        RATED + '\nforce_over_height = [{height = "7 mm", force = "8 MN"}, {height = "9 mm", force = "9 MN"}]',
        "press.force_over_height[2]",
        "force rises with height",
        "does not rise",
        "in order",
    ),
    (
        SLIDE,
        '[press.slide]\nt_slots = {width = "60 mm", pitch = "60 mm", direction = "y"}\n' + SLIDE,
        "press.slide.t_slots.width",
        "leave nothing at a pitch of 60 mm",
        "smaller than the pitch",
        "check width",
    ),
    (
        'thickness = "220 mm"',
        'thickness = "220 mm"\nt_slots = {width = "36 mm", pitch = "200 mm", direction = "y", bolt = "42 mm"}',
        "press.bolster.t_slots.bolt",
        "do not go into a throat of 36 mm",
        "width of the throat",
        "leave the bolt out",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "problem", "allowed", "remedy"), MOUNTING)
def test_refuses_mounting_figures(
    bench: Bench, only: Only, old: str, new: str, key: str, problem: str, allowed: str, remedy: str
) -> None:
    test_refuses(bench, only, old, new, key, problem, allowed, remedy)


PASSES = [
    (RATED, RATED + '\nforce_over_height = [{height = "0 mm", force = "10 MN"}, {height = "9 mm", force = "10 MN"}]'),
    (RATED, RATED + '\nshut_height = "900 mm"\nslide_adjustment = "0 mm"'),
    (SLIDE, '[press.slide]\npermitted_mass = "9 t"\n' + SLIDE),
    (OPENING, 'opening = {length = "4000 mm", width = "1400 mm"}'),
    (OPENING, 'opening = {length = "3000 mm", width = "1400 mm", x = "490 mm", y = "-390 mm"}'),
    (OPENING, OPENING + '\nhold_downs = [{x = "1500 mm", y = "0 mm", preload = "9 kN", stiffness = "9 kN/mm"}]'),
    ('thickness = "220 mm"', 'thickness = "220 mm"\nmass = "16 t"'),
    ('thickness = "220 mm"', 'thickness = "220 mm"\npin_holes = {pitch = "150 mm", diameter = "135 mm"}'),
    ('force = "2 MN"', 'force = "10 MN"'),
]


@pytest.mark.parametrize(("old", "new"), PASSES)
def test_lets_pass(bench: Bench, old: str, new: str) -> None:
    bench.spoil(bench.press, old, new)
    read_press(bench.press)


def test_land_from_allowance_with_an_allowance(bench: Bench) -> None:
    bench.spoil(bench.press, 'stiffness = "20 to 100 N/mm3"', "from_allowance = true")
    bench.add(bench.press, '[press.acceptance]\nslope = "0.17 mm/m"')
    assert read_press(bench.press).bed.land.stiffness is None

"""Cross-checks within a die file, and between a die and a press."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from case_bench import Bench

from deflect.casefile import read_case, read_die
from deflect.faults import Fault
from deflect.model.force import Line, Patch

Only = Callable[[tuple[Fault, ...]], Fault]

AT = 'x = "0 mm"\ny = "0 mm"\nlength = "800 mm"\nwidth = "500 mm"'
THICK = 'thickness = "320 mm"'
TOP = 'name = "Test die"'

DIE = [
    (
        AT,
        AT.replace('x = "0 mm"', 'x = "1100 mm"'),
        "die.forces[1]",
        "the patch reaches beyond the die base",
        "x -1400 to 1400 mm",
        "check place and size",
    ),
    (
        'kind = "patch"\n' + AT,
        'kind = "line"\npoints = [["0 mm", "0 mm"], ["0 mm", "800 mm"]]',
        "die.forces[1]",
        "for example at 0, 800 mm",
        "y -750 to 750 mm",
        "check place",
    ),
    (
        'kind = "patch"\n' + AT,
        'kind = "ring"\nx = "0 mm"\ny = "0 mm"\nouter_length = "3 m"\nouter_width = "1 m"\n'
        'inner_length = "2 m"\ninner_width = "0.5 m"',
        "die.forces[1]",
        "the ring reaches beyond",
        "x -1400",
        "check place",
    ),
    (
        TOP,
        TOP + '\nclamps = [{x = "1500 mm", y = "0 mm", force = "60 kN"}]',
        "die.clamps[1]",
        "stands off the die base",
        "x -1400 to 1400 mm",
        "not from the table's",
    ),
    (
        TOP,
        TOP + '\nshims = [{x = "1200 mm", y = "0 mm", length = "600 mm", width = "1 m", thickness = "0.1 mm"}]',
        "die.shims[1]",
        "the shim",
        "x -1400",
        "check",
    ),
    (
        TOP,
        TOP + '\ncushion_force = "6 MN"',
        "die.cushion_force",
        "not below the working force of 6 MN",
        "less than",
        "slide gives",
    ),
    (
        'height = "550 mm"',
        'height = "300 mm"',
        "die.lower.height",
        "lower than its own base of 320 mm",
        "or more",
        "underside",
    ),
    (
        THICK,
        THICK + '\nbearing = {kind = "frame"}',
        "die.base.bearing",
        "takes width and not areas",
        "frame: width",
        "frame",
    ),
    (
        THICK,
        THICK + '\nbearing = {kind = "pads", width = "1 m"}',
        "die.base.bearing",
        "takes areas and not width",
        "areas",
        "areas",
    ),
    (
        THICK,
        THICK + '\nbearing = {kind = "frame", width = "750 mm"}',
        "die.base.bearing.width",
        "leaves no hollow",
        "less than 750 mm",
        'bearing = "full"',
    ),
    (
        THICK,
        THICK + '\nbearing = {kind = "pads", areas = []}',
        "die.base.bearing.areas",
        "the list has 0 entries",
        "at least 1",
        "add",
    ),
    (
        THICK,
        THICK + '\nbearing = {kind = "pads", areas = [{x = "1 m", y = "0 m", length = "1 m", width = "1 m"}]}',
        "die.base.bearing.areas[1]",
        "beyond the die base",
        "x -1400",
        "check",
    ),
    (
        THICK,
        THICK + '\nbearing = {kind = "strips", areas = [{x = "0 m", y = "0 m", length = "1 m", width = "1 m"}, '
        '{x = "0.5 m", y = "0 m", length = "1 m", width = "1 m"}]}',
        "die.base.bearing.areas[2]",
        "overlaps area 1",
        "overlap",
        "join",
    ),
    (AT, AT + '\nshare = "60 %"', "die.forces", "add up to 0.6", "1 (100 %)", "add 0.4"),
    (
        AT,
        AT + '\nshare = "60 %"\n[[die.forces]]\nkind = "patch"\nshare = 0.5\n' + AT,
        "die.forces",
        "add up to 1.1",
        "1 (100 %)",
        "take off 0.1",
    ),
    (
        AT,
        AT + '\nshare = "60 %"\n[[die.forces]]\nkind = "patch"\n' + AT,
        "die.forces[2]",
        "missing in pattern 2 of 2",
        "in every",
        "40 %",
    ),
    (
        AT,
        AT + '\n[[die.forces]]\nkind = "patch"\n' + AT,
        "die.forces[1]",
        "missing in pattern 1, 2 of 2",
        "in every",
        "share",
    ),
]

DIE += [
    (
        TOP,
        TOP + '\nclosed_height = "549 mm"',
        "die.closed_height",
        "lower than one of its halves, 550 mm",
        "550 mm or more",
        "the die shut",
    ),
    (
        'height = "550 mm"',
        'height = "550 mm"\nflange = {slots = [["0 mm", "-700 mm"], ["0 mm", "760 mm"]]}',
        "die.lower.flange.slots[2]",
        "lies off the lower half",
        "y -750 to 750 mm",
        "not from the table's",
    ),
    (
        'height = "500 mm"',
        'height = "500 mm"\nwidth = "1400 mm"\nflange = {slots = [["0 mm", "740 mm"]]}',
        "die.upper.flange.slots[1]",
        "lies off the upper half",
        "y -700 to 700 mm",
        "not from the table's",
    ),
    (
        'height = "500 mm"',
        'height = "30 mm"\nflange = {thickness = "31 mm"}',
        "die.upper.flange.thickness",
        "thicker than the upper half is high, 30 mm",
        "up to 30 mm",
        "check both",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "problem", "allowed", "remedy"), DIE)
def test_die_refuses(
    bench: Bench, only: Only, old: str, new: str, key: str, problem: str, allowed: str, remedy: str
) -> None:
    bench.spoil(bench.die, old, new)
    fault = only(bench.die_faults())
    assert fault.key == key
    assert fault.line is not None
    assert problem in fault.problem
    assert allowed in fault.allowed
    assert remedy in fault.remedy


PAIR = [
    (
        'length = "2800 mm"',
        'length = "4100 mm"',
        "die.base",
        "larger than the table",
        "4000 mm by 2200 mm",
        "larger press",
    ),
    (
        TOP,
        TOP + '\nplacing = {x = "700 mm"}',
        "die.placing",
        "100 mm over its right edge",
        "at its place",
        "[die.placing]",
    ),
    (
        TOP,
        TOP + '\nplacing = {x = "-700 mm", y = "-400 mm"}',
        "die.placing",
        "100 mm over its left edge and 50 mm over its front edge",
        "4000 mm by",
        "check x, y",
    ),
    (
        TOP,
        TOP + '\nplacing = {rotation = "90 degree"}',
        "die.placing",
        "300 mm over its front edge",
        "turn",
        "rotation",
    ),
    (TOP, TOP + '\nplacing = {rotation = "45 degree"}', "die.placing", "over its front edge", "turn", "rotation"),
    (
        TOP,
        TOP + '\ncushion_force = "2.1 MN"',
        "die.cushion_force",
        "more than the cushion gives, 2 MN",
        "up to 2 MN",
        "lower",
    ),
]


@pytest.mark.parametrize(("old", "new", "key", "problem", "allowed", "remedy"), PAIR)
def test_pair_refuses(
    bench: Bench, only: Only, old: str, new: str, key: str, problem: str, allowed: str, remedy: str
) -> None:
    bench.spoil(bench.die, old, new)
    read_die(bench.die)
    fault = only(bench.case_faults())
    assert (fault.key, fault.file) == (key, str(bench.die))
    assert fault.line is not None
    assert problem in fault.problem
    assert allowed in fault.allowed
    assert remedy in fault.remedy


def test_cushion_force_without_a_cushion(bench: Bench, only: Only) -> None:
    bench.spoil(bench.press, '[press.cushion]\nforce = "2 MN"', "")
    bench.spoil(bench.die, TOP, TOP + '\ncushion_force = "1 MN"')
    fault = only(bench.case_faults())
    assert fault.line == 3
    assert "the die asks for 1 MN of cushion force and the press has no cushion" in fault.problem


CUT = 'openings = [{x = "-400 mm", y = "0 mm", length = "800 mm", width = "1 m"}, '
CUT += '{x = "400 mm", y = "0 mm", length = "800 mm", width = "1 m"}]'
SMALL = [
    ('length = "2800 mm"\nwidth = "1500 mm"', 'length = "1500 mm"\nwidth = "900 mm"'),
    (AT, AT.replace("800", "700")),
]


def test_die_wholly_over_cut_outs(bench: Bench, only: Only) -> None:
    """The base spans two cut-outs that meet: neither holds it alone, and nothing carries it."""
    bench.spoil(bench.press, 'thickness = "220 mm"', f'thickness = "220 mm"\n{CUT}')
    for old, new in SMALL:
        bench.spoil(bench.die, old, new)
    fault = only(bench.case_faults())
    assert fault.key == "die.placing"
    assert "nothing below it" in fault.problem


@pytest.mark.parametrize("placing", ['{y = "100 mm"}', '{rotation = "30 degree"}'])
def test_die_partly_over_cut_outs(bench: Bench, placing: str) -> None:
    bench.spoil(bench.press, 'thickness = "220 mm"', f'thickness = "220 mm"\n{CUT}')
    for old, new in [*SMALL, (TOP, f"{TOP}\nplacing = {placing}")]:
        bench.spoil(bench.die, old, new)
    read_case(bench.die, bench.press)


def test_pads_over_a_cut_out_do_not_carry(bench: Bench, only: Only) -> None:
    """The base reaches over the edge of the cut-out; its one pad does not."""
    bench.spoil(bench.press, 'thickness = "220 mm"', f'thickness = "220 mm"\n{CUT}')
    pads = '{kind = "pads", areas = [{x = "0 mm", y = "0 mm", length = "600 mm", width = "500 mm"}]}'
    bench.spoil(bench.die, THICK, f"{THICK}\nbearing = {pads}")
    assert "nothing below it" in only(bench.case_faults()).problem


def test_die_wholly_over_the_bed_opening_is_usual(bench: Bench) -> None:
    for old, new in SMALL:
        bench.spoil(bench.die, old, new)
    assert read_case(bench.die, bench.press).table_force == pytest.approx(6e6)


def test_working_force_above_rated_force_is_no_refusal(bench: Bench) -> None:
    bench.spoil(bench.die, '"6 MN"', '"20 MN"')
    assert read_case(bench.die, bench.press).die.working_force == pytest.approx(20e6)


def test_base_may_pass_the_edge_by_half_a_millimetre_only(bench: Bench) -> None:
    bench.spoil(bench.die, TOP, f'{TOP}\nplacing = {{x = "600.4 mm"}}')
    read_case(bench.die, bench.press)
    bench.spoil(bench.die, "600.4", "600.6")
    assert len(bench.case_faults()) == 1


def test_single_pattern_takes_the_whole_force(bench: Bench) -> None:
    pattern = read_die(bench.die).patterns[0]
    assert isinstance(pattern, Patch)
    assert pattern.share == 1.0


def test_rounded_shares_are_scaled_to_one(bench: Bench) -> None:
    bench.spoil(bench.die, AT, AT + "\nshare = 0.333")
    bench.add(bench.die, f'[[die.forces]]\nkind = "patch"\nshare = 0.333\n{AT}\n' * 2)
    patterns = read_die(bench.die).patterns
    assert [pattern.share for pattern in patterns] == pytest.approx([1 / 3] * 3)


def test_closed_line_returns_to_its_start(bench: Bench) -> None:
    points = '[["0 mm", "0 mm"], ["900 mm", "0 mm"], ["0 mm", "500 mm"]]'
    bench.spoil(bench.die, 'kind = "patch"\n' + AT, f'kind = "line"\nclosed = true\npoints = {points}')
    (line,) = read_die(bench.die).patterns
    assert isinstance(line, Line)
    assert line.points == ((0, 0), (900, 0), (0, 500), (0, 0))


def test_frame_is_a_band_along_the_edges(bench: Bench) -> None:
    bench.spoil(bench.die, THICK, f'{THICK}\nbearing = {{kind = "frame", width = "200 mm"}}')
    base = read_die(bench.die).base
    assert sum(area.area for area in base.bearing) == pytest.approx(2800 * 1500 - 2400 * 1100)
    assert all(base.plan.contains(area) for area in base.bearing)

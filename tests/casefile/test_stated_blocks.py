"""What stands on the base of a half: its mass, and what cannot be."""

from __future__ import annotations

import pytest
from case_bench import DIE, Bench

from deflect.casefile import read_die

BLOCK = """\
blocks = [{name = "punch", x = "0 mm", y = "100 mm", length = "1000 mm", width = "600 mm", \
low = "320 mm", high = "520 mm", filling = "50 %"}]
"""
LOWER = '[die.lower]\nheight = "550 mm"\n'


def with_block(block: str = BLOCK, more: str = "") -> str:
    return DIE.replace(LOWER, LOWER + more + block)


def test_a_half_whose_mass_is_left_out_weighs_base_and_blocks(bench: Bench) -> None:
    """2800 x 1500 x 320 mm of ductile iron at 7.2 t/m3, and half of 1000 x 600 x 200 mm."""
    bench.die.write_text(with_block(), encoding="utf-8")
    die = read_die(bench.die)
    (block,) = die.lower.blocks
    assert block.mass == pytest.approx(1000 * 600 * 200 * 0.5 * 7.2e-6)
    assert die.lower.mass == pytest.approx(2800 * 1500 * 320 * 7.2e-6 + block.mass)
    assert die.lower.mass_range.is_exact


def test_a_block_may_be_weighed(bench: Bench) -> None:
    bench.die.write_text(with_block(BLOCK.replace('filling = "50 %"', 'mass = "700 kg"')), encoding="utf-8")
    assert read_die(bench.die).lower.blocks[0].mass == 700.0


@pytest.mark.parametrize(
    ("block", "more", "told"),
    [
        (BLOCK.replace('"520 mm"', '"300 mm"'), "", "ends no higher than it begins"),
        (BLOCK.replace('"520 mm"', '"600 mm"'), "", "ends above the half"),
        (BLOCK.replace('"320 mm"', '"310 mm"'), "", "begins within the solid base, which is 320 mm thick"),
        (BLOCK.replace('"100 mm"', '"1000 mm"'), "", "reaches beyond the half"),
        (BLOCK, 'mass = "9 t"\n', "more than the half"),
    ],
)
def test_blocks_that_cannot_be_are_refused(bench: Bench, block: str, more: str, told: str) -> None:
    bench.die.write_text(with_block(block, more), encoding="utf-8")
    assert any(told in fault.problem for fault in bench.die_faults())


def test_one_block_that_is_no_list_is_told_its_own_heading(bench: Bench) -> None:
    bench.die.write_text(with_block(BLOCK.replace("[{", "{").replace("}]", "}")), encoding="utf-8")
    (fault,) = bench.die_faults()
    assert fault.remedy.endswith("under the heading [[die.lower.blocks]]")


PUNCH = BLOCK.removeprefix("blocks = [").split(", filling")[0]
RIBS = """\
[die.base.ribs]
top = "60 mm"
outer_walls = "60 mm"
along_x = {pitch = "300 mm", thickness = "40 mm"}
along_y = {pitch = "300 mm", thickness = "40 mm"}
pads = [{x = "900 mm", y = "0 mm", length = "400 mm", width = "400 mm"}]
"""


@pytest.mark.parametrize(
    ("blocks", "key", "told"),
    [
        # 0.12 m3 of steel weigh 0.942 t.
        (f'[{PUNCH}, mass = "9 t"}}]', "die.lower.blocks[1].mass", "9.55 times what solid steel of its size does"),
        (f'[{PUNCH}, mass = "500 kg", filling = "50 %"}}]', "die.lower.blocks[1].filling", "and its filling, too"),
        (f'[{PUNCH}, filling = "70 %"}}, {PUNCH}, filling = "40 %"}}]', "die.lower.blocks[2]", "110% of that room"),
        (f"[{PUNCH}}}, {PUNCH}}}]", "die.lower.blocks[2]", "stands in block 1"),
    ],
)
def test_metal_that_cannot_be_is_refused(bench: Bench, blocks: str, key: str, told: str) -> None:
    bench.die.write_text(with_block(f"blocks = {blocks}\n"), encoding="utf-8")
    (fault,) = bench.die_faults()
    assert fault.key == key
    assert told in fault.problem


def test_hollow_blocks_may_stand_in_one_another(bench: Bench) -> None:
    blocks = f'blocks = [{PUNCH}, filling = "60 %"}}, {PUNCH}, filling = "40 %"}}]\n'
    bench.die.write_text(with_block(blocks), encoding="utf-8")
    assert len(read_die(bench.die).lower.blocks) == 2


@pytest.mark.parametrize(
    ("low", "high", "x", "told"),
    [
        ("310 mm", "520 mm", "0 mm", "top skin of the base"),
        ("100 mm", "200 mm", "600 mm", "pads of the base"),
        ("100 mm", "520 mm", "600 mm", "top skin and pads of the base"),
    ],
)
def test_metal_of_a_ribbed_base_is_not_weighed_twice(bench: Bench, low: str, high: str, x: str, told: str) -> None:
    block = PUNCH.replace('"320 mm"', f'"{low}"').replace('"520 mm"', f'"{high}"').replace('"0 mm"', f'"{x}"')
    bench.die.write_text(with_block(f"blocks = [{block}}}]\n") + RIBS, encoding="utf-8")
    (fault,) = bench.die_faults()
    assert fault.key == "die.lower.blocks[1].low"
    assert told in fault.problem


def test_a_block_may_stand_between_the_ribs(bench: Bench) -> None:
    block = PUNCH.replace('"320 mm"', '"0 mm"').replace('"520 mm"', '"200 mm"').replace('"0 mm"', '"-100 mm"', 1)
    bench.die.write_text(with_block(f'blocks = [{block}, filling = "10 %"}}]\n') + RIBS, encoding="utf-8")
    assert read_die(bench.die).lower.blocks[0].low == 0.0

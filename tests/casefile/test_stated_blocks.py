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

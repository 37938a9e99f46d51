"""Processes killed in the middle of a study."""

from __future__ import annotations

from pathlib import Path

import pytest
from killing import disturbed, rows_in, start

from deflect.study.invented import invent_shop

ONLY = ("--screening-only",)


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="looks for workers in /proc")
def test_killed_twice_it_comes_to_the_same_rows(tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    invent_shop(shop, dies=6, presses=3, seed=2, broken=1)
    told = disturbed(shop, tmp_path / "killed", kills=2, total=18, seed=3, more=ONLY)
    assert told
    assert start(shop, tmp_path / "alone", ONLY).wait() == 0
    alone, killed = rows_in(tmp_path / "alone"), rows_in(tmp_path / "killed")
    assert {k: r.compared for k, r in alone.items()} == {k: r.compared for k, r in killed.items()}
    assert len(alone) == 18

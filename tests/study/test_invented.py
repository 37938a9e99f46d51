"""Invented shops: seeded, and refused where something is there already."""

from __future__ import annotations

from pathlib import Path

import pytest

from deflect.faults import OutputRefused
from deflect.model.case import Case
from deflect.study.invented import invent_shop
from deflect.study.rows import Stage
from deflect.study.shop import case_of, read_shop


def texts(folder: Path) -> dict[str, str]:
    return {file.name: file.read_text() for file in sorted(folder.rglob("*.toml"))}


def test_the_same_seed_is_the_same_shop(tmp_path: Path) -> None:
    for name, seed in (("one", 4), ("two", 4), ("other", 5)):
        invent_shop(tmp_path / name, dies=6, presses=3, seed=seed)
    assert texts(tmp_path / "one") == texts(tmp_path / "two") != texts(tmp_path / "other")


def test_all_but_the_broken_can_be_read_and_most_pairs_solved(tmp_path: Path) -> None:
    shop = read_shop(*invent_shop(tmp_path, dies=30, presses=4, seed=6, broken=3))
    assert [die.name for die in shop.dies if die.read.faults] == ["die-27", "die-28", "die-29"]
    assert not any(press.read.faults for press in shop.presses)
    cases = [case_of(die, press, Stage.SCREENING) for press, dies in shop.blocks() for die in dies]
    assert len(cases) == shop.pairs == 120
    assert sum(isinstance(case, Case) for case in cases) > 75


def test_a_folder_with_a_shop_in_it_is_refused(tmp_path: Path) -> None:
    invent_shop(tmp_path, dies=1, presses=1, seed=1)
    with pytest.raises(OutputRefused, match="empty folder"):
        invent_shop(tmp_path, dies=1, presses=1, seed=1)

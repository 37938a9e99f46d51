"""A case file that is changed before it is read, and the number by which two readings can be told apart."""

from __future__ import annotations

from pathlib import Path

import pytest

from deflect.casefile import Changes, demo_cases, read_case
from deflect.faults import CaseRefused

DIE, PRESS = "medlar-form", "alder-10mn"


def test_a_table_adds_a_list_takes_the_place_and_a_key_is_taken_out() -> None:
    changes = Changes({"placing": {"x": "50 mm"}, "clamps": []}, ("closed_height",))
    die = read_case(DIE, PRESS, changes).die
    assert die.placing.x == 50.0
    assert die.placing.keyed, "the rest of the table stays"
    assert die.placing.clamps == ()
    assert die.closed_height is None


def test_a_changed_value_is_refused_in_the_same_words() -> None:
    with pytest.raises(CaseRefused, match="working_force"):
        read_case(DIE, PRESS, Changes({"working_force": "many"}))


def test_a_key_to_be_taken_out_must_be_there() -> None:
    with pytest.raises(CaseRefused, match="to be taken out, and is not there"):
        read_case(DIE, PRESS, Changes(without=("lower.colour",)))


def test_the_hash_tells_one_reading_from_another(tmp_path: Path) -> None:
    read = read_case(DIE, PRESS).input_hash
    assert len(read) == 64
    assert read == read_case(DIE, PRESS).input_hash
    assert read != read_case(DIE, "birch-12mn").input_hash
    assert read != read_case(DIE, PRESS, Changes({"force_height": "7 mm"})).input_hash
    text = demo_cases("press")[PRESS].read_text(encoding="utf-8")
    (tmp_path / "windows.toml").write_bytes(text.replace("\n", "\r\n").encode())
    assert read == read_case(DIE, tmp_path / "windows.toml").input_hash, "line ends do not count"
    (tmp_path / "other.toml").write_text(text.replace('"10 MN"', '"9.9 MN"'), encoding="utf-8")
    assert read != read_case(DIE, tmp_path / "other.toml").input_hash


def test_the_hash_covers_the_press_of_bedding_in(tmp_path: Path) -> None:
    die = demo_cases("die")[DIE].read_text(encoding="utf-8")
    press = demo_cases("press")["larch-16mn"].read_text(encoding="utf-8")
    (tmp_path / "die.toml").write_text(die.replace("../presses/larch-16mn.toml", "bedding.toml"), encoding="utf-8")
    (tmp_path / "bedding.toml").write_text(press, encoding="utf-8")
    before = read_case(tmp_path / "die.toml", PRESS).input_hash
    (tmp_path / "bedding.toml").write_text(press.replace('"500 mm"', '"490 mm"'), encoding="utf-8")
    assert before != read_case(tmp_path / "die.toml", PRESS).input_hash

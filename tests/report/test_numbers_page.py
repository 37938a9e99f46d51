"""The page of headline numbers: what counts as a change, that none goes without its cause, and that it is kept."""

from __future__ import annotations

import copy
from pathlib import Path

import pytest
from click.testing import CliRunner

from deflect.casefile import demo_cases
from deflect.findings import Advice
from deflect.report import __main__ as commands
from deflect.report import numbers, versions

REPORTS = Path(__file__).parents[2] / "reports"


@pytest.fixture(scope="module")
def kept(advice: Advice) -> numbers.Numbers:
    return {"rowan-trim on alder-10mn": numbers.numbers_of(advice)}


def changed(kept: numbers.Numbers, key: str, factor: float) -> numbers.Numbers:
    now = copy.deepcopy(kept)
    now["rowan-trim on alder-10mn"][key]["usual"] *= factor
    return now


def test_a_hundredth_is_no_change_and_a_little_more_is_one(kept: numbers.Numbers) -> None:
    assert numbers.changes(kept, kept) == []
    for key in ("sag_mm", "contact_share_percent"):
        assert numbers.changes(kept, changed(kept, key, 1.009)) == []
        found = numbers.changes(kept, changed(kept, key, 0.97))
        assert [change.number for change in found] == [key]


def test_a_flipped_verdict_an_end_and_a_case_that_is_gone_are_changes(kept: numbers.Numbers) -> None:
    now = copy.deepcopy(kept)
    row = now["rowan-trim on alder-10mn"]
    row["verdict"] = "fit"
    row["strokes_to_tolerance"]["usual"] = None
    assert [change.number for change in numbers.changes(kept, now)] == ["verdict", "strokes_to_tolerance"]
    assert [change.now for change in numbers.changes(kept, {})] == ["gone"]
    assert numbers.changes({}, kept) == [], "a case that comes is no change"


def test_a_change_is_refused_until_its_cause_is_told(kept: numbers.Numbers, tmp_path: Path) -> None:
    first = numbers.changes(kept, changed(kept, "sag_mm", 1.2))
    assert numbers.without_cause(first, tmp_path, "") == first
    assert numbers.without_cause(first, tmp_path, "") == first, "writing it down does not excuse it"
    file = tmp_path / numbers.CAUSES
    told = 'The bed\'s "walls" were measured; E = 0.9 × before \\ so it sags'
    file.write_text(file.read_text().replace('cause = ""', f"cause = {numbers._quoted(told)}"))
    assert numbers.without_cause(first, tmp_path, "") == []
    assert numbers.causes(tmp_path) == {first[0]: told}
    second = numbers.changes(kept, changed(kept, "sag_mm", 1.3))
    assert numbers.without_cause(second, tmp_path, "") == second, "an old cause does not excuse a new change"
    assert numbers.without_cause(second, tmp_path, "the same again") == []
    assert list(numbers.causes(tmp_path).values()) == [told, "the same again"]
    page = numbers.page(kept, numbers.causes(tmp_path), "1")
    assert f"* {told}\n  * {first[0]}" in page


def test_every_demo_die_and_press_is_in_a_pair() -> None:
    dies, presses = zip(*numbers.pairs(), strict=True)
    assert len(set(numbers.pairs())) == len(numbers.pairs())
    assert set(dies) == set(demo_cases("die")), "add the die to cases/pairs.toml"
    assert set(presses) == set(demo_cases("press")), "add the press to cases/pairs.toml"


def test_the_command_refuses_in_words(kept: numbers.Numbers, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The whole run, with numbers in place of solutions: first page, a change without cause, and with one."""

    def run(now: numbers.Numbers, *words: str) -> tuple[int, str]:
        monkeypatch.setattr(commands, "apart", lambda work, *words: now["rowan-trim on alder-10mn"])
        result = CliRunner().invoke(commands.main, ["numbers", "--to", str(tmp_path), *words])
        return result.exit_code, result.output

    assert run(kept)[0] == 0
    first = (tmp_path / numbers.PAGE).read_text()
    assert "None so far" in first
    code, output = run(changed(kept, "greatest_gap_mm", 1.5))
    assert code == 1
    assert "no cause is told" in output
    assert (tmp_path / numbers.PAGE).read_text() == first
    assert run(changed(kept, "greatest_gap_mm", 1.5), "--cause", "a thinner bolster")[0] == 0
    assert "a thinner bolster" in (tmp_path / numbers.PAGE).read_text()


@pytest.mark.skipif(not (REPORTS / numbers.PAGE).is_file(), reason="no page was made yet: see DEVELOPERS.md")
def test_the_page_is_the_one_of_the_numbers_kept() -> None:
    told = numbers.kept(REPORTS / numbers.NUMBERS)
    assert set(told) == {f"{die} on {press}" for die, press in numbers.pairs()}
    assert all(numbers.causes(REPORTS).values())
    page = numbers.page(told, numbers.causes(REPORTS), versions.own())
    assert (REPORTS / numbers.PAGE).read_text(encoding="utf-8") == page

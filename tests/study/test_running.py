"""A study run, stopped, run again, and run on changed files."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from workers_here import HereWorkers

from deflect.casefile import read_case
from deflect.study.bodies import Bodies
from deflect.study.journal import Journal
from deflect.study.rows import Row, Stage
from deflect.study.running import Progress, Settings, run
from deflect.study.shop import read_shop


@pytest.fixture
def own_shop(shop_folder: Path, tmp_path: Path) -> Path:
    """The shop, to be changed."""
    shutil.copytree(shop_folder, tmp_path / "shop")
    return tmp_path / "shop"


def study(shop: Path, journal: Path, workers: HereWorkers, cache: str) -> list[Row]:
    opened = Journal(journal)
    run(read_shop(shop / "dies", shop / "presses"), opened, workers, Settings(screening_only=True, cache=cache))
    rows = list(opened.rows())
    opened.close()
    return rows


def test_every_pair_has_one_row_and_a_bad_file_is_one(
    shop_folder: Path, tmp_path: Path, workers: HereWorkers, cache: str
) -> None:
    rows = study(shop_folder, tmp_path / "j.sqlite", workers, cache)
    assert len(rows) == 8
    bad = [row for row in rows if row.die == "die-3"]
    assert [row.verdict for row in bad] == ["refused", "refused"]
    assert all("die-3.toml, line" in row.message for row in bad)
    solved = [row for row in rows if row.verdict not in ("refused", "failed")]
    assert solved
    assert all(row.gap_mm is not None and row.creep_um is None for row in solved)


def test_what_is_there_is_not_solved_again(shop_folder: Path, tmp_path: Path, workers: HereWorkers, cache: str) -> None:
    first = study(shop_folder, tmp_path / "j.sqlite", workers, cache)
    asked = workers.here.asked
    assert study(shop_folder, tmp_path / "j.sqlite", workers, cache) == first
    assert workers.here.asked == asked


def test_a_changed_file_is_noticed_and_nothing_else_done_again(
    own_shop: Path, tmp_path: Path, workers: HereWorkers, cache: str
) -> None:
    before = study(own_shop, tmp_path / "j.sqlite", workers, cache)
    file = own_shop / "presses" / "press-0.toml"
    text = file.read_text()
    file.write_text("# a remark changes nothing\n" + text)
    asked = workers.here.asked
    assert study(own_shop, tmp_path / "j.sqlite", workers, cache) == before
    assert workers.here.asked == asked
    file.write_text(text.replace('dish = "0.', 'dish = "0.9'))
    after = study(own_shop, tmp_path / "j.sqlite", workers, cache)
    changed = {(row.die, row.press) for row, was in zip(after, before, strict=True) if row.compared != was.compared}
    assert changed
    assert {press for _, press in changed} == {"press-0"}


def test_rows_of_files_that_are_gone_go(own_shop: Path, tmp_path: Path, workers: HereWorkers, cache: str) -> None:
    study(own_shop, tmp_path / "j.sqlite", workers, cache)
    (own_shop / "dies" / "die-1.toml").unlink()
    rows = study(own_shop, tmp_path / "j.sqlite", workers, cache)
    assert {row.die for row in rows} == {"die-0", "die-2", "die-3"}


def test_rows_do_not_depend_on_bodies_being_there(
    shop_folder: Path, tmp_path: Path, workers: HereWorkers, cache: str
) -> None:
    first = study(shop_folder, tmp_path / "one.sqlite", workers, cache)
    second = study(shop_folder, tmp_path / "two.sqlite", workers, str(tmp_path / "bodies"))
    assert [row.compared for row in first] == [row.compared for row in second]


def test_a_damaged_body_is_made_anew(tmp_path: Path) -> None:
    case = read_case("elm-pierce", "cedar-6mn")
    own = Bodies(tmp_path).die(case.die).own.copy()
    (file,) = tmp_path.rglob("*.body")
    whole = file.read_bytes()
    for damaged in (whole[:-9], b"", b"x" + whole[1:]):
        file.write_bytes(damaged)
        assert (Bodies(tmp_path).die(case.die).own == own).all()
        assert file.read_bytes() == whole


def test_progress_tells_rate_and_time_left() -> None:
    told = Progress("screening", done=50, total=200, kept=3, seconds=10.0)
    assert (told.rate, told.left) == (5.0, 30.0)
    assert Progress("screening", 0, 200, 0, 0.0).left is None


def test_a_stale_full_row_goes_with_its_inputs(
    own_shop: Path, tmp_path: Path, workers: HereWorkers, cache: str, opened: Callable[[Path], Journal]
) -> None:
    study(own_shop, tmp_path / "j.sqlite", workers, cache)
    journal = opened(tmp_path / "j.sqlite")
    journal.commit([(Row("die-0", "press-0", Stage.FULL.value, "fit"), "of other inputs")])
    shop = read_shop(own_shop / "dies", own_shop / "presses")
    from deflect.study import running

    stage = running._Stage(shop, journal, workers, Settings(cache=cache), lambda _: None, Stage.FULL)
    stage._count()
    assert [row.stage for row in journal.rows() if (row.die, row.press) == ("die-0", "press-0")] == ["screening"]


@pytest.mark.parametrize(
    ("settings", "expected"), [({}, {"a"}), ({"full": True}, {"a", "b"}), ({"screening_only": True}, set())]
)
def test_full_rows_are_for_open_pairs_or_for_all(
    settings: dict[str, bool],
    expected: set[str],
    shop_folder: Path,
    tmp_path: Path,
    workers: HereWorkers,
    monkeypatch: pytest.MonkeyPatch,
    opened: Callable[[Path], Journal],
) -> None:
    from deflect.study import running
    from deflect.study.pair import Task

    def solved(task: Task) -> Row:
        screened = "open" if task.die == "die-0" else "clear"
        verdict = screened if task.stage is Stage.SCREENING else "fit"
        return Row(task.die, task.press, task.stage.value, verdict)

    monkeypatch.setattr(running, "row_of", solved)
    monkeypatch.setattr(running, "prepare", lambda *_: None)
    journal = opened(tmp_path / "j.sqlite")
    shop = read_shop(shop_folder / "dies", shop_folder / "presses")
    run(shop, journal, workers, Settings(**settings))
    full = {row.die for row in journal.rows() if row.stage == "full" and row.verdict == "fit"}
    names = {"die-0": "a", "die-1": "b", "die-2": "b"}
    assert {names[die] for die in full} == expected
    asked = workers.here.asked
    run(shop, journal, workers, Settings(**settings))
    assert workers.here.asked == asked

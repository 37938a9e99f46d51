"""Reports and studies under faults: two runs at once, kills, damaged and foreign files, disks that refuse."""

from __future__ import annotations

import errno
import os
import sqlite3
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from deflect import outputs
from deflect.casefile import read_case
from deflect.cli import main
from deflect.faults import OutputRefused
from deflect.outputs import alone
from deflect.report import writing
from deflect.report.document import GENERATOR
from deflect.study.bodies import Bodies
from deflect.study.invented import invent_shop
from deflect.study.journal import Journal
from deflect.study.rows import Row, Stage

ROWS = [(Row(f"die-{n}", "press", "screening", "open", gap_mm=n / 100), "digest") for n in range(200)]
PAGE = f'<!DOCTYPE html>\n{GENERATOR}9">\n'


def run(*words: str) -> Result:
    told = CliRunner().invoke(main, list(words))
    assert told.exception is None or isinstance(told.exception, SystemExit), told.exception
    return told


def put_pages(folder: Path, content: str) -> None:
    """A report of two files, each with the same content."""
    files = ("report.html", "result.json")
    writing._put(folder, {file: lambda path: writing._write_text(content, path) for file in files}, lambda: True)


# ---- reports


def test_two_runs_at_once_leave_the_report_of_one_of_them(tmp_path: Path) -> None:
    def often(content: str) -> None:
        for _ in range(60):
            put_pages(tmp_path, content)

    both = [threading.Thread(target=often, args=(content,)) for content in ("one", "two")]
    for thread in both:
        thread.start()
    seen = 0
    while any(thread.is_alive() for thread in both):
        with alone(tmp_path, 60.0, "busy"):
            found = {file.read_text() for file in tmp_path.glob("re*.*")}
            seen += len(found)
            assert found in ({"one"}, {"two"}, set())
    for thread in both:
        thread.join()
    assert seen
    assert sorted(path.name for path in tmp_path.iterdir()) == ["report.html", "result.json"]


def test_a_run_that_is_held_up_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(writing, "PATIENCE", 0.1)
    with (
        alone(tmp_path, 0.0, "busy"),
        pytest.raises(OutputRefused, match="another run is putting its report there"),
    ):
        put_pages(tmp_path, "x")
    assert list(tmp_path.iterdir()) == []


def test_cut_short_over_an_earlier_report_no_result_stands_beside_another_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_pages(tmp_path, "old")
    replace = os.replace

    def cut(source: Path, target: Path) -> None:
        replace(source, target)
        raise SystemExit(1)

    monkeypatch.setattr(os, "replace", cut)
    with pytest.raises(SystemExit):
        put_pages(tmp_path, "new")
    assert [(path.name, path.read_text()) for path in tmp_path.iterdir()] == [("report.html", "new")]


@pytest.mark.parametrize("there", [False, True])
def test_a_folder_that_may_not_be_written_is_told_before_anything_is_solved(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, there: bool
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    monkeypatch.setattr(outputs.tempfile, "TemporaryDirectory", refuse)
    monkeypatch.setattr("deflect.advice.advise", lambda *_, **__: pytest.fail("it was solved"))
    folder = tmp_path / "report"
    if there:
        folder.mkdir()
    told = run("check", "maple-restrike", "birch-12mn", "--report", str(folder))
    assert told.exit_code == 2
    assert "cannot be written" in told.stderr
    assert "the disk is read-only: choose a folder on another disk" in told.stderr
    assert told.stdout == ""


def test_asking_for_a_place_leaves_nothing_behind(tmp_path: Path) -> None:
    (tmp_path / "there").mkdir()
    for folder in (tmp_path / "there", tmp_path / "new" / "below", tmp_path / "there" / "new"):
        writing.require_place(folder)
    assert [path.name for path in tmp_path.rglob("*")] == ["there"]
    (tmp_path / "there" / "report.html").write_text("mine")
    with pytest.raises(OutputRefused, match="not from an earlier report"):
        writing.require_place(tmp_path / "there")


# ---- the journal


@contextmanager
def journal_of(file: Path) -> Iterator[Journal]:
    journal = Journal(file)
    try:
        yield journal
    finally:
        journal.close()


def filled(file: Path) -> Path:
    with journal_of(file) as journal:
        journal.commit(ROWS)
    return file


USES: list[Callable[[Journal], object]] = [
    lambda journal: list(journal.rows()),
    lambda journal: journal.count(),
    lambda journal: journal.done("press", Stage.SCREENING),
    lambda journal: journal.open_dies("press", "open"),
    lambda journal: journal.forget_others(["die-0"], ["press"]),
    lambda journal: journal.drop("press", [f"die-{n}" for n in range(200)], Stage.SCREENING),
    lambda journal: journal.commit(ROWS),
]


@pytest.mark.parametrize("use", USES)
def test_a_journal_damaged_inside_is_refused_in_words(tmp_path: Path, use: Callable[[Journal], object]) -> None:
    file = filled(tmp_path / "journal.sqlite")
    content = bytearray(file.read_bytes())
    for at in range(4096, len(content)):  # every page but the first
        content[at] = 0xA5
    file.write_bytes(content)
    with journal_of(file) as journal, pytest.raises(OutputRefused, match="damaged: move it away"):
        use(journal)


@pytest.mark.parametrize("cut", [0, 50, 5000])
def test_a_journal_cut_short_is_refused_or_begun_anew(tmp_path: Path, cut: int) -> None:
    file = filled(tmp_path / "journal.sqlite")
    file.write_bytes(file.read_bytes()[:cut])
    if cut == 0:  # an empty file is what the library itself begins with
        with journal_of(file) as journal:
            assert list(journal.rows()) == []
    else:
        with pytest.raises(OutputRefused, match=r"damaged|no journal"), journal_of(file) as journal:
            list(journal.rows())


def test_a_journal_of_another_version_is_refused_and_stays(tmp_path: Path) -> None:
    file = filled(tmp_path / "journal.sqlite")
    with closing(sqlite3.connect(file)) as base:
        base.execute("PRAGMA user_version=99")
        base.commit()
    with pytest.raises(OutputRefused, match="no journal of a study of this version: choose another folder"):
        Journal(file)
    with closing(sqlite3.connect(file)) as base:
        assert base.execute("SELECT count(*) FROM rows").fetchone() == (len(ROWS),)


def test_somebody_elses_database_is_left_as_it_is(tmp_path: Path) -> None:
    file = tmp_path / "journal.sqlite"
    with closing(sqlite3.connect(file)) as base:
        base.execute("CREATE TABLE mine (x)")
        base.commit()
    before = file.read_bytes()
    with pytest.raises(OutputRefused, match="no journal"):
        Journal(file)
    assert file.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["journal.sqlite"]


def test_a_full_disk_keeps_what_was_committed(tmp_path: Path) -> None:
    """The library is told that the file may have so many pages and no more: it answers as on a full disk."""
    file = tmp_path / "journal.sqlite"
    with journal_of(file) as journal:
        journal.commit(ROWS[:20])
        (pages,) = journal._base.execute("PRAGMA page_count").fetchone()
        journal._base.execute(f"PRAGMA max_page_count={pages}")
        with pytest.raises(OutputRefused, match="the disk is full: make room and start again"):
            journal.commit(ROWS[20:])
    with journal_of(file) as journal:
        assert len(list(journal.rows())) == 20
        journal.commit(ROWS[20:])
        assert len(list(journal.rows())) == len(ROWS)


# ---- the command


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, str]:
    """Two dies and a press, all of which cannot be read: a study of nothing but messages is quick."""
    folder = tmp_path_factory.mktemp("shop")
    invent_shop(folder, dies=2, presses=1, seed=4, broken=2)
    return str(folder / "dies"), str(folder / "presses")


def test_two_studies_never_share_a_folder(tmp_path: Path, shop: tuple[str, str]) -> None:
    (tmp_path / "bodies").mkdir()
    with alone(tmp_path / "bodies", 0.0, "busy"):
        told = run("study", *shop, "--to", str(tmp_path), "--screening-only", "--workers", "1")
    assert told.exit_code == 2
    assert "another study is running in" in told.stderr
    assert not (tmp_path / "rows.csv").exists()


def test_a_study_in_a_folder_that_is_a_file_is_refused(tmp_path: Path, shop: tuple[str, str]) -> None:
    (tmp_path / "study").write_text("mine")
    told = run("study", *shop, "--to", str(tmp_path / "study"), "--screening-only")
    assert told.exit_code == 2
    assert "a part of the name is a file, not a folder" in told.stderr


# ---- condensed bodies


def test_damage_inside_a_body_is_seen_and_a_full_disk_only_keeps_none(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    die = read_case("elm-pierce", "cedar-6mn").die
    own = Bodies(tmp_path).die(die).own.copy()
    (file,) = tmp_path.rglob("*.body")
    whole = file.read_bytes()
    for damaged in (
        whole[: len(whole) // 2] + bytes([whole[len(whole) // 2] ^ 1]) + whole[len(whole) // 2 + 1 :],  # one bit
        whole.replace(b"body 2", b"body 1", 1),  # of another version
        whole[:40] + b"9" + whole[41:],  # in its head
        whole + b"more",
    ):
        file.write_bytes(damaged)
        assert (Bodies(tmp_path).die(die).own == own).all()
        assert file.read_bytes() == whole
    file.unlink()

    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(outputs, "_write", refuse)
    assert (Bodies(tmp_path).die(die).own == own).all()
    assert [path for path in tmp_path.rglob("*") if path.is_file() or path.name.startswith(".")] == []


# ---- kills


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills processes that it forks")
def test_killed_before_any_step_on_disk_a_report_is_never_half_written(tmp_path: Path) -> None:
    """In a process of its own, for it forks; ``killing_checks.py`` kills whole checks at random moments, too."""
    words = "import sys; from pathlib import Path; from killing_checks import kill_at_each_step as kill; "
    words += "told = kill(Path(sys.argv[1])); print(told.total()); print(*sorted(told), sep=chr(10))"
    told = subprocess.run(
        [sys.executable, "-c", words, str(tmp_path)], cwd=Path(__file__).parent, capture_output=True, text=True
    )
    assert told.returncode == 0, told.stderr
    steps, *states = told.stdout.splitlines()
    assert int(steps) > 10
    assert states == ["part of it without a result", "the earlier one", "the new one"]

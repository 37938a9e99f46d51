"""How a journal begins: one run beside another, and one that is killed while it begins."""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path

import pytest

import deflect.study.journal as journal_module
from deflect.study.journal import Journal

# What hangs is a failure, s.
PATIENCE = 30.0


class Killed(BaseException):
    """A run that ends between two statements."""


def test_runs_that_begin_a_journal_at_once_wait_for_each_other(tmp_path: Path) -> None:
    failed: list[BaseException] = []
    together = threading.Barrier(6)

    def begin(file: Path) -> None:
        together.wait(PATIENCE)
        try:
            Journal(file).close()
        except BaseException as error:
            failed.append(error)

    for number in range(5):
        file = tmp_path / f"{number}.sqlite"
        runs = [threading.Thread(target=begin, args=(file,)) for _ in range(6)]
        for run in runs:
            run.start()
        for run in runs:
            run.join(PATIENCE)
    assert failed == []


def test_one_that_is_read_as_it_turns_to_its_log_waits_for_the_reader(tmp_path: Path) -> None:
    file = tmp_path / "journal.sqlite"
    Journal(file).close()
    reader = sqlite3.connect(file, check_same_thread=False)
    reader.execute("PRAGMA journal_mode=DELETE")
    reader.execute("BEGIN")
    reader.execute("SELECT count(*) FROM rows").fetchone()
    done = threading.Timer(0.3, reader.rollback)
    done.start()
    try:
        begun = Journal(file)
    finally:
        done.join()
        reader.close()
    assert list(begun.rows()) == []
    begun.close()


@pytest.mark.parametrize("at", ["CREATE TABLE", "PRAGMA user_version=", "PRAGMA journal_mode", "PRAGMA synchronous"])
def test_one_that_was_killed_as_it_began_begins_anew(at: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After every statement: the file is a journal or nothing, never half of one."""

    class Dying(sqlite3.Connection):
        def execute(self, sql: str, *values: object) -> sqlite3.Cursor:
            if sql.startswith(at):
                raise Killed
            return super().execute(sql, *values)  # type: ignore[arg-type]

    connect, file = sqlite3.connect, tmp_path / "journal.sqlite"
    with monkeypatch.context() as patch:
        patch.setattr(journal_module.sqlite3, "connect", lambda *a, **k: connect(*a, **k, factory=Dying))
        with pytest.raises(Killed):
            Journal(file)
    again = Journal(file)
    assert list(again.rows()) == []
    again.close()

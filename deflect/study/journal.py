"""The journal of a study: one SQLite file; a row is in it for good as soon as it is committed."""

from __future__ import annotations

import sqlite3
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import MappingProxyType

from deflect.faults import OutputRefused, printable
from deflect.outputs import make_folder, shown, why_not
from deflect.study.rows import COLUMNS, KEYS, NUMBERS, Row, Stage

_FORMAT = 1
# Seconds that another run is waited for; after how many it is tried again where the library does not wait.
_PATIENCE, _AGAIN = 60.0, 0.02
_DAMAGED = "it is damaged: move it away; what it held is solved again"
_IO_ERROR, _BUSY = "SQLITE_IOERR", "SQLITE_BUSY"
_FULL = "the disk is full: make room and start again; what was committed is kept"
_WORDS = MappingProxyType({
    "SQLITE_FULL": _FULL,
    "SQLITE_IOERR_SHMSIZE": _FULL,
    _IO_ERROR: "the disk does not answer as it should: choose a folder on another disk",
    "SQLITE_READONLY": "writing is not allowed there: choose a folder of your own, or have the rights changed",
    "SQLITE_CANTOPEN": "it cannot be opened or made: choose a folder of your own, or have the rights changed",
    _BUSY: "another program holds it: close that one, or choose another folder",
    "SQLITE_LOCKED": "another program holds it: close that one, or choose another folder",
    "SQLITE_NOTADB": "it is no journal of a study: choose another folder",
    "SQLITE_CORRUPT": _DAMAGED,
    "SQLITE_CORRUPT_INDEX": _DAMAGED,
})  # fmt: skip
"""What the library calls it, and what that means."""


class Journal:
    """Rows by die, press and stage, each with the hash of what it rests on."""

    def __init__(self, file: Path) -> None:
        """Open a journal, or begin one.  Raises OutputRefused where the file is not ours, or cannot be written."""
        self.file = file
        with self._told("opened"):
            make_folder(file.parent)
            self._base = sqlite3.connect(file, timeout=_PATIENCE)
        try:
            self._begin()
        except BaseException:
            self._base.close()
            raise

    def _begin(self) -> None:
        """All or nothing: another run waits, and a run that is killed here leaves a file without tables."""
        with self._told("opened"), self._base:
            self._base.execute("BEGIN IMMEDIATE")
            (version,) = self._base.execute("PRAGMA user_version").fetchone()
            tables = self._base.execute("SELECT count(*) FROM sqlite_master").fetchone()[0]
            if (version, bool(tables)) not in ((_FORMAT, True), (0, False)):
                raise OutputRefused(
                    f"{shown(self.file)} is no journal of a study of this version: choose another folder"
                )
            self._create()
        with self._told("opened"):
            # Committed is on the disk: neither a killed process nor a power cut takes it back.
            self._write_ahead()
            self._base.execute("PRAGMA synchronous=FULL")

    def _write_ahead(self) -> None:
        """Turn to a log that is written ahead: the one statement that does not wait while another run reads."""
        until = time.monotonic() + _PATIENCE
        while True:
            try:
                self._base.execute("PRAGMA journal_mode=WAL")
            except sqlite3.OperationalError as error:
                if error.sqlite_errorname != _BUSY or time.monotonic() > until:
                    raise
                time.sleep(_AGAIN)
            else:
                return

    @contextmanager
    def _told(self, what: str) -> Iterator[None]:
        """Whatever the journal's file does not do becomes a refusal in words; what was committed stays in it."""
        try:
            yield
        except sqlite3.Error as error:
            called = getattr(error, "sqlite_errorname", "")
            words = _WORDS.get(called) or _WORDS.get(called[: len(_IO_ERROR)]) or printable(str(error))
            raise OutputRefused(f"The journal {shown(self.file)} cannot be {what}: {words}") from None
        except OSError as error:
            raise OutputRefused(f"The journal {shown(self.file)} cannot be {what}: {why_not(error)}") from None

    def _create(self) -> None:
        columns = ", ".join(f"{name} {'REAL' if name in NUMBERS else 'TEXT'}" for name in COLUMNS)
        self._base.execute(
            f"CREATE TABLE IF NOT EXISTS rows ({columns}, digest TEXT, PRIMARY KEY ({', '.join(KEYS)})) WITHOUT ROWID"
        )
        self._base.execute(f"PRAGMA user_version={_FORMAT}")

    def close(self) -> None:
        self._base.close()

    def done(self, press: str, stage: Stage) -> dict[str, str]:
        """The hashes of the rows that there are of one press, by die."""
        asked = "SELECT die, digest FROM rows WHERE press = ? AND stage = ?"
        with self._told("read"):
            return dict(self._base.execute(asked, (press, stage.value)).fetchall())

    def commit(self, rows: Iterable[tuple[Row, str]]) -> None:
        """Put rows in for good, each with its hash; one of the same pair and stage is replaced."""
        marks = ", ".join("?" for _ in (*COLUMNS, "digest"))
        values = [(*(getattr(row, name) for name in COLUMNS), digest) for row, digest in rows]
        with self._told("written"), self._base:
            self._base.executemany(f"INSERT OR REPLACE INTO rows VALUES ({marks})", values)

    def forget_others(self, dies: Iterable[str], presses: Iterable[str]) -> int:
        """Take out rows of files that are no longer there; how many."""
        with self._told("written"), self._base:
            self._base.execute("CREATE TEMP TABLE IF NOT EXISTS there (kind TEXT, name TEXT, PRIMARY KEY (kind, name))")
            self._base.execute("DELETE FROM there")
            named = [("die", name) for name in dies] + [("press", name) for name in presses]
            self._base.executemany("INSERT OR IGNORE INTO there VALUES (?, ?)", named)
            gone = self._base.execute(
                "DELETE FROM rows WHERE die NOT IN (SELECT name FROM there WHERE kind = 'die') "
                "OR press NOT IN (SELECT name FROM there WHERE kind = 'press')"
            )
            return gone.rowcount

    def drop(self, press: str, dies: Iterable[str], stage: Stage) -> None:
        """Take out rows of one press that no longer hold."""
        with self._told("written"), self._base:
            pairs = [(press, die, stage.value) for die in dies]
            self._base.executemany("DELETE FROM rows WHERE press = ? AND die = ? AND stage = ?", pairs)

    def rows(self, clause: str = "", values: tuple[object, ...] = (), latest: bool = True) -> Iterator[Row]:
        """Rows in a fixed order; latest: of each pair the full one where there is one.  clause: of where.py."""
        source = "rows"
        if latest:
            source = (
                "(SELECT * FROM rows AS r WHERE stage = 'full' OR NOT EXISTS "
                "(SELECT 1 FROM rows AS f WHERE f.die = r.die AND f.press = r.press AND f.stage = 'full'))"
            )
        where = f"WHERE {clause}" if clause else ""
        asked = f"SELECT {', '.join(COLUMNS)} FROM {source} {where} ORDER BY die, press, stage"
        with self._told("read"):
            for values_of in self._base.execute(asked, values):
                named = dict(zip(COLUMNS, values_of, strict=True))
                if named["may_slide"] is not None:
                    named["may_slide"] = int(named["may_slide"])
                yield Row(**named)

    def open_dies(self, press: str, verdict: str) -> set[str]:
        """Dies whose screening on a press came out as ``verdict``."""
        asked = "SELECT die FROM rows WHERE press = ? AND stage = 'screening' AND verdict = ?"
        with self._told("read"):
            return {die for (die,) in self._base.execute(asked, (press, verdict))}

    def count(self) -> dict[str, int]:
        """How many rows of each verdict, of the latest stage."""
        found: dict[str, int] = {}
        for row in self.rows():
            found[row.verdict] = found.get(row.verdict, 0) + 1
        return found

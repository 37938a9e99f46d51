"""Files on a disk that fills up, that may not be written, and under runs that are killed or meet."""

from __future__ import annotations

import errno
import os
import resource
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from deflect import outputs
from deflect.faults import OutputRefused
from deflect.outputs import alone, aside, put, put_new

fcntl = pytest.importorskip("fcntl", reason="needs locks of folders")

_LARGEST = 4096
"""Bytes that a file may grow to where the disk is made to look full."""
_SLOW = """
import os, sys, time
from pathlib import Path
from deflect import outputs

write = outputs._write
def slowly(file, content):
    write(file, content[: len(content) // 2])
    print("half", flush=True)
    time.sleep(60)
outputs._write = slowly
outputs.{call}(Path(sys.argv[1]), "new" * 1000)
"""


def left_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.mark.parametrize(("write", "before"), [(put, "old"), (put_new, None)])
def test_a_disk_that_is_full_leaves_the_earlier_file_or_none(
    tmp_path: Path, write: Callable[[Path, str], None], before: str | None
) -> None:
    """A file may not grow beyond a limit of the system: the write itself fails, halfway."""
    target = tmp_path / "file.txt"
    if before is not None:
        target.write_text(before)
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    was = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (_LARGEST, limits[1]))
    try:
        with pytest.raises(OutputRefused, match="cannot be written: the file is larger than may be written there"):
            write(target, "x" * 10 * _LARGEST)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        signal.signal(signal.SIGXFSZ, was)
    assert left_in(tmp_path) == ([] if before is None else ["file.txt"])
    assert before is None or target.read_text() == before


@pytest.mark.parametrize(
    ("number", "words"),
    [(errno.ENOSPC, "the disk is full"), (errno.EROFS, "the disk is read-only"), (errno.EACCES, "not allowed there"),
     (errno.EDQUOT, "your share of the disk"), (errno.EIO, "does not answer")],
)  # fmt: skip
def test_what_the_disk_says_is_told_in_plain_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(outputs, "_write", refuse)
    for write in (put, put_new):
        with pytest.raises(OutputRefused, match=words):
            write(tmp_path / "file.txt", "x")
    assert left_in(tmp_path) == []


@pytest.mark.parametrize("call", ["put", "put_new"])
def test_killed_in_the_middle_of_a_write_nothing_is_half_written(tmp_path: Path, call: str) -> None:
    target = tmp_path / "file.txt"
    if call == "put":
        target.write_text("old")
    process = subprocess.Popen([sys.executable, "-c", _SLOW.format(call=call), str(target)], stdout=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stdout.readline() == b"half\n"
    # While it is at work, another run takes nothing away from it.
    put(tmp_path / "other.txt", "x")
    (set_aside,) = tmp_path.glob(".deflect-aside-*")
    process.send_signal(signal.SIGKILL)
    process.communicate()
    assert set_aside.is_dir()
    assert target.read_text() == "old" if call == "put" else not target.exists()
    # The next run that writes there takes away what was left, and nothing else.
    (tmp_path / ".deflect-aside-notes").write_text("mine")
    put(tmp_path / "other.txt", "y")
    assert left_in(tmp_path) == sorted([".deflect-aside-notes", "other.txt", *(["file.txt"] if call == "put" else [])])


def test_a_name_that_is_taken_is_never_written_over(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target = tmp_path / "file.txt"
    write = outputs._write

    def overtaken(file: Path, content: str) -> None:
        write(file, content)
        target.write_text("theirs")  # another run comes first by a moment

    monkeypatch.setattr(outputs, "_write", overtaken)
    with pytest.raises(OutputRefused, match="is there already: nothing written; choose another name"):
        put_new(target, "ours")
    assert target.read_text() == "theirs"


def test_a_folder_is_held_by_one_run_and_let_go_by_a_kill(tmp_path: Path) -> None:
    held = f"""
import time
from pathlib import Path
from deflect.outputs import alone
with alone(Path({str(tmp_path)!r}), 0.0, "busy"):
    print("held", flush=True)
    time.sleep(60)
"""
    process = subprocess.Popen([sys.executable, "-c", held], stdout=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stdout.readline() == b"held\n"
    with pytest.raises(OutputRefused, match="busy"), alone(tmp_path, 0.0, "busy"):
        pass
    process.send_signal(signal.SIGKILL)
    process.communicate()
    with alone(tmp_path, 10.0, "busy"):
        pass


def test_a_folder_set_aside_that_another_run_takes_away_before_it_is_held_is_made_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    held, taken = outputs._held, []

    def overtaken(folder: Path, patience: float) -> AbstractContextManager[bool]:
        if not taken:
            taken.append(folder)
            folder.rmdir()
        return held(folder, patience)

    monkeypatch.setattr(outputs, "_held", overtaken)
    put(tmp_path / "file.txt", "x")
    assert taken
    assert left_in(tmp_path) == ["file.txt"]


def test_a_disk_without_locks_is_written_to_all_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def unknown(*_: object) -> None:
        raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))

    monkeypatch.setattr(fcntl, "flock", unknown)
    left = tmp_path / ".deflect-aside-theirs"
    left.mkdir()
    put(tmp_path / "file.txt", "x")
    with alone(tmp_path, 0.0, "busy"):
        pass
    # Whether another run still works in it cannot be told: it stays.
    assert left_in(tmp_path) == [".deflect-aside-theirs", "file.txt"]


@pytest.mark.parametrize("jump", [-1e6, 1e6])
def test_a_clock_that_jumps_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, jump: float) -> None:
    """No file's age, and no time of day, decides what is kept, waited for or solved again."""
    now = time.time
    monkeypatch.setattr(time, "time", lambda: now() + jump)
    with aside(tmp_path) as place:
        os.utime(place, (now() + jump, now() + jump))
        put(tmp_path / "file.txt", "x")
        assert place.is_dir()
    assert left_in(tmp_path) == ["file.txt"]


def test_impossible_names_are_refused_in_words(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    for name, words in (("a\0b", "null"), ("x" * 300, "the name is too long"), ("file/below", "a part of the name")):
        for write in (put, put_new):
            with pytest.raises(OutputRefused, match=words):
                write(tmp_path / name, "x")
    assert left_in(tmp_path) == ["file"]

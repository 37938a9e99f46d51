"""A real disk of one megabyte that fills up: every command that writes says so, and leaves what was there and no more.

The disk is one of the system's memory (tmpfs); where it may not be mounted, these tests are left out and say so.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

import deflect.mechanics.footprint as footprint
from deflect.advice import advise_on, assess
from deflect.casefile import demo_cases, read_case
from deflect.cli import main
from deflect.faults import OutputRefused
from deflect.findings import Advice
from deflect.mechanics.keeping import forget
from deflect.outputs import put
from deflect.report.document import GENERATOR
from deflect.study.invented import invent_shop

SIZE, FILES = 1_000_000, 64
"""Bytes and files that the disk takes; a report takes half as much again."""
FULL = "the disk is full"
Contents = dict[str, bytes | None]


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """An empty disk of one megabyte."""
    place = tmp_path / "disk"
    place.mkdir()
    command = shutil.which("mount")
    mount = [str(command), "-t", "tmpfs", "-o", f"size={SIZE},nr_inodes={FILES}", "tmpfs", str(place)]
    if command is None or subprocess.run(mount, capture_output=True).returncode != 0:
        pytest.skip("no disk may be mounted here: a full disk is tried where one may")
    try:
        yield place
    finally:
        subprocess.run(["umount", "--lazy", str(place)], check=True)


@pytest.fixture(scope="module")
def advice() -> Iterator[Advice]:
    """A case on a coarse mesh: what is written of it counts here."""
    forget()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", 3.0 * footprint.PATCH_SIZE)
        patch.setattr(footprint, "ELEMENT_SIZE", 3.0 * footprint.ELEMENT_SIZE)
        yield advise_on(assess(read_case("maple-restrike", "birch-12mn"), 0, mesh_error=False, thrust_direction=0.0))
    forget()


def fill(disk: Path, leave: int = 0) -> Path:
    """Fill a disk up to so many bytes; returns what it is filled with."""
    filler = disk / "filler"
    with filler.open("wb", buffering=0) as file:
        try:
            while True:
                file.write(b"x" * 4096)
        except OSError:
            pass
        file.truncate(max(file.tell() - leave, 0))
    return filler


def on(disk: Path) -> Contents:
    """Everything on a disk: files with their content, folders with none."""
    return {str(path.relative_to(disk)): path.read_bytes() if path.is_file() else None for path in disk.rglob("*")}


def run(*words: str | Path) -> Result:
    told = CliRunner().invoke(main, [os.fspath(word) for word in words])
    assert told.exception is None or isinstance(told.exception, SystemExit), told.exception
    return told


def refused(disk: Path, *words: str | Path) -> Result:
    """The command says that the disk is full, with exit code 2, and leaves the disk as it was."""
    before = on(disk)
    told = run(*words)
    assert told.exit_code == 2
    assert FULL in told.stderr
    assert "Traceback" not in told.stderr
    assert on(disk) == before
    return told


@pytest.mark.parametrize("leave", [0, SIZE // 2, SIZE])
def test_a_report_that_does_not_fit(disk: Path, advice: Advice, monkeypatch: pytest.MonkeyPatch, leave: int) -> None:
    """Full from the start, and in the middle of it: the answer is shown all the same, and no part of a report is."""
    monkeypatch.setattr("deflect.advice.advise", lambda *_, **__: advice)
    monkeypatch.setattr("deflect.report.document.document", lambda _: "drawn" * (SIZE // 4))
    fill(disk, leave)
    told = refused(disk, "check", "maple-restrike", "birch-12mn", "--report", disk / "report")
    assert "Verdict" in told.stdout
    assert "choose a folder on another disk" in told.stderr


def test_a_report_over_an_earlier_one(disk: Path, advice: Advice, monkeypatch: pytest.MonkeyPatch) -> None:
    """The earlier report stays whole, and the next run, with room for it, takes its place."""
    monkeypatch.setattr("deflect.advice.advise", lambda *_, **__: advice)
    monkeypatch.setattr("deflect.report.document.document", lambda _: GENERATOR + "drawn" * 10_000)
    words = ("check", "maple-restrike", "birch-12mn", "--report", disk / "report")
    assert run(*words).exit_code == 0
    filler = fill(disk, 10_000)
    refused(disk, *words)
    filler.unlink()
    assert run(*words).exit_code == 0


def test_a_disk_without_room_for_another_file(disk: Path) -> None:
    """There is room, but not for one more name."""
    (disk / "mine").write_text("mine")
    for n in range(FILES):
        try:
            (disk / str(n)).touch()
        except OSError:
            break
    before = on(disk)
    for target in (disk / "mine", disk / "new"):
        with pytest.raises(OutputRefused, match=FULL):
            put(target, "x")
    assert on(disk) == before


def test_new_shop_and_calibration(disk: Path, monkeypatch: pytest.MonkeyPatch, coarse: None) -> None:
    from deflect.casefile import read_measured
    from deflect.mechanics.calibration import calibrate

    monkeypatch.setattr(footprint, "ELEMENT_SIZE", 3.0 * footprint.ELEMENT_SIZE)
    fit = calibrate(*read_measured("hornbeam-10mn", "hornbeam-spring"))
    monkeypatch.setattr("deflect.mechanics.calibration.calibrate", lambda *_: fit)
    fill(disk)
    refused(disk, "new", "die", "--to", disk / "die.toml")
    refused(disk, "shop", disk / "shop", "--dies", "3", "--presses", "2")
    calibrating = ("calibrate", "hornbeam-10mn", "hornbeam-spring")
    for words in (("--to", disk / "press.toml"), ("--report", disk / "report")):
        told = refused(disk, *calibrating, *words)
        assert "dial" in told.stdout  # the fit is shown all the same


def test_a_comparison_that_does_not_fit(disk: Path, monkeypatch: pytest.MonkeyPatch, coarse: None) -> None:
    """Told before anything is solved where nothing may be written, and after it is shown where the disk fills up."""
    words = ("compare", "rowan-trim", "alder-10mn", "alder-10mn", "--report")
    fill(disk)
    told = refused(disk, *words, disk / "report")
    assert "BEHAVES ALIKE" in told.stdout


# ---- studies


def test_a_study_on_a_disk_that_fills_up_goes_on_when_there_is_room(tmp_path: Path, disk: Path) -> None:
    """Condensed bodies that do not fit are not kept; rows, page and journal that do not fit are told."""
    dies, presses = invent_shop(tmp_path / "shop", dies=2, presses=1, seed=2)
    words = ("study", dies, presses, "--to", disk / "study", "--screening-only", "--workers", "1")
    for leave in (0, 20_000, 40_000):
        filler = fill(disk, leave)
        told = run(*words)
        assert told.exit_code == 2
        assert FULL in told.stderr
        assert not list(disk.rglob(".deflect-aside*"))
        assert not (disk / "study" / "study.html").exists()
        filler.unlink()
    assert run(*words).exit_code == 0
    assert (disk / "study" / "rows.csv").read_text().count("\n") == 3


# ---- the desk


def sheet(folder: Path) -> Path:
    from deflect.desk.check.saving import save_sheet

    return save_sheet(demo_cases("die")["rowan-trim"].read_text("utf-8"), "mine", folder, ())


def lesson(folder: Path) -> Path:
    from deflect.desk.lesson.room import save_lesson

    return save_lesson("<!DOCTYPE html><title>deflect lesson</title>" + "x" * SIZE, folder)


@pytest.mark.parametrize("save", [sheet, lesson])
def test_what_the_desk_saves(disk: Path, save: Callable[[Path], Path]) -> None:
    pytest.importorskip("nicegui")
    filler = fill(disk)
    before = on(disk)
    with pytest.raises(OutputRefused, match=FULL):
        save(disk)
    assert on(disk) == before
    filler.unlink()
    if save is sheet:
        assert save(disk).read_bytes()

"""Reports on disk: whole or not at all, and never over somebody else's files."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import meshio
import numpy as np
import pytest

from deflect.faults import OutputRefused
from deflect.findings import Advice
from deflect.report import fields, writing
from deflect.report.document import GENERATOR
from deflect.report.writing import FILES, RESULT, write_report


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """A document that needs no drawing."""
    monkeypatch.setattr(writing.document, "document", lambda advice: "<!DOCTYPE html>\n")


@pytest.mark.usefixtures("quick")
def test_all_files_are_written_and_nothing_else_is_left(advice: Advice, tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    paths = write_report(advice, folder)
    assert {path.name for path in paths} == set(FILES) == {path.name for path in folder.iterdir()}
    assert all(path.stat().st_size for path in paths)


@pytest.mark.usefixtures("quick")
def test_an_earlier_report_is_overwritten_and_foreign_files_stay(advice: Advice, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine", encoding="utf-8")
    first = {path: path.read_bytes() for path in write_report(advice, tmp_path)}
    (tmp_path / "report.html").write_text("old", encoding="utf-8")
    second = {path: path.read_bytes() for path in write_report(advice, tmp_path)}
    assert first == second
    assert (tmp_path / "notes.txt").read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("name", FILES)
@pytest.mark.usefixtures("quick")
def test_a_foreign_file_of_the_same_name_is_never_overwritten(advice: Advice, tmp_path: Path, name: str) -> None:
    (tmp_path / name).write_text("somebody else's", encoding="utf-8")
    with pytest.raises(OutputRefused, match="not from an earlier report: move it away, or choose another folder"):
        write_report(advice, tmp_path)
    assert [(path.name, path.read_text(encoding="utf-8")) for path in tmp_path.iterdir()] == [(name, "somebody else's")]


def test_a_file_in_place_of_the_folder_is_refused(advice: Advice, tmp_path: Path) -> None:
    file = tmp_path / "report"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(OutputRefused, match="is a file, not a folder"):
        write_report(advice, file)
    with pytest.raises(OutputRefused, match="a part of the name is a file"):
        write_report(advice, file / "below")
    assert file.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize(
    ("number", "words"),
    [(errno.ENOSPC, "the disk is full"), (errno.EROFS, "read-only"), (errno.EACCES, "writing is not allowed there")],
)
@pytest.mark.usefixtures("quick")
def test_a_disk_that_refuses_leaves_nothing_half_written(
    advice: Advice, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, words: str
) -> None:
    before = {path: path.read_bytes() for path in write_report(advice, tmp_path)}

    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(fields, "write_die", refuse)
    with pytest.raises(OutputRefused, match=words):
        write_report(advice, tmp_path)
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == before


@pytest.mark.parametrize("name", FILES)
@pytest.mark.usefixtures("quick")
def test_a_folder_in_place_of_a_file_is_refused_before_any_file_is_put_there(
    advice: Advice, tmp_path: Path, name: str
) -> None:
    write_report(advice, tmp_path)
    (tmp_path / name).unlink()
    for file in tmp_path.iterdir():
        if file.name != RESULT:
            file.write_text("older", encoding="utf-8")
    (tmp_path / name).mkdir()
    before = {path: path.read_bytes() for path in tmp_path.iterdir() if path.is_file()}
    with pytest.raises(OutputRefused):
        write_report(advice, tmp_path)
    assert {path: path.read_bytes() for path in tmp_path.iterdir() if path.is_file()} == before
    assert {path.name for path in tmp_path.iterdir()} == set(FILES)


@pytest.mark.parametrize("after", range(len(FILES)))
def test_cut_short_while_putting_in_place_every_file_is_whole(
    advice: Advice, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, after: int
) -> None:
    monkeypatch.setattr(writing.document, "document", lambda advice: f'<!DOCTYPE html>\n{GENERATOR}9">\n')
    whole = {path.name: path.read_bytes() for path in write_report(advice, tmp_path / "whole")}
    replace, done = os.replace, []

    def cut(source: Path, target: Path) -> None:
        if len(done) == after:
            raise SystemExit(1)
        done.append(target.name)
        replace(source, target)

    place = tmp_path / "cut"
    monkeypatch.setattr(os, "replace", cut)
    with pytest.raises(SystemExit):
        write_report(advice, place)
    left = {path.name: path.read_bytes() for path in place.iterdir()} if place.exists() else {}
    assert left == {name: whole[name] for name in done}
    assert RESULT not in done
    monkeypatch.setattr(os, "replace", replace)
    assert {path.name: path.read_bytes() for path in write_report(advice, place)} == whole


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_without_rights_is_refused(advice: Advice, tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(OutputRefused, match="writing is not allowed there"):
        write_report(advice, tmp_path / "new")


@pytest.mark.parametrize("folder", ["a\0b", "x" * 300])
def test_an_impossible_name_is_refused_in_words(advice: Advice, tmp_path: Path, folder: str) -> None:
    with pytest.raises(OutputRefused, match="The report cannot be written to"):
        write_report(advice, tmp_path / folder)


def test_fields_carry_units_and_the_numbers_of_the_summary(advice: Advice, tmp_path: Path) -> None:
    analysis = advice.assessment.analysis
    fields.write_die(analysis, tmp_path / "die.vtu")
    fields.write_table(analysis, tmp_path / "table.vtu")
    die, table = meshio.read(tmp_path / "die.vtu"), meshio.read(tmp_path / "table.vtu")
    gap, layer = die.cell_data["gap_mm"][0], die.cell_data["layer"][0]
    assert np.nanmax(gap[layer == 0]) == pytest.approx(np.nanmax(analysis.solution.gap))
    assert np.isnan(gap[layer == 1]).all()
    error = die.cell_data["face_error_mm"][0]
    assert np.nanmax(error) - np.nanmin(error) == pytest.approx(analysis.face.error_range)
    assert table.point_data["movement_mm"] == pytest.approx(analysis.solution.table_movement)
    bolster = analysis.case.press.bolster
    corners = table.points[table.cells_dict["triangle"]][..., :2]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    area = 0.5 * np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()
    assert area == pytest.approx(bolster.length * bolster.width - sum(o.area for o in bolster.openings))

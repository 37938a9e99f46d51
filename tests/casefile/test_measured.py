"""Readings files, tables of dials, and press files that remember their calibration."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from case_bench import DIE, PRESS

from deflect.casefile import calibrated_text, demo_cases, read_case, read_measured, read_press, template
from deflect.faults import CaseRefused
from deflect.mechanics.acceptance import bed_stiffness
from deflect.mechanics.calibration import calibrate
from deflect.mechanics.draws import drawn, sample_at, uncertain_of
from deflect.model.case import Case
from deflect.model.press import Calibration
from deflect.model.values import Interval

READINGS = """\
[readings]
date = "2025-03-14"
source = "tool room"

[[readings.steps]]
force = "4 MN"
forces = [{kind = "patch", x = "0 mm", y = "0 mm", length = "1600 mm", width = "800 mm"}]
dials = [
  {name = "left", x = "-1200 mm", y = "0 mm", reading = "0.06 mm"},
  {name = "middle", x = "0 mm", y = "0 mm", reading = "0.17 mm"},
]
"""
HEAD = "dial; x [mm]; y [mm]; reading [µm]; force [MN]; area x [mm]; area y [mm]; area length [mm]; area width [mm]\n"
ROWS = "left; -1200; 0; 60; 4; 0; 0; 1600; 800\nmiddle; 0; 0; 0.17 mm; 4; 0; 0; 1600; 800\n"
FOUND = Calibration(
    "2025-03-14",
    'dials "of the tool room"',
    12,
    Interval(30.0, 40.0, 55.0),
    Interval(210.0, 216.0, 223.0),
    None,
    (-0.6, 0.0, 0.0),
)


@pytest.fixture
def press(tmp_path: Path) -> Path:
    path = tmp_path / "press.toml"
    path.write_text(PRESS, encoding="utf-8")
    return path


def written(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def refused(press: Path, readings: Path) -> list[tuple[int | None, str, str]]:
    with pytest.raises(CaseRefused) as caught:
        read_measured(press, readings)
    return [(fault.line, fault.key, fault.problem) for fault in caught.value.faults]


def test_a_table_says_the_same_as_a_file(press: Path, tmp_path: Path) -> None:
    _, from_file = read_measured(press, written(tmp_path, "r.toml", READINGS))
    _, from_table = read_measured(press, written(tmp_path, "r.csv", HEAD + ROWS), "2025-03-14")
    (one,), (other,) = from_file.tests, from_table.tests
    assert one.force == other.force
    assert one.patterns == other.patterns
    assert [(d.dial, d.x, d.y) for d in one.dials] == [(d.dial, d.x, d.y) for d in other.dials]
    assert [d.movement for d in one.dials] == pytest.approx([d.movement for d in other.dials])
    assert (from_file.date, from_table.date) == ("2025-03-14", "2025-03-14")


def test_a_file_may_name_its_table(press: Path, tmp_path: Path) -> None:
    written(tmp_path, "dials.csv", HEAD.replace(";", ",") + ROWS.replace(";", ","))
    text = READINGS.split("[[")[0] + 'table = "dials.csv"\n'
    _, readings = read_measured(press, written(tmp_path, "r.toml", text))
    assert readings.count == 2
    assert readings.source == "tool room"


def test_every_mistake_of_a_table_is_told_with_line_and_column(press: Path, tmp_path: Path) -> None:
    rows = (
        "left; -1200; 0; 60; 4; 0; 0; 1600; 800\n"
        "# a remark\n"
        "left; 0; 0; 0,17; 4; 0; 0; 1600; 800\n"
        "far; 2600; 0; 50; 4; 0; 0; 1600; 800\n"
        "short; 0; 0; 50; 4\n"
        "no unit; 12 kg; 0; 50; 40; 0; 0; 1600; 800\n"
    )
    found = refused(press, written(tmp_path, "r.csv", HEAD + rows))
    assert [(line, key) for line, key, _ in found] == [
        (4, "column 4, reading [µm]"),
        (6, ""),
        (7, "column 2, x [mm]"),
    ]
    good = ROWS + "far; 2600; 0; 50; 4; 0; 0; 1600; 800\nleft; 0; 300; 50; 4; 0; 0; 1600; 800\n"
    strong = "strong; 0; 0; 50; 40; 0; 0; 1600; 800\n"
    found = refused(press, written(tmp_path, "r.csv", HEAD + good + strong))
    assert [(line, key) for line, key, _ in found] == [
        (5, "column 1, dial"),
        (4, "column 2, x [mm]"),
        (6, "column 5, force [MN]"),
    ]


def test_a_head_is_told_what_it_lacks(press: Path, tmp_path: Path) -> None:
    head = HEAD.replace("reading [µm]", "reding [µm]").replace("force [MN]", "force [t]")
    found = refused(press, written(tmp_path, "r.csv", head + ROWS))
    assert [line for line, _, _ in found] == [1, 1, 1]
    assert [key for _, key, _ in found] == ["column 4", "column 5", ""]
    assert "lacks reading" in found[2][2]


def test_mistakes_of_press_and_readings_are_told_together(tmp_path: Path) -> None:
    press = written(tmp_path, "press.toml", PRESS.replace('"220 mm"', '"220"'))
    text = READINGS.replace('"0.17 mm"', '"0.17"').replace('"2025-03-14"', '"14.3.2025"').replace("tool room", "")
    found = refused(press, written(tmp_path, "r.toml", text))
    assert [key for _, key, _ in found] == [
        "press.bolster.thickness",
        "readings.date",
        "readings.source",
        "readings.steps[1].dials[2].reading",
    ]


def test_readings_that_measured_nothing_are_refused(press: Path, tmp_path: Path) -> None:
    found = refused(press, written(tmp_path, "r.toml", READINGS.split("[[")[0]))
    assert "nothing was measured" in found[0][2]


def test_upward_readings_are_asked_about(press: Path, tmp_path: Path) -> None:
    text = READINGS.replace('"0.06 mm"', '"-0.06 mm"').replace('"0.17 mm"', '"-0.17 mm"')
    assert "above zero" in refused(press, written(tmp_path, "r.toml", text))[0][2]


def test_a_press_file_remembers_its_calibration(press: Path, tmp_path: Path) -> None:
    again = read_press(written(tmp_path, "calibrated.toml", calibrated_text(press, FOUND)))
    assert again.calibration == FOUND
    assert again.bed.land.stiffness == Interval(20.0, 2000.0**0.5, 100.0)
    assert "2025-03-14" in again.bed.land.origin
    assert again.bolster.as_plate.thickness == 216.0
    assert again.uncalibrated == read_press(press)
    told = {one.key for one in again.inputs}
    assert {"press.calibration.date", "press.calibration.land_stiffness"} <= told


def test_a_second_calibration_takes_the_place_of_the_first(press: Path, tmp_path: Path) -> None:
    once = calibrated_text(press, FOUND)
    twice = calibrated_text(written(tmp_path, "once.toml", once), FOUND)
    assert once == twice
    assert once.startswith(PRESS.rstrip())


def test_a_calibration_of_another_bolster_is_refused(press: Path, tmp_path: Path) -> None:
    text = calibrated_text(press, FOUND).replace('"220 mm"', '"500 mm"')
    with pytest.raises(CaseRefused, match="effective thickness is far"):
        read_press(written(tmp_path, "other.toml", text))


def test_check_draws_from_the_calibrated_ranges(press: Path, tmp_path: Path) -> None:
    """Land and thickness of the draws lie in their intervals, and hang together as they were fitted."""
    calibrated = written(tmp_path, "calibrated.toml", calibrated_text(press, FOUND))
    case: Case = read_case(written(tmp_path, "die.toml", DIE), calibrated)
    land = bed_stiffness(case.press)
    assert land == FOUND.land_stiffness
    samples = [sample_at(case, land, None, unit) for unit in drawn(64)]
    lands = [s.assumptions.bed_stiffness for s in samples]
    bends = [s.variation.bolster for s in samples]
    assert min(lands) >= 30.0 - 1e-9
    assert max(lands) <= 55.0 + 1e-9
    assert min(bends) >= (210 / 216) ** 3 - 1e-9
    assert max(bends) <= (223 / 216) ** 3 + 1e-9
    assert len(set(bends)) > 32
    # 64 draws of a correlation of -0.6: within 0.2 of it.
    assert np.corrcoef(np.log(lands), np.log(bends))[0, 1] == pytest.approx(-0.6, abs=0.2)
    assert "effective thickness of the bolster" in uncertain_of(case)
    assert len(uncertain_of(read_case(tmp_path / "die.toml", press))) == 12


def test_the_demo_readings_are_of_the_demo_press() -> None:
    assert "hornbeam-spring" in demo_cases("readings")
    press, readings = read_measured("hornbeam-10mn", "hornbeam-spring")
    assert readings.count == 30
    assert press.bed.land.walls is not None
    calibrated = read_press("hornbeam-10mn-calibrated")
    assert calibrated.calibration is not None
    assert calibrated.calibration.wall_stiffness is not None
    assert calibrated.uncalibrated.bed == press.bed


def test_the_readings_template_is_of_the_press_template(tmp_path: Path) -> None:
    """The file to start from reads as it stands, and fits the press file to start from without a dial out of line."""
    press = written(tmp_path, "press.toml", template("press"))
    _, readings = read_measured(press, written(tmp_path, "readings.toml", template("readings")))
    fit = calibrate(read_press(press), readings)
    assert not any(row.disagrees for row in fit.residuals)
    assert fit.scatter < 1.5
    assert fit.held == readings.count
    # Its hold-downs are not stated: both ends lie in the intervals.
    assert len(fit.loose) == 3
    for (name, value), one in zip(fit.loose, fit.figures, strict=True):
        assert name == one.name
        assert one.after.low <= value <= one.after.high
    assert fit.calibration.land_stiffness == fit.figures[0].after

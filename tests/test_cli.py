"""The command line: what it prints, where, and with which exit code."""

from __future__ import annotations

import errno
import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

import deflect.advice
import deflect.checks
from deflect import outputs
from deflect.checks import Check, Outcome, Row
from deflect.cli import main
from deflect.faults import DeflectError
from deflect.mechanics.analysis import USUAL_SAMPLES
from deflect.mechanics.side_by_side import SideBySide, side_by_side
from deflect.mechanics.solid_body import SolidMesh
from deflect.sources import Source, Tag

COMMAND = [sys.executable, "-c", "from deflect.cli import main; main()"]
FULL = Path("/dev/full")


SUB_PLATE = """
[press.bolster.sub_plate]
x = "0 mm"
y = "0 mm"
length = "3600 mm"
width = "1900 mm"
thickness = "60 mm"
material = "steel S355"
"""


# What a command says and leaves behind is tested here, not the numbers.
pytestmark = pytest.mark.usefixtures("coarse")


def run(*words: str) -> Result:
    return CliRunner().invoke(main, words)


def test_check_prints_verdict_and_cautions_and_writes_a_report(tmp_path: Path) -> None:
    result = run("check", "maple-restrike", "birch-12mn", "--report", str(tmp_path / "out"), "--strict")
    assert result.exit_code == 0, result.output
    assert "FIT" in result.stdout
    assert "Crane and slings" in result.stdout
    assert (tmp_path / "out" / "report.html").stat().st_size > 10_000


def test_json_stands_alone_on_standard_output() -> None:
    result = run("check", "maple-restrike", "birch-12mn", "--json")
    assert result.exit_code == 0
    document = json.loads(result.stdout)
    assert document["verdict"] == "fit"
    assert document["cautions"]


@pytest.mark.parametrize(("computed", "code"), [(1.0, 0), (1.1, 1)])
def test_verify_exits_with_one_where_a_check_fails(
    computed: float, code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    check = Check("A01", "One is one.", Source("arithmetic", Tag.DERIVED), "", "None.", {})
    outcome = Outcome("Sums", check, (Row("one", 1.0, computed, 1e-3),))
    monkeypatch.setattr(deflect.checks, "run", lambda: iter([outcome]))
    shown = run("verify", "--report", str(tmp_path))
    assert shown.exit_code == code
    assert "arithmetic" in shown.stdout
    assert (tmp_path / "verification.html").exists()
    rows = run("verify", "--json")
    assert rows.exit_code == code
    assert [row["passed"] for row in json.loads(rows.stdout)] == [code == 0]


def test_a_refused_case_gives_two_and_no_verdict(tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text('[die]\nname = "x"\noperation = "trim"\nworking_force = "3,5 MN"\n', encoding="utf-8")
    report = tmp_path / "report"
    result = run("check", str(bad), "alder-10mn", "--report", str(report))
    assert result.exit_code == 2
    assert "erdict" not in result.stdout
    assert "line 4" in result.stderr
    assert "3,5 MN" in result.stderr
    assert not report.exists()


def test_contradicting_press_inputs_are_named(tmp_path: Path) -> None:
    press = tmp_path / "press.toml"
    text = run("new", "press").stdout
    press.write_text(text, encoding="utf-8")
    from deflect.casefile import read_press

    assert read_press(press).name


def test_strict_gives_one_unless_fit() -> None:
    assert run("check", "rowan-trim", "alder-10mn", "--strict").exit_code == 1


def coarse_side_by_side(*words: Any) -> SideBySide:
    """Plate and solid as in earnest, on a mesh that takes seconds."""
    return side_by_side(*words, SolidMesh(400.0, 60.0, 80.0, (0.0, 1.0), (0.0, 1.0)))


def test_solid_bodies_are_compared_and_change_no_verdict(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(deflect.advice, "side_by_side", coarse_side_by_side)
    folder = tmp_path / "out"
    result = run("check", "maple-restrike", "birch-12mn", "--bodies", "solid", "--report", str(folder))
    assert result.exit_code == 0, result.output
    assert "Plate and solid side by side" in result.stdout
    written = json.loads((folder / "result.json").read_text(encoding="utf-8"))
    assert written["verdict"] == "fit"
    assert written["side_by_side"]["solid"]["body_unknowns"] > written["side_by_side"]["plate"]["body_unknowns"]
    assert "plate less solid" in (folder / "report.html").read_text(encoding="utf-8")


def test_cancelled_solids_leave_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def cancelled(*_: Any) -> SideBySide:
        raise KeyboardInterrupt

    monkeypatch.setattr(deflect.advice, "side_by_side", cancelled)
    folder = tmp_path / "out"
    result = run("check", "maple-restrike", "birch-12mn", "--bodies", "solid", "--report", str(folder))
    assert result.exit_code == 1
    assert result.stdout == ""
    assert not folder.exists()


def test_solids_on_a_sub_plate_are_refused_in_words_at_once(tmp_path: Path) -> None:
    press = tmp_path / "press.toml"
    text = (Path(__file__).parents[1] / "cases" / "presses" / "birch-12mn.toml").read_text(encoding="utf-8")
    press.write_text(text + SUB_PLATE, encoding="utf-8")
    assert run("check", "maple-restrike", str(press)).exit_code == 0
    result = run("check", "maple-restrike", str(press), "--bodies", "solid")
    assert result.exit_code == 2
    assert "press.bolster.sub_plate" in result.stderr
    assert result.stdout == ""


@pytest.mark.parametrize("kind", ["press", "die"])
def test_new_files_check_as_they_stand(kind: str, tmp_path: Path) -> None:
    target = tmp_path / f"{kind}.toml"
    assert run("new", kind, "--to", str(target)).exit_code == 0
    die, press = (str(target), "alder-10mn") if kind == "die" else ("maple-restrike", str(target))
    assert run("check", die, press).exit_code == 0
    again = run("new", kind, "--to", str(target))
    assert again.exit_code == 2
    assert "nothing written" in again.stderr


def test_schema_is_json() -> None:
    assert json.loads(run("new", "die", "--schema").stdout)["type"] == "object"


def test_samples_are_handed_on_and_few_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []

    def told(case: object, samples: int, progress: object) -> None:
        asked.append(samples)
        raise DeflectError("enough")

    monkeypatch.setattr(deflect.advice, "advise", told)
    for words in ((), ("--samples", "64")):
        assert run("check", "maple-restrike", "birch-12mn", *words).exit_code == 2
    assert asked == [USUAL_SAMPLES, 64]
    refused = run("check", "maple-restrike", "birch-12mn", "--samples", "4")
    assert refused.exit_code == 2
    assert "16<=x<=1024" in refused.stderr


def test_every_option_of_check_is_in_the_readme() -> None:
    readme = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
    for option in main.commands["check"].params:
        if isinstance(option, click.Option):
            assert f"| `{option.opts[0]}" in readme, option.opts


def test_demo_cases_are_listed() -> None:
    listed = run("cases").stdout
    for name in ("alder-10mn", "birch-12mn", "rowan-trim", "hazel-draw", "elder-offset", "maple-restrike"):
        assert name in listed


def test_every_command_has_help() -> None:
    for name, command in main.commands.items():
        assert command.help, name
        assert run(name, "--help").exit_code == 0


def test_an_output_that_knows_ascii_only_keeps_the_cautions() -> None:
    ascii_only = os.environ | {"PYTHONIOENCODING": "ascii"}
    words = ["check", "maple-restrike", "birch-12mn"]
    told = subprocess.run([*COMMAND, *words], env=ascii_only, capture_output=True, check=False)
    assert told.returncode == 0, told.stderr
    assert b"Crane and slings" in told.stdout
    assert b"Traceback" not in told.stderr


@pytest.mark.skipif(not FULL.exists(), reason="there is no full device here")
@pytest.mark.parametrize("words", [["--help"], ["rules"], ["new", "die"], ["check", "maple-restrike", "birch-12mn"]])
def test_a_full_disk_under_the_output_gives_two_and_words(words: list[str]) -> None:
    with FULL.open("wb") as full:
        told = subprocess.run([*COMMAND, *words], stdout=full, stderr=subprocess.PIPE, check=False)
    assert told.returncode == 2
    assert b"the disk is full" in told.stderr
    assert b"Traceback" not in told.stderr


@pytest.mark.skipif(os.name != "posix", reason="a closed output is a matter of the shell")
@pytest.mark.parametrize("words", ["rules", "check maple-restrike birch-12mn"])
def test_a_reader_that_has_gone_ends_it_quietly(words: str) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    told = subprocess.run([*COMMAND, *words.split()], stdout=writing, stderr=subprocess.PIPE, check=False)
    os.close(writing)
    assert told.returncode == 2
    assert told.stderr == b""


@pytest.mark.skipif(os.name != "posix", reason="a closed output is a matter of the shell")
def test_a_closed_output_gives_two_and_words() -> None:
    shell = ["sh", "-c", '"$@" >&-', "sh"]
    told = subprocess.run([*shell, *COMMAND, "cases"], stderr=subprocess.PIPE, check=False)
    assert told.returncode == 2
    assert b"standard output is closed" in told.stderr


@pytest.mark.skipif(os.name != "posix", reason="there is no such signal")
def test_told_to_stop_while_writing_it_leaves_nothing_behind(tmp_path: Path) -> None:
    slow = (
        "import time; from deflect.report import fields; from deflect.cli import main\n"
        "fields.write_die = lambda *_: time.sleep(60)\nmain()"
    )
    folder = tmp_path / "report"
    words = ["check", "maple-restrike", "birch-12mn", "--report", str(folder)]
    with subprocess.Popen(
        [sys.executable, "-c", slow, *words], stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    ) as running:
        end = time.monotonic() + 120
        while not list(folder.glob(".deflect-*/table.vtu")) and time.monotonic() < end:
            time.sleep(0.05)
        running.send_signal(signal.SIGTERM)
        _, errors = running.communicate(timeout=60)
    assert running.returncode == 128 + signal.SIGTERM
    assert b"Traceback" not in errors
    assert not folder.exists()


@pytest.mark.parametrize("fault", [ValueError("no such mesh"), IndexError("row 9"), ZeroDivisionError("0")])
def test_a_fault_of_the_solver_is_told_in_words(monkeypatch: pytest.MonkeyPatch, fault: Exception) -> None:
    def fail(*_: object, **__: object) -> None:
        raise fault

    monkeypatch.setattr(deflect.advice, "advise", fail)
    result = run("check", "maple-restrike", "birch-12mn")
    assert result.exit_code == 2
    assert f"the solver gave up ({type(fault).__name__}: {fault}); please report this case" in result.stderr
    assert "Traceback" not in result.output


def test_new_on_a_full_disk_leaves_no_empty_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    target = tmp_path / "die.toml"
    monkeypatch.setattr(outputs, "_write", refuse)
    result = run("new", "die", "--to", str(target))
    assert result.exit_code == 2
    assert "cannot be written: the disk is full" in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_other_presses_of_a_folder_are_tried(tmp_path: Path) -> None:
    from deflect.casefile import demo_cases

    for name, path in demo_cases("press").items():
        (tmp_path / f"{name}.toml").write_bytes(path.read_bytes())
    (tmp_path / "broken.toml").write_text("[press]\n", encoding="utf-8")
    result = run("check", "elder-offset", "alder-10mn", "--presses", str(tmp_path), "--json")
    assert result.exit_code == 0, result.stderr
    assert "broken.toml is left out" in result.stderr
    document = json.loads(result.stdout)
    assert "other-press" in {r["id"].split("+")[0] for r in document["remedies"]} | {
        r["id"].split("+")[-1] for r in document["remedies"]
    }
    assert run("check", "elder-offset", "alder-10mn", "--presses", str(tmp_path / "none")).exit_code == 2


def test_calibrate_prints_the_fit_and_writes_a_press_that_checks(tmp_path: Path) -> None:
    target = tmp_path / "press.toml"
    result = run(
        "calibrate",
        "hornbeam-10mn",
        "hornbeam-spring",
        "--without",
        "C4",
        "--to",
        str(target),
        "--report",
        str(tmp_path),
    )
    page = (tmp_path / "calibration.html").read_text(encoding="utf-8")
    assert page.count("<tr>") > 28
    assert not re.search(r"[> ]-\d|[-−+]0\.0 σ", page), "hyphen for a minus, or a sign before nothing"
    assert "energy locked out" in result.stdout
    assert run("calibrate", "hornbeam-10mn", "hornbeam-spring", "--without", "Z9").exit_code == 2
    assert result.exit_code == 0, result.output
    assert "land stiffness" in result.stdout
    assert "To measure next" in result.stdout
    assert "[press.calibration]" in target.read_text(encoding="utf-8")
    again = run("calibrate", "hornbeam-10mn", "hornbeam-spring", "--to", str(target))
    assert again.exit_code == 2
    assert "is there already" in again.stderr


def test_calibrate_names_the_dial_that_slipped_as_json() -> None:
    result = run("calibrate", "hornbeam-10mn", "hornbeam-spring", "--json")
    assert result.exit_code == 0, result.output
    document = json.loads(result.stdout)
    assert [one["dial"] for one in document["without"]] == ["C4"]
    # The demo readings were made with a land of 75 N/mm3, a bolster like one of 270.2 mm and walls of 0.72.
    truths = {"land stiffness": 75.0, "effective thickness": 270.2, "wall stiffness": 0.72}
    for one in document["figures"]:
        if one["name"] in truths:
            assert one["fitted"]["low"] < truths[one["name"]] < one["fitted"]["high"]


def test_calibrate_refuses_with_every_mistake(tmp_path: Path) -> None:
    readings = tmp_path / "r.toml"
    readings.write_text('[readings]\nsource = ""\ndate = "yesterday"\n', encoding="utf-8")
    result = run("calibrate", "hornbeam-10mn", str(readings))
    assert result.exit_code == 2
    assert "3 mistakes" in result.stderr

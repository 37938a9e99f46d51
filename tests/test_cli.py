"""The command line: what it prints, where, and with which exit code."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from deflect.cli import main


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


def test_demo_cases_are_listed() -> None:
    listed = run("cases").stdout
    for name in ("alder-10mn", "birch-12mn", "rowan-trim", "hazel-draw", "elder-offset", "maple-restrike"):
        assert name in listed


def test_every_command_has_help() -> None:
    for name, command in main.commands.items():
        assert command.help, name
        assert run(name, "--help").exit_code == 0

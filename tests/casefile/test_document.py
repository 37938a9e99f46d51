"""Files as they come from other people's editors: read rightly, or refused in words."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from case_bench import DIE, PRESS, Bench, faults_in

from deflect.casefile import demo_cases, read, read_case, read_die, read_press
from deflect.faults import Fault
from deflect.model.die import Die
from deflect.model.press import Press

Only = Callable[[tuple[Fault, ...]], Fault]


@pytest.mark.parametrize("encoded", [PRESS.encode("utf-8-sig"), PRESS.replace("\n", "\r\n").encode()])
def test_mark_and_windows_line_ends_are_read(bench: Bench, encoded: bytes) -> None:
    plain = read_press(bench.press)
    bench.press.write_bytes(encoded)
    assert read_press(bench.press) == plain
    assert [given.origin for given in read_press(bench.press).inputs] == [given.origin for given in plain.inputs]


def test_umlauts_are_read(bench: Bench) -> None:
    bench.spoil(bench.press, "Test press", "Prüfpresse Größe 1")
    assert read_press(bench.press).name == "Prüfpresse Größe 1"


@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_older_encoding_is_refused_at_its_line(bench: Bench, only: Only, mark: bytes) -> None:
    bench.press.write_bytes(mark + PRESS.replace("Test", "Pr\u00fcf").encode("latin-1"))
    fault = only(bench.press_faults())
    assert fault.line == 2
    assert "0xfc is no UTF-8" in fault.problem
    assert "save the file as UTF-8" in fault.remedy


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be"])
def test_utf16_is_refused(bench: Bench, only: Only, encoding: str) -> None:
    bench.press.write_bytes(PRESS.encode(encoding))
    fault = only(bench.press_faults())
    assert "UTF-16" in fault.problem
    assert fault.line == 1
    assert "UTF-8" in fault.remedy


def test_nul_is_refused_at_its_line(bench: Bench, only: Only) -> None:
    bench.press.write_bytes(PRESS.replace("10 MN", "10 \0MN").encode())
    fault = only(bench.press_faults())
    assert (fault.line, "NUL" in fault.problem) == (3, True)


SYNTAX = [
    ('name = "Test press"', 'name = "Test press', 2, "text is not closed"),
    ('name = "Test press"', 'name = "a"\nname = "b"', 3, "given twice"),
    ("[press.cushion]", "[press.bolster]", 17, "given twice"),
    ('"10 MN"', "10 MN", 3, "stands without quotes"),
    ('"10 MN"', "MN", 3, "the value cannot be read"),
    ('name = "Test press"', 'name "Test press"', 2, "not followed by ="),
    ('"Test press"', '"C:\\presses\\one"', 2, "backslash"),
    ("[press.cushion]", "[press.cushion", 17, "not closed"),
    ('width = "1400 mm"}', 'width = "1400 mm"', 12, "not closed"),
]


@pytest.mark.parametrize(("old", "new", "line", "problem"), SYNTAX)
def test_syntax_is_told_in_words(bench: Bench, only: Only, old: str, new: str, line: int, problem: str) -> None:
    bench.spoil(bench.press, old, new)
    fault = only(bench.press_faults())
    assert problem in fault.problem
    assert fault.line == line
    assert fault.remedy


def test_windows_line_ends_keep_the_line_of_a_syntax_mistake(bench: Bench, only: Only) -> None:
    bench.press.write_bytes(PRESS.replace('"10 MN"', "10 MN").replace("\n", "\r\n").encode())
    assert only(bench.press_faults()).line == 3


@pytest.mark.parametrize("text", ["a = " + "[" * 5000, f"a = {'9' * 5000}"])
def test_excess_is_refused(bench: Bench, only: Only, text: str) -> None:
    bench.press.write_text(text)
    assert "too long or lists are nested too deep" in only(bench.press_faults()).problem


def test_empty_file_is_refused(bench: Bench, only: Only) -> None:
    bench.die.write_text("")
    fault = only(bench.die_faults())
    assert "empty" in fault.problem
    assert "[die]" in fault.remedy


def test_large_file_is_refused(bench: Bench, only: Only) -> None:
    bench.press.write_text(PRESS + "#" * 1_000_000)
    assert "larger than 1000 kB" in only(bench.press_faults()).problem


def test_folder_is_refused(bench: Bench, only: Only) -> None:
    assert "folder" in only(faults_in(lambda: read_press(bench.press.parent))).problem


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="needs named pipes")
def test_pipe_is_refused(tmp_path: Path, only: Only) -> None:
    pipe = tmp_path / "pipe.toml"
    os.mkfifo(pipe)
    assert only(faults_in(lambda: read_press(pipe))).problem


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="needs a file that cannot be read")
def test_unreadable_file_is_refused(bench: Bench, only: Only) -> None:
    bench.press.chmod(0)
    assert "cannot be read" in only(bench.press_faults()).problem


@pytest.mark.parametrize("name", ["nowhere.toml", "x" * 5000, "a\0b", ""])
def test_unknown_names_list_the_known(only: Only, name: str) -> None:
    fault = only(faults_in(lambda: read_press(name)))
    if name:
        assert "no such file" in fault.problem
        assert all(known in fault.allowed for known in demo_cases("press"))


def test_name_nearly_right(only: Only) -> None:
    assert only(faults_in(lambda: read_press("aldr-10mn"))).remedy == 'did you mean "alder-10mn"?'
    assert only(faults_in(lambda: read_die("rowan_trim"))).remedy == 'did you mean "rowan-trim"?'


def test_a_file_goes_before_a_demo_case(bench: Bench, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(bench.press.parent)
    bench.press.rename(bench.press.parent / "alder-10mn")
    assert read_press("alder-10mn").name == "Test press"


def test_a_folder_does_not_hide_a_demo_case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "alder-10mn").mkdir()
    assert read_press("alder-10mn").name == "Alder, 10 MN"


def test_kind_is_told_apart(bench: Bench) -> None:
    assert isinstance(read(bench.press), Press)
    assert isinstance(read(bench.die), Die)
    assert isinstance(read("alder-10mn"), Press)
    assert isinstance(read("rowan-trim"), Die)


def test_wrong_kind_is_refused(bench: Bench, only: Only) -> None:
    fault = only(faults_in(lambda: read_die(bench.press)))
    assert fault.problem == "this file holds a press; a die is expected"
    assert "holds a die" in only(faults_in(lambda: read_press("rowan-trim"))).problem


def test_both_kinds_in_one_file_are_refused(bench: Bench, only: Only) -> None:
    bench.press.write_text(PRESS + DIE)
    assert "a press and a die" in only(faults_in(lambda: read(bench.press))).problem


@pytest.mark.parametrize(("text", "remedy"), [("[pres]\n", 'did you mean "press"?'), ("x = 1", "new case file")])
def test_neither_kind_is_refused(tmp_path: Path, only: Only, text: str, remedy: str) -> None:
    path = tmp_path / "file.toml"
    path.write_text(text)
    assert remedy in only(faults_in(lambda: read(path))).remedy


def test_misspelt_top_table(bench: Bench, only: Only) -> None:
    bench.press.write_text(PRESS.replace("[press", "[prss"))
    fault = only(bench.press_faults())
    assert (fault.key, fault.line, fault.remedy) == ("prss", 1, 'did you mean "press"?')


def test_key_beside_the_top_table(bench: Bench, only: Only) -> None:
    bench.press.write_text('rated_force = "10 MN"\n' + PRESS)
    fault = only(bench.press_faults())
    assert (fault.key, fault.line, fault.remedy) == ("rated_force", 1, "put it under [press]")


def test_faults_of_a_demo_case_name_its_file(bench: Bench, only: Only) -> None:
    assert only(faults_in(lambda: read_case("hazel-draw", "alder-10mn"))).file == "hazel-draw.toml"

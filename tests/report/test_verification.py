"""How checks are shown: on the terminal, as rows, as a page; on checks of our own that pass and fail."""

from __future__ import annotations

import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from rich.console import Console

from deflect.checks import Check, Outcome, Row, outcome_of
from deflect.faults import MechanicsFailed, OutputRefused
from deflect.report.verification import as_rows, page, print_checks, summary
from deflect.report.writing import VERIFICATION, write_verification
from deflect.sources import Source, Tag


def _outcome(name: str, computed: float, printed: str = "") -> Outcome:
    source = Source("A. Author, A Journal 1 (1900) 1 <b>", Tag.MEMORY)
    function = "deflect.mechanics.plate.Plate"
    check = Check(name, "A sum is a sum.", source, function, "None is needed.", {})
    return Outcome("Sums", check, (Row("one", 1.0, 1.0, 1e-3), Row("two", 2.0, computed, 1e-3, printed)))


GOOD, BAD, MISPRINTED = _outcome("A01", 2.001), _outcome("A02", 2.1), _outcome("A03", 2.0, "2.2")


def _shown(*outcomes: Outcome) -> str:
    text = io.StringIO()
    print_checks(outcomes, Console(file=text, width=80))
    return text.getvalue()


def test_the_terminal_names_source_and_the_figure_nearest_to_its_tolerance() -> None:
    shown = _shown(GOOD)
    assert "A sum is a sum." in shown
    assert "A. Author, A Journal 1 (1900) 1 <b> (from memory)" in shown
    line = next(line for line in shown.splitlines() if line.startswith("A01"))
    assert line.split() == ["A01", "2", "2.001", "2", "0.1", "%", "passed"]
    assert "1 checks with 2 figures" in shown
    assert "all passed" in shown
    assert all(len(line) <= 80 for line in shown.splitlines())


def test_failures_are_told_in_full() -> None:
    shown = _shown(GOOD, BAD, MISPRINTED)
    assert "A02 two: computed 2.1, exact 2, tolerance 0.1 %" in shown
    assert "A03 two: computed 2, exact 2, tolerance 0.1 %, printed 2.2" in shown
    assert summary([GOOD, BAD, MISPRINTED]).endswith("2 FAILED: A02, A03")
    assert not BAD.passed
    assert GOOD.passed
    assert not Outcome("Sums", GOOD.check, ()).passed


def test_rows_hold_what_a_reader_needs() -> None:
    rows = as_rows([GOOD, BAD])
    assert json.loads(json.dumps(rows, allow_nan=False)) == rows
    assert [row["passed"] for row in rows] == [True, True, True, False]
    assert {"id", "source", "computed", "exact", "tolerance", "passed", "printed", "function", "label"} <= set(rows[0])


def test_a_check_that_breaks_down_has_failed() -> None:
    def broken() -> list[Row]:
        raise MechanicsFailed("nothing holds it")

    outcome = outcome_of("Sums", replace(GOOD.check, cases={"": broken}))
    assert not outcome.passed
    assert "did not run: nothing holds it" in _shown(outcome)
    assert as_rows([outcome])[0]["computed"] is None
    assert "did not run" in page([outcome])


def test_the_page_stands_alone_and_escapes_what_it_shows(tmp_path: Path) -> None:
    text = page([GOOD, BAD])
    assert "<b>" not in text
    assert "&lt;b&gt;" in text
    assert "http" not in text
    assert "FAILED" in text
    written = write_verification(text, tmp_path / "new")
    assert written.name == VERIFICATION
    assert written.read_text(encoding="utf-8") == text
    assert write_verification(page([GOOD]), tmp_path / "new") == written


def test_a_page_of_somebody_else_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / VERIFICATION).write_text("mine", encoding="utf-8")
    with pytest.raises(OutputRefused, match=r"already holds verification\.html"):
        write_verification(page([GOOD]), tmp_path)
    assert (tmp_path / VERIFICATION).read_text(encoding="utf-8") == "mine"

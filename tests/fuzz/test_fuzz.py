"""Spoilt case files: read or refused in words, solved or refused in words; the big run is ``big_run.py``."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from mutants import TOKENS, Original, originals
from reader import ACCEPTED, HUNG, REFUSED, read_mutant
from whole_check import ANSWERED, TOLD, check, coarse_mesh

from deflect.cli import main
from deflect.model.case import Case

SEED, MUTANTS = 2026, 250
ORIGINALS = originals()


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory) -> list[tuple[int, str, str, Case | None]]:
    """A few hundred mutants read: number, outcome, what is wrong, and the case."""
    folder = tmp_path_factory.mktemp("mutants")
    found = []
    for number in range(MUTANTS):
        came = read_mutant(folder, ORIGINALS[number % len(ORIGINALS)], ORIGINALS, SEED, number)
        wrong = came.wrong or ("hung" if came.seconds > HUNG else "")
        found.append((number, came.outcome, wrong, came.case))
    return found


def test_every_mutant_is_read_or_refused_in_words(read: list[tuple[int, str, str, Case | None]]) -> None:
    assert [(number, wrong) for number, outcome, wrong, _ in read if wrong or outcome not in (ACCEPTED, REFUSED)] == []
    # Both happen often: mutants that are all refused, or all read, would try nothing.
    assert all(sum(outcome == one for _, outcome, _, _ in read) > MUTANTS / 20 for one in (ACCEPTED, REFUSED))


def test_a_mutant_that_is_read_is_answered_or_refused_in_words(
    read: list[tuple[int, str, str, Case | None]],
) -> None:
    changed = [(number, case) for number, _, _, case in read if case is not None]
    with coarse_mesh():
        number, case = changed[len(changed) // 2]
        answer = check(case)
    assert answer.outcome in (ANSWERED, TOLD), (number, answer.wrong)
    assert answer.outcome == TOLD or not answer.wrong, (number, answer.wrong)


@given(st.lists(st.one_of(st.sampled_from(TOKENS), st.binary(max_size=6)), max_size=40).map(b"".join))
@example(b"")
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_bytes_of_no_kind_are_refused_in_words(tmp_path: Path, content: bytes) -> None:
    for kind in ("die", "press", "readings", "table"):
        came = read_mutant(tmp_path, Original(kind, "nothing", content), ORIGINALS, 0, -1)
        assert came.outcome in (ACCEPTED, REFUSED), came.wrong
        assert not came.wrong
        assert came.case is None


@pytest.mark.parametrize("words", [(), ("--json",), ("--why", "gap")])
def test_refused_input_never_yields_a_verdict(tmp_path: Path, words: tuple[str, ...]) -> None:
    """The command on mutants that are refused: exit code 2, nothing on standard output, no file."""
    refused = 0
    for number in range(12):
        original = next(one for one in ORIGINALS if one.kind == "die")
        came = read_mutant(tmp_path, original, ORIGINALS, SEED, number)
        if came.outcome != REFUSED:
            continue
        refused += 1
        report = tmp_path / "report"
        told = CliRunner().invoke(
            main, ["check", str(tmp_path / "die.toml"), "alder-10mn", "--report", str(report), *words]
        )
        assert told.exit_code == 2
        assert told.stdout == ""
        assert "The case is refused: " in told.stderr
        assert not report.exists()
    assert refused > 3


def test_an_answer_that_does_not_balance_is_seen() -> None:
    """The fuzz would notice: figures that are no numbers, and residuals that are too large."""
    from types import SimpleNamespace as Plain

    from whole_check import wrong_with

    evidence = Plain(force_balance=1e-3, moment_balance=float("nan"), complementarity=0.0)
    analysis = Plain(solution=Plain(evidence=evidence), spread=(1.0, float("nan")))
    advice = Plain(assessment=Plain(analysis=analysis))
    text = json.dumps(
        {"nulls": [{"path": "a.b", "reason": "there is no such number here"}], "rules": [], "cautions": []}
    )
    found = list(wrong_with(advice, text, "sag (nan mm)"))  # type: ignore[arg-type]
    assert [one.split()[0] for one in found] == ["force_balance", "moment_balance", "spread[1]", "no", "nan", "no"]

"""Every published check, each case of it by its id; and what a check must say of itself."""

from __future__ import annotations

import importlib
from dataclasses import replace

import pytest

from deflect.checks import Check, Row, all_checks
from deflect.report.verification import tolerance

CHECKS = [check for _, check in all_checks()]


@pytest.mark.parametrize(
    ("check", "case"), [pytest.param(c, case, id=f"{c.id} {case}".strip()) for c in CHECKS for case in c.cases]
)
def test_check(check: Check, case: str) -> None:
    rows = check.rows(case)
    assert rows
    failed = [
        f"{row.label}: computed {row.computed}, exact {row.exact}, tolerance {tolerance(row)}, printed {row.printed!r}"
        for row in rows
        if not row.passed
    ]
    assert not failed, f"{check.source}: " + "; ".join(failed)


def test_there_are_as_many_checks_as_promised() -> None:
    assert len(CHECKS) >= 70
    assert sum(check.function.startswith("deflect.mechanics.") for check in CHECKS) >= 50


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.id)
def test_a_check_says_what_it_is(check: Check) -> None:
    assert check.what.endswith(".")
    assert check.reason.strip().endswith(".")
    assert str(check.source)
    assert check.cases
    if check.function:
        module, _, name = check.function.rpartition(".")
        assert hasattr(importlib.import_module(module), name)


def test_a_row_fails_beyond_its_tolerance_and_off_its_printed_digits() -> None:
    row = Row("w", 0.0040624, 0.0040625, 1e-4, "0.00406")
    assert row.passed
    assert not replace(row, computed=0.0040630).passed
    assert not replace(row, computed=float("nan")).passed
    assert not replace(row, printed="0.00405").as_printed
    assert replace(row, printed="4.062e-3").as_printed
    assert not replace(row, printed="4.060e-3").passed
    assert replace(row, exact=0.0, computed=1e-7, tolerance=1e-6, printed="", absolute=True).passed
    assert not replace(row, exact=0.0, computed=1e-5, tolerance=1e-6, printed="", absolute=True).passed

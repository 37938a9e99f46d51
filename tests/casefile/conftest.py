"""Fixtures for case files: a bench to spoil right files on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from case_bench import Bench

from deflect.faults import Fault


@pytest.fixture
def bench(tmp_path: Path) -> Bench:
    return Bench(tmp_path)


@pytest.fixture
def only() -> Callable[[tuple[Fault, ...]], Fault]:
    """The one fault among faults, which must be alone."""

    def one(faults: tuple[Fault, ...]) -> Fault:
        assert len(faults) == 1, "\n".join(map(str, faults))
        return faults[0]

    return one

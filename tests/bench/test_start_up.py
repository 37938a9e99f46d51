"""From the start of the program to its numbers, its verdict and its advice: wall time, nothing kept from before.

Run with ``python -m pytest -n 0 tests/bench/test_start_up.py --benchmark-only``.
"""

from __future__ import annotations

import os
import subprocess
import sys

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

_CASE = "from deflect.casefile import read_case; case = read_case('rowan-trim', 'alder-10mn'); "
PARTS = {
    "nominal numbers": _CASE + "from deflect.mechanics.glance import glance; print(glance(case).solution.greatest_gap)",
    "verdict with its range": _CASE + "from deflect.advice import assess; print(len(assess(case).findings))",
    "whole check": "from deflect.cli import main; main()",
}


@pytest.mark.parametrize("part", PARTS)
def test_start_to(benchmark: BenchmarkFixture, part: str) -> None:
    words = ["check", "rowan-trim", "alder-10mn"] if part == "whole check" else []
    command = [sys.executable, "-c", PARTS[part], *words]
    alone = os.environ | {"OPENBLAS_NUM_THREADS": "1"}
    benchmark.pedantic(lambda: subprocess.run(command, env=alone, capture_output=True, check=True), rounds=3)

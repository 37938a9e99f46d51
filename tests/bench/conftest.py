"""What most benchmarks are made of: the trim die of the demo scenario on its press, at the usual values."""

from __future__ import annotations

import pytest

from deflect.casefile import read_case
from deflect.mechanics.ground import table_of
from deflect.mechanics.standing import Assumptions
from deflect.model.case import Case


@pytest.fixture(scope="module")
def case() -> Case:
    return read_case("rowan-trim", "alder-10mn")


@pytest.fixture(scope="module")
def usual(case: Case) -> Assumptions:
    return Assumptions(table_of(case.press)[0].nominal)

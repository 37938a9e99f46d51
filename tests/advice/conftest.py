"""Cases of the demo scenario, and small ones made by hand, solved once a session."""

from __future__ import annotations

import pytest

from deflect.advice import advise, assess
from deflect.casefile import read_case
from deflect.findings import Advice, Assessment
from deflect.model.case import Case


@pytest.fixture(scope="session")
def rowan() -> Case:
    return read_case("rowan-trim", "alder-10mn")


@pytest.fixture(scope="session")
def maple() -> Case:
    return read_case("maple-restrike", "birch-12mn")


@pytest.fixture(scope="session")
def rowan_advice(rowan: Case) -> Advice:
    return advise(rowan)


@pytest.fixture(scope="session")
def maple_assessment(maple: Case) -> Assessment:
    return assess(maple)

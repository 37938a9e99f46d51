"""Cases of the demo scenario, and small ones made by hand, solved once a session."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

import deflect.mechanics.footprint as footprint
from deflect.advice import advise, assess
from deflect.casefile import read_case
from deflect.findings import Advice, Assessment
from deflect.mechanics.keeping import forget
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


@pytest.fixture
def coarse() -> Iterator[None]:
    """A mesh on which advice is quick, for tests of what is proposed and not of its numbers; nothing of it is kept."""
    forget()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", 2.0 * footprint.PATCH_SIZE)
        patch.setattr(footprint, "ELEMENT_SIZE", 1.6 * footprint.ELEMENT_SIZE)
        yield
    forget()

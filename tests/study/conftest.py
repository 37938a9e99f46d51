"""Small invented shops, and workers that work here."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing
from pathlib import Path

import pytest
from workers_here import HereWorkers

from deflect.study.invented import invent_shop
from deflect.study.journal import Journal


@pytest.fixture
def workers() -> HereWorkers:
    return HereWorkers()


@pytest.fixture(scope="session")
def shop_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Four dies, one of them broken, and two presses."""
    folder = tmp_path_factory.mktemp("shop")
    invent_shop(folder, dies=4, presses=2, seed=5, broken=1)
    return folder


@pytest.fixture(scope="session")
def cache(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Condensed bodies, made once a session."""
    return str(tmp_path_factory.mktemp("bodies"))


@pytest.fixture
def opened() -> Iterator[Callable[[Path], Journal]]:
    """Opens journals, and closes them at the end of the test."""
    with ExitStack() as stack:
        yield lambda file: stack.enter_context(closing(Journal(file)))

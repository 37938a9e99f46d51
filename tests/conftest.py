"""For every test: one thread for linear algebra, and the same drawn examples in every run.

The matrices are small, and several threads slow them down; a drawn example that fails today must fail tomorrow.
"""

import os

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from collections.abc import Iterator

import pytest
from hypothesis import settings

import deflect.mechanics.footprint as footprint
from deflect.mechanics.keeping import forget

settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")


@pytest.fixture
def coarse() -> Iterator[None]:
    """A mesh on which advice is quick, for tests of what is proposed and not of its numbers; nothing of it is kept."""
    forget()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(footprint, "PATCH_SIZE", 2.0 * footprint.PATCH_SIZE)
        patch.setattr(footprint, "ELEMENT_SIZE", 1.6 * footprint.ELEMENT_SIZE)
        yield
    forget()

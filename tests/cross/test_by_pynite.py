"""The frozen figures of the general-purpose solver: whole, and, where it is installed, what it gives today."""

from __future__ import annotations

import importlib.util

import pytest

from deflect.checks.families.general_solver import frozen, limit

CASES = ("opened", "bedded", "stacked")
LIVE = pytest.mark.skipif(importlib.util.find_spec("Pynite") is None, reason="the extra `cross` is not installed")


@pytest.mark.parametrize("name", CASES)
def test_the_frozen_figures_settle(name: str) -> None:
    told = frozen()
    assert [round(a / b) for a, b in zip(told["sizes"], told["sizes"][1:], strict=False)] == [2, 2]
    for key, levels in told[name].items():
        coarse, middle, fine = levels
        assert len(levels) == len(told["sizes"]), key
        # What is left to the limit is less than the last step: the step before was at least half as long again.
        if key.startswith("w "):
            assert abs(fine - middle) < 0.67 * abs(middle - coarse), key


def test_a_limit_is_that_of_halved_errors() -> None:
    assert limit([1.0 + 0.4, 1.0 + 0.1, 1.0 + 0.025]) == pytest.approx(1.0, rel=1e-12)
    assert limit([1.0, 2.0, 3.5]) == 3.5


@LIVE
@pytest.mark.filterwarnings("default")
@pytest.mark.parametrize("name", CASES)
def test_the_library_gives_today_what_was_frozen(name: str) -> None:
    """On the coarsest mesh; 1e-6: another release may sum its matrices in another order."""
    import by_pynite

    told = frozen()
    today = by_pynite.CASES[name](told["sizes"][0])
    assert set(today) == set(told[name])
    for key, value in today.items():
        assert value == pytest.approx(told[name][key][0], rel=1e-6), key

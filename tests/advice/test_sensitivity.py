"""Sobol indices of one pair: the exact ones of a sum, and that limits are counted on the numbers themselves."""

from __future__ import annotations

import numpy as np
import pytest

from deflect.advice import sensitivity as module
from deflect.advice.sensitivity import VERDICT, ranged_inputs, sensitivity, shares_of_limits
from deflect.mechanics.draws import UNCERTAIN
from deflect.model.case import Case

STIFFNESS, GIVE = UNCERTAIN.index("land stiffness"), UNCERTAIN.index("local give of the contact")
# Saltelli's estimate from 256 points misses the exact index by a few hundredths.
ESTIMATE = 0.08


def test_of_a_sum_each_input_makes_the_square_of_its_weight(rowan: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    """The variance of a sum of independent inputs: closed form."""

    def headlines(case: Case) -> object:
        def read(unit: np.ndarray) -> dict[str, float]:
            gap = 0.05 * (3 * unit[STIFFNESS] + 1 * unit[GIVE]) / 2
            return {"gap": float(gap), "contact_share": 1.0, "face": 0.0, "sag_slope": 0.0, "strokes": 1e9}

        return read

    monkeypatch.setattr(module, "headlines_at", headlines)
    told = sensitivity(rowan, 256)
    gap = next(one for one in told.moved if one.number == "gap")
    first = dict(zip(told.inputs, gap.first, strict=True))
    assert first["land stiffness"] == pytest.approx(0.9, abs=ESTIMATE)
    assert first["local give of the contact"] == pytest.approx(0.1, abs=ESTIMATE)
    assert first["friction"] == pytest.approx(0.0, abs=ESTIMATE)
    assert told.moved[0].number == VERDICT
    # 3a + b <= 2 for a, b even in 0 to 1: half of the square.
    assert told.holds == pytest.approx(0.5, abs=0.05)
    assert 0.0 <= gap.low < gap.high <= 2.0


def test_only_inputs_with_a_range_are_varied(rowan: Case) -> None:
    inputs = ranged_inputs(rowan)
    assert "friction" in inputs
    assert "hold-down of the bolster" not in inputs  # stated
    assert "land stiffness of the press it was bedded on" not in inputs  # not bedded


def test_shares_are_of_the_limits(rowan: Case) -> None:
    told = shares_of_limits(
        rowan, {"gap": 0.1, "contact_share": 0.75, "face": 0.0, "sag_slope": 0.000125, "strokes": 1e5}
    )
    assert (told["gap"], told["contact"], told["table sag"]) == (2.0, 0.5, 0.5)
    assert told["creep"] == pytest.approx(0.0)
    assert told[VERDICT] == 2.0

"""Which inputs are said to move a number: by rank correlation over draws made up for it (C. Spearman 1904)."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from deflect.mechanics import analysis
from deflect.mechanics.arrays import Floats
from deflect.mechanics.draws import UNCERTAIN
from deflect.mechanics.meeting import Meeting
from deflect.mechanics.spread import Spread

USED = ("land stiffness", "friction")


def solved(gap: float, creep: float = 0.002) -> Any:
    sag = SimpleNamespace(along_x=0.1, along_y=0.05, reference_length=1e3, reference_width=1e3, slope=1e-4)
    return SimpleNamespace(
        solution=SimpleNamespace(
            sag=sag,
            greatest_gap=gap,
            contact_share=0.7,
            base_stress=5.0,
            bolster_stress=6.0,
            pressure_inside=7.0,
            case=None,
        ),
        face=SimpleNamespace(error_range=0.03),
        creep=SimpleNamespace(free=creep, march=SimpleNamespace(shift=creep)),
    )


def spread(monkeypatch: pytest.MonkeyPatch, gaps: list[float], friction: list[float]) -> Spread:
    """Eight draws in which the land grows stiffer; usual gap of 0.05 mm."""
    monkeypatch.setattr(analysis, "first_met", lambda case, shift: Meeting("a guide", 10.0))
    unit: Floats = np.full((len(gaps), len(UNCERTAIN)), 0.5)
    unit[:, UNCERTAIN.index("land stiffness")] = np.arange(len(gaps)) / len(gaps)
    unit[:, UNCERTAIN.index("friction")] = friction
    return analysis._spread(solved(0.05), [solved(gap) for gap in gaps], unit, USED)


MIXED = [0.5, 0.1, 0.9, 0.3, 0.7, 0.2, 0.8, 0.4]


def test_an_input_that_ranks_as_the_number_does_drives_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The gap falls as the land grows stiffer, however unevenly; friction goes its own way and is not told."""
    found = spread(monkeypatch, [0.9, 0.5, 0.2, 0.09, 0.08, 0.04, 0.03, 0.01], MIXED)
    assert found.drivers == (("gap", "land stiffness"),)
    assert found.seconds == ()
    assert (found.gap.low, found.gap.nominal, found.gap.high) == (0.01, 0.05, 0.9)
    assert found.creep.is_exact
    # Of both corners nothing is said of what is met.
    assert len(found.met) == 6


def test_a_second_input_is_told_where_it_surely_moves_the_number(monkeypatch: pytest.MonkeyPatch) -> None:
    found = spread(monkeypatch, [0.9, 0.5, 0.2, 0.09, 0.08, 0.04, 0.03, 0.01], [0.1, 0.3, 0.2, 0.5, 0.4, 0.7, 0.6, 0.8])
    assert found.drivers == (("gap", "land stiffness"),)
    assert found.seconds == (("gap", "friction"),)


def test_two_corners_alone_drive_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    found = spread(monkeypatch, [0.9, 0.01], [0.0, 1.0])
    assert (found.drivers, found.seconds, found.met) == ((), (), ())

"""Ranges of what the closed die says: over what carries both halves, from soft to stiff."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics import closure
from deflect.mechanics.closure import Closure, Stiff, ranges_of, usual
from deflect.mechanics.ground import table_of
from deflect.mechanics.support import CONTACT_GIVE
from deflect.model.force import Line
from deflect.model.values import Interval

CASE = read_case("willow-cast-trim", "alder-10mn")


def told(camber: float, gap: float, shift: float) -> SimpleNamespace:
    return SimpleNamespace(camber_range=camber, greatest_gap=gap, edges=SimpleNamespace(greatest=shift, free=0.02))


def ranges(monkeypatch: pytest.MonkeyPatch, samples: int) -> tuple[Any, list[Stiff]]:
    """Of a die that closes otherwise at each stiffness; the stiffnesses that were asked for, in their order."""
    asked: list[Stiff] = []

    def closed(case: object, stiff: Stiff) -> SimpleNamespace:
        asked.append(stiff)
        return (told(0.10, 0.03, 0.2), told(0.16, 0.05, 0.1), told(0.08, 0.01, 0.3))[len(asked) - 1]

    monkeypatch.setattr(closure, "closed_at", closed)
    analysis: Any = SimpleNamespace(case=CASE, spread=SimpleNamespace(samples=samples))
    return ranges_of(analysis), asked


def test_ranges_go_from_soft_to_stiff_with_the_usual_values_between(monkeypatch: pytest.MonkeyPatch) -> None:
    found, asked = ranges(monkeypatch, 16)
    slide = CASE.press.slide
    assert slide is not None
    assert slide.body is not None
    land, points = table_of(CASE.press.bare)[0], slide.body.stiffness
    assert asked == [
        Stiff(land.nominal, points.nominal, CONTACT_GIVE[1]),
        Stiff(land.low, points.low, CONTACT_GIVE[2]),
        Stiff(land.high, points.high, CONTACT_GIVE[0]),
    ]
    assert usual(CASE) == asked[0]
    assert found.camber == Interval(0.08, 0.10, 0.16)
    assert found.gap == Interval(0.01, 0.03, 0.05)
    # Guides that are free to tilt shift the edges at worst by so much more.
    assert (found.shift.low, found.shift.nominal, found.shift.high) == pytest.approx((0.1, 0.2, 0.32))


def test_usual_values_alone_have_no_range(monkeypatch: pytest.MonkeyPatch) -> None:
    found, asked = ranges(monkeypatch, 0)
    assert len(asked) == 1
    assert found.camber == Interval.exactly(0.10)


def test_what_spotting_shows_is_told_in_shares_of_the_even_pressure_and_of_the_area() -> None:
    """Three patches of 1, 2 and 5 dm2: pressed by half, once and three times the even pressure; the first is open."""
    nothing: Any = None
    made = Closure(
        case=nothing,
        faces=nothing,
        closes=True,
        even=np.full(3, 4.0),
        pressure=np.array([2.0, 4.0, 12.0]),
        gap=np.array([0.5, 0.0, 0.0]),
        lower_error=np.array([0.02, 0.0, -0.01]),
        upper_error=np.array([0.03, 0.01, 0.0]),
        made=np.array([0.01, 0.0, 0.0]),
        points_force=nothing,
        tilt=nothing,
        lower_gap=0.0,
        upper_gap=0.0,
        edges=None,
        upper_base=nothing,
        upper_motion=nothing,
        travel=0.0,
        exchanges=1,
        complementarity=0.0,
        balance=0.0,
    )
    area = SimpleNamespace(patches=SimpleNamespace(area=np.array([1.0, 2.0, 5.0]), centre=np.array([[7.0, 8.0]] * 3)))
    made = replace(made, faces=area)
    assert made.spread == (50.0, 300.0)
    assert made.marked_share == pytest.approx(7 / 8)
    assert made.hard_share == pytest.approx(5 / 8)
    assert (made.greatest_gap, made.greatest_gap_at) == (0.5, (7.0, 8.0))
    assert made.camber == pytest.approx([0.04, 0.01, -0.01])
    assert made.camber_range == pytest.approx(0.05)


def test_edges_are_read_at_both_ends_of_every_piece_however_short() -> None:
    """A piece of 10 mm has two points; one of 100 mm has them no farther apart than a few centimetres."""
    short = closure._along(Line(1.0, ((0.0, 0.0), (6.0, 8.0))))
    assert short == pytest.approx(np.array([(0.0, 0.0), (6.0, 8.0)]))
    bent = closure._along(Line(1.0, ((0.0, 0.0), (100.0, 0.0), (100.0, 5.0))))
    assert bent[0] == pytest.approx((0.0, 0.0))
    assert bent[-1] == pytest.approx((100.0, 5.0))
    assert np.hypot(*np.diff(bent, axis=0).T).max() <= 50.0

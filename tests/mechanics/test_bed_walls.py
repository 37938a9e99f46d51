"""Properties of walls that span between columns, and of what stands on them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.bed_walls import bed_answer, wall_answer
from deflect.mechanics.solution import solve
from deflect.mechanics.standing import Assumptions, stand
from deflect.model.bed_walls import SpanningWalls
from deflect.model.case import Case
from deflect.model.material import Material
from deflect.model.press import HoldDown
from deflect.model.values import Interval, Rectangle

STEEL = Material("steel", 210e3, 0.3, 7.85e-6, 120.0)
WALLS = SpanningWalls(Rectangle(0.0, 0.0, 3000.0, 1600.0), 100.0, 80.0, 1500.0, STEEL, 5e6)
PLACES = np.array([[x, y] for x in (-1700.0, -800.0, 0.0, 900.0, 1650.0) for y in (-900.0, 0.0, 850.0)])


def test_answer_is_symmetric_and_never_lifts_what_presses() -> None:
    answer = wall_answer(WALLS, PLACES)
    assert np.allclose(answer, answer.T, rtol=0, atol=1e-18)
    assert np.linalg.eigvalsh(answer).min() > -1e-15


def test_beyond_the_columns_a_patch_stands_on_the_column() -> None:
    out = np.array([[-1700.0, -900.0], [-1500.0, -800.0]])
    answer = wall_answer(WALLS, out)
    assert answer[0, 0] == pytest.approx(1 / 5e6, rel=1e-12)
    assert answer[0, 0] == pytest.approx(answer[1, 1], rel=1e-12)


def test_a_hold_down_pulls_its_wall_up() -> None:
    """A pull at the place of an equal pressure leaves the wall where it was."""
    place = np.array([[300.0, -850.0]])
    answer = bed_answer(WALLS, place, (HoldDown(300.0, -850.0, 0.0, 1.0),))
    assert answer is not None
    assert answer @ np.ones(2) == pytest.approx(np.zeros(2), abs=1e-18)
    assert bed_answer(None, place, ()) is None


def on_walls(case: Case, walls: SpanningWalls | None) -> Case:
    bed = case.press.bed
    return replace(case, press=replace(case.press, bed=replace(bed, land=replace(bed.land, walls=walls))))


def test_very_stiff_walls_are_none() -> None:
    case = read_case("rowan-trim", "alder-10mn")
    stiff = replace(WALLS, stiffness=Interval.exactly(1e7))
    with_them, without = (solve(stand(on_walls(case, walls)), Assumptions(60.0)) for walls in (stiff, None))
    assert with_them.greatest_gap == pytest.approx(without.greatest_gap, rel=1e-5)
    assert with_them.sag.along_x == pytest.approx(without.sag.along_x, rel=1e-5)
    # Softer walls let the table sag more and its corners rise.
    soft = solve(stand(on_walls(case, WALLS)), Assumptions(60.0))
    assert soft.sag.along_x > 1.5 * without.sag.along_x
    assert soft.corner_lift > without.corner_lift
    assert soft.evidence.force_balance < 1e-9

"""What happens, in one sentence: each way that a die can stand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from told_cases import creeping, told_held

from deflect.findings import Advice, Analysis
from deflect.report.data import as_json
from deflect.report.places import CORNERS, gap_place
from deflect.report.sentence import what_happens
from deflect.report.wording import force


def standing(
    advice: Advice, gap: float, at: tuple[float, float] = (0.0, 0.0), corners: tuple[float, ...] = (0.0,) * 4
) -> Analysis:
    """The trim die with this gap there, its corners open so far (front left, rear left, front right, rear right)."""
    analysis = advice.assessment.analysis
    outline = analysis.solution.outline_gap.copy()
    outline[[0, 0, -1, -1], [0, -1, 0, -1]] = corners
    solution = replace(analysis.solution, greatest_gap=gap, greatest_gap_at=at, outline_gap=outline)
    return creeping(replace(analysis, solution=solution, face=replace(analysis.face, error_range=0.04)), 0.0035)


def corner(analysis: Analysis) -> tuple[float, float]:
    plan = analysis.case.die.base.plan
    return plan.right, plan.front


def test_a_gap_in_the_middle(advice: Advice) -> None:
    analysis = standing(advice, 0.05)
    load = force(analysis.case.base_force)
    assert what_happens(analysis) == (
        f"It stands on its edges: under {load} the table falls 0.050 mm away below the middle of the base, "
        "its face bends by 0.040 mm, and the free die creeps 3.5 µm a stroke."
    )


def test_corners_that_are_open_alike_are_told_as_one(advice: Advice) -> None:
    at = corner(advice.assessment.analysis)
    alike = standing(advice, 0.05, at, (0.0495, 0.0496, 0.05, 0.0497))
    assert gap_place(alike) == CORNERS
    assert what_happens(alike).startswith("It rides on its middle")
    one = standing(advice, 0.05, at, (0.048, 0.05, 0.05, 0.05))
    assert gap_place(one) == "at the right front corner of the base"
    assert "parts from the table by 0.050 mm at the right front corner" in what_happens(one)
    unknown = standing(advice, 0.05, at, (np.nan, 0.05, 0.05, 0.05))
    assert gap_place(unknown) == "at the right front corner of the base"


def test_a_gap_elsewhere_small_or_none(advice: Advice) -> None:
    plan = advice.assessment.analysis.case.die.base.plan
    assert "at the left edge of the base" in what_happens(standing(advice, 0.05, (plan.left, 0.0)))
    assert "rests all but everywhere" in what_happens(standing(advice, 0.012))
    assert "rests everywhere" in what_happens(standing(advice, 0.0))


@pytest.mark.parametrize(
    ("shift", "words"), [(0.0, "it does not creep"), (0.00002, "the free die creeps less than 0.1 µm a stroke")]
)
def test_little_or_no_creep(advice: Advice, shift: float, words: str) -> None:
    assert words in what_happens(creeping(standing(advice, 0.05), shift))


def test_keys_are_told_with_the_creep_of_the_free_die(advice: Advice) -> None:
    held = told_held(standing(advice, 0.05))
    assert "keys hold the die, which would creep 3.5 µm a stroke if it were free" in what_happens(held)
    assert "it does not creep; keys hold it besides" in what_happens(creeping(held, 0.0))


def test_a_die_that_slides_does_not_creep(advice: Advice) -> None:
    analysis = standing(advice, 0.05)
    march = replace(analysis.creep.march, slides=True)
    assert "it slides away" in what_happens(replace(analysis, creep=replace(analysis.creep, march=march)))


def test_cones_are_told_as_cones(advice: Advice) -> None:
    assert "locating cones hold the die" in what_happens(told_held(standing(advice, 0.05), coned=True))


def test_a_face_that_stays_true(advice: Advice) -> None:
    analysis = standing(advice, 0.05)
    assert "its face stays true" in what_happens(replace(analysis, face=replace(analysis.face, error_range=0.0)))


def test_the_sentence_is_in_json(advice: Advice) -> None:
    assert as_json(advice)["what_happens"] == what_happens(advice.assessment.analysis)

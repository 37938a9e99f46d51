"""Numbers and places in words, and the sums that a reader can follow."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from told_cases import told_held

from deflect.findings import Advice, Status
from deflect.model.values import Interval, Rectangle
from deflect.report import wording
from deflect.report.headlines import headlines, whole
from deflect.report.sections.by_hand import Beam

PLAN = Rectangle(0.0, 0.0, 2800.0, 1400.0)


@pytest.mark.parametrize(
    ("x", "y", "words"),
    [
        (0, 0, "below the middle of the base"),
        (1350, 650, "at the right rear corner of the base"),
        (-1350, -650, "at the left front corner of the base"),
        (0, 650, "at the rear edge of the base"),
        (-1350, 100, "at the left edge of the base"),
    ],
)
def test_places_are_told_in_words(x: float, y: float, words: str) -> None:
    assert wording.place(x, y, PLAN) == words


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (0.0681, "mm", "0.068 mm"),
        (-0.0004, "mm", "0.000 mm"),
        (-0.02, "mm", "−0.020 mm"),
        (995.0, "mm", "995 mm"),
        (62.53, "mm", "62.5 mm"),
        (1.52, "um", "1.5 µm"),
        (80.3, "%", "80 %"),
        (99.7, "%", "99.7 %"),
        (100.0, "%", "100 %"),
        (12_345.0, "strokes", "12 000 strokes"),
        (47.0, "strokes", "47 strokes"),
        (0.17, "mm/m", "0.170 mm/m"),
        (math.inf, "strokes", "no end"),
        (250_000.0, "strokes", "100 000 or more strokes"),
        (0.0, "strokes", "less than 1 stroke"),
        (math.nan, "mm", "–"),
    ],
)
def test_numbers_are_rounded_as_their_unit_is_read(value: float, unit: str, words: str) -> None:
    assert wording.figure(value, unit) == words


def test_a_range_is_left_out_where_both_ends_read_alike() -> None:
    assert wording.ranged(Interval(0.0501, 0.0502, 0.0503), "mm") == "0.050 mm"
    assert wording.ranged(Interval(0.05, 0.068, 0.09), "mm") == "0.068 mm (0.050 to 0.090)"


def test_strokes_are_whole_or_without_end() -> None:
    assert whole(Interval(25.9, 50.2, math.inf)) == Interval(25.0, 50.0, math.inf)


def test_headlines_carry_range_limit_and_place(advice: Advice) -> None:
    told = {number.key: number for number in headlines(advice.assessment.analysis, advice.assessment.findings)}
    assert told["greatest_gap_mm"].where == "below the middle of the base"
    assert told["greatest_gap_mm"].value == advice.assessment.analysis.spread.gap
    assert (told["greatest_gap_mm"].limit, told["greatest_gap_mm"].status) == (0.03, Status.BREAKS)
    assert told["sag_slope_mm_per_m"].driver == "stiffness of the land"
    assert told["sag_mm"].limit is None


def test_a_keyed_die_never_uses_its_tolerance_up(advice: Advice) -> None:
    before = advice.assessment
    keyed = told_held(before.analysis)
    told = {number.key: number for number in headlines(keyed, before.findings)}
    assert told["strokes_to_tolerance"].value.low == math.inf
    assert told["creep_um_per_stroke"].value.nominal == pytest.approx(1e3 * before.analysis.spread.creep.nominal)


BEAM = Beam("x", 1e6, 3000.0, 0.0, 2000.0, 200.0, 206e3, 80e3)


@pytest.mark.parametrize(("share", "bending", "shear"), [(0.0, 1 / 48, 1 / 4), (1.0, 5 / 384, 1 / 8)])
def test_the_beam_is_the_one_of_the_tables_at_both_ends(share: float, bending: float, shear: float) -> None:
    beam = replace(BEAM, share=share)
    stiffness = 206e3 * 2000.0 * 200.0**3 / 12
    assert beam.bending == pytest.approx(bending * 1e6 * 3000.0**3 / stiffness)
    assert beam.shear == pytest.approx(shear * 1e6 * 3000.0 / (80e3 * 5 / 6 * 2000.0 * 200.0))

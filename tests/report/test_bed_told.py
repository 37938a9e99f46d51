"""The bolster on its bed, and temperature, as the report tells them."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from deflect.advice import assess, cautions
from deflect.casefile import read_case
from deflect.findings import Advice, Verdict
from deflect.mechanics.analysis import analyse
from deflect.model.values import Interval
from deflect.report.bed import bed_data, warmth_data
from deflect.report.sections import bed, limits, warmth


def plain(fragment: object) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", str(fragment)).split())


def told(die: str, press: str, warmer: Interval | None = None) -> Advice:
    case = read_case(die, press)
    if warmer is not None:
        case = replace(case, die=replace(case.die, warmth=warmer))
    assessment = assess(case, 0, mesh_error=False)
    return Advice(Verdict.FIT, (), assessment, (), cautions(assessment.analysis), ())


@pytest.fixture(scope="module")
def hornbeam() -> Advice:
    return told("rowan-trim", "hornbeam-10mn-calibrated")


def test_corners_walls_and_calibration_are_told(hornbeam: Advice) -> None:
    page = plain(bed.fragment(hornbeam))
    lying = hornbeam.assessment.analysis.solution.lying
    assert page.count(" left ") == 2
    assert max(value or 0.0 for value in lying.under_force) > 0.03
    assert lying.wall_sinking is not None
    assert 0.1 < lying.wall_sinking < 1.0
    assert "Calibrated on 2025-04-08 with 28 figures" in page
    assert "by its drawing it is 280 mm thick" in page
    data = bed_data(hornbeam.assessment.analysis)
    assert data["calibration_figures"] == 28
    assert data["corners_off_land"][0]["corner"] == "front left"
    assert "fitted to readings on the bare table" in plain(limits.fragment(hornbeam))


def test_corners_rise_alike_on_a_symmetric_press(hornbeam: Advice) -> None:
    lifts = [value for value in hornbeam.assessment.analysis.solution.lying.under_force if value is not None]
    # Mirror images in both ways, but for round-off of the solver.
    assert max(lifts) - min(lifts) < 1e-6


def test_a_press_that_nobody_measured_says_so(advice: Advice) -> None:
    page = plain(bed.fragment(advice))
    assert "Nothing was measured on this press" in page
    assert "nothing is measured" in plain(limits.fragment(advice))


def test_temperature_that_is_not_stated_is_said(advice: Advice) -> None:
    page = plain(warmth.fragment(advice))
    assert "The temperature of the die base is not stated" in page
    # 12.5 µm/m/K on a base of 2400 x 450 mm: 20 µm a kelvin.
    assert "20 µm" in page
    assert warmth_data(advice.assessment.analysis)["warmth_is_stated"] is False


def test_temperature_shows_in_gap_and_face() -> None:
    """A die base that is warmer on top domes: over a table that sags the void below its middle grows."""
    case = read_case("rowan-trim", "alder-10mn")
    analysis = analyse(replace(case, die=replace(case.die, warmth=Interval.exactly(5.0))), samples=1, mesh_error=False)
    assert analysis.even is not None
    assert analysis.solution.greatest_gap > analysis.even.gap + 0.01
    plainly = analyse(case, samples=0, mesh_error=False)
    assert analysis.even.gap == pytest.approx(plainly.solution.greatest_gap, rel=1e-6)
    assert analysis.even.face == pytest.approx(plainly.face.error_range, rel=1e-6)
    advice = Advice(Verdict.FIT, (), assess(case, 0, mesh_error=False), (), cautions(analysis), ())
    advice = replace(advice, assessment=replace(advice.assessment, analysis=analysis))
    assert "both bodies at one temperature, solved anew" in plain(warmth.fragment(advice))

"""Readings on the shop floor: few, each with a lasting id, and what is predicted is what the solution says."""

from __future__ import annotations

import numpy as np
import pytest

from deflect.findings import Advice
from deflect.mechanics.dials import down_at, gap_at, rim_gap
from deflect.report import document
from deflect.report.confirm import MOST, readings
from deflect.report.data import as_json


def test_at_most_six_each_once_each_with_a_range(advice: Advice, keyed: Advice) -> None:
    for one in (advice, keyed):
        told = readings(one.assessment.analysis)
        assert 4 <= len(told) <= MOST
        assert len({reading.id for reading in told}) == len(told)
        for reading in told:
            assert reading.predicted.low <= reading.predicted.nominal <= reading.predicted.high
            assert reading.tool
            assert reading.place
            assert reading.how.endswith(".")


def test_the_dial_reads_the_table_where_it_stands(advice: Advice) -> None:
    """A node of the mesh reads its own movement: exact but for round-off of the interpolation."""
    solution = advice.assessment.analysis.solution
    nearest = int(np.argmin(np.hypot(*solution.table_points.T)))
    place = (float(solution.table_points[nearest, 0]), float(solution.table_points[nearest, 1]))
    assert down_at(solution, place) == pytest.approx(-solution.table_movement[nearest], rel=1e-9)


def test_the_feeler_reads_the_gap_along_the_rim_alone(advice: Advice) -> None:
    solution = advice.assessment.analysis.solution
    gap, place = rim_gap(solution)
    assert gap == gap_at(solution, place)
    assert gap <= np.nanmax(solution.outline_gap)
    rim = np.concatenate([solution.outline_gap[[0, -1]].ravel(), solution.outline_gap[:, [0, -1]].ravel()])
    assert gap == np.nanmax(np.nan_to_num(rim))


def test_page_and_json_tell_the_same_readings(advice: Advice) -> None:
    told = readings(advice.assessment.analysis)
    page, rows = document.document(advice), as_json(advice)["confirm"]
    assert [row["id"] for row in rows] == [reading.id for reading in told]
    for reading in told:
        assert f"<code>{reading.id}</code>" in page
    assert "Hands stay out" in page


def test_the_hash_of_the_case_stands_in_json(advice: Advice) -> None:
    assert as_json(advice)["case"]["input_hash"] == advice.assessment.analysis.case.input_hash

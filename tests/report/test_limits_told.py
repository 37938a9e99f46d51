"""What the model leaves out is told in the report and in the data, each with its size and its source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deflect.findings import Advice
from deflect.model.die import Operation
from deflect.report import document
from deflect.report.data import as_json
from deflect.report.headlines import headlines
from deflect.report.left_out import left_out, outweighing


def test_each_has_a_size_and_a_source(advice: Advice) -> None:
    told = left_out(advice.assessment.analysis)
    assert len({one.id for one in told}) == len(told)
    for one in told:
        assert 0.0 <= one.size.low <= one.size.nominal <= one.size.high
        assert any(tag in str(one.source) for tag in ("derived", "from memory", "common practice")), one.id


@pytest.mark.parametrize(
    "name", ["impact", "slide guides", "plastic bedding", "local indentation", "thermal bow", "bending of the slide"]
)
def test_none_of_the_great_ones_is_forgotten(advice: Advice, name: str) -> None:
    assert name in {one.name for one in left_out(advice.assessment.analysis)}
    assert f"<b>{name[0].upper()}{name[1:]}</b>" in document.document(advice)


def test_page_and_data_tell_the_same(advice: Advice) -> None:
    told, rows = left_out(advice.assessment.analysis), as_json(advice)["model_limits"]
    assert [row["id"] for row in rows] == [one.id for one in told]
    assert [row["size_mm"]["usual"] for row in rows] == pytest.approx([one.size.nominal for one in told], rel=1e-4)


def test_only_a_cut_springs_up(advice: Advice) -> None:
    analysis = advice.assessment.analysis
    case = analysis.case
    formed = replace(analysis, case=replace(case, die=replace(case.die, operation=Operation.FORM)))
    assert "release" in {one.id for one in left_out(analysis)}
    assert "release" not in {one.id for one in left_out(formed)}


def test_what_outweighs_a_number_is_named(advice: Advice) -> None:
    """The trim die's face is 0.05 mm off; a slide bends several times that."""
    analysis = advice.assessment.analysis
    heavy = outweighing(left_out(analysis), headlines(analysis, advice.assessment.findings))
    assert "bending of the slide" in heavy
    assert "plastic bedding" not in heavy

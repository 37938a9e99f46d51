"""Papers: the same content as the HTML document, on A4, with text that stays text."""

from __future__ import annotations

import re
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from markupsafe import Markup

from deflect.faults import OutputRefused
from deflect.findings import Advice
from deflect.report.document import all_sections
from deflect.report.paper import printing
from deflect.report.paper.blocks import blocks
from deflect.report.places import added_shims
from deflect.report.writing import write_report


def words(fragment: Markup) -> list[str]:
    """Every word of a fragment but those of its figures."""
    return unescape(re.sub(r"<[^>]*>", " ", re.sub(r"<svg.*?</svg>", " ", str(fragment), flags=re.DOTALL))).split()


def told(part: Any) -> str:
    """Every word of blocks."""
    if isinstance(part, list):
        return " ".join(map(told, part))
    if isinstance(part, dict):
        return part["text"] if "text" in part else " ".join(told(v) for v in part.values() if isinstance(v, list))
    return ""


@pytest.mark.parametrize("which", ["advice", "hostile"])
def test_paper_says_every_word_of_the_page_and_shows_every_figure(which: str, request: pytest.FixtureRequest) -> None:
    advice: Advice = request.getfixturevalue(which)
    for section in all_sections():
        fragment = section.tell(advice)
        printed = blocks(fragment)
        # Compared without blanks: the page sets them between cells, the paper does not.
        assert re.sub(r"\s+", "", told(printed)) == "".join(words(fragment)), section.id
        assert str(printed).count("'kind': 'figure'") == str(fragment).count("<svg "), section.id


def test_hostile_names_are_printed_as_they_are_written(hostile: Advice) -> None:
    assert printing.report(hostile).startswith(b"%PDF-")


def test_first_page_has_verdict_cautions_and_signatures_on_a4(advice: Advice, monkeypatch: pytest.MonkeyPatch) -> None:
    import typst

    pages: list[bytes] = []
    compiled = typst.compile

    def as_pictures(*inputs: Any, **options: Any) -> bytes:
        drawn = compiled(*inputs, **options | {"format": "svg"})
        pages.extend(drawn if isinstance(drawn, list) else [drawn])
        return b""

    monkeypatch.setattr(typst, "compile", as_pictures)
    printing.report(advice)
    first = pages[0].decode()
    # ISO 216: A4 is 210 x 297 mm; a PDF point is 1/72 inch.
    size = re.search(r'viewBox="0 0 (\S+) (\S+)"', first)
    assert size is not None
    assert float(size[1]) == pytest.approx(210 / 25.4 * 72, abs=0.02)
    assert float(size[2]) == pytest.approx(297 / 25.4 * 72, abs=0.02)
    assert len(pages) > 2


def test_plans_are_one_page_each_and_only_where_there_is_something_to_say(advice: Advice) -> None:
    named = printing.papers(advice)
    assert set(named) == {printing.REPORT, printing.SHIM_PLAN, printing.BEDDING_PLAN}
    for plan in (printing.SHIM_PLAN, printing.BEDDING_PLAN):
        assert len(re.findall(rb"/Type\s*/Page\b", named[plan]())) == 1


def test_a_plan_of_many_shims_is_printed_smaller_and_stays_one_page(advice: Advice) -> None:
    outcome = next(one for one in advice.outcomes if added_shims(one, advice.assessment.analysis.case))
    case = outcome.proposal.case
    placing = replace(case.die.placing, shims=60 * case.die.placing.shims[-1:])
    many = replace(case, die=replace(case.die, placing=placing))
    plan = printing.shim_plan(advice, replace(outcome, proposal=replace(outcome.proposal, case=many)))
    assert len(re.findall(rb"/Type\s*/Page\b", plan)) == 1


def test_papers_lie_beside_the_report_and_never_over_another_file(advice: Advice, tmp_path: Path) -> None:
    written = write_report(advice, tmp_path / "ours", papers=True)
    assert {path.name for path in written} >= {"report.html", "result.json", *printing.FILES}
    other = tmp_path / "other"
    other.mkdir()
    (other / printing.REPORT).write_bytes(b"%PDF- of somebody else")
    with pytest.raises(OutputRefused, match=r"already holds report\.pdf"):
        write_report(advice, other, papers=True)
    assert (other / printing.REPORT).read_bytes() == b"%PDF- of somebody else"

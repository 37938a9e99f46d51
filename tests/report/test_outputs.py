"""Every output says the same, keeps its cautions, and treats names as text."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from html.parser import HTMLParser
from typing import Any

import pytest
from markupsafe import escape
from rich.console import Console
from told_cases import told_held

from deflect.advice import advise
from deflect.casefile import read_case
from deflect.findings import Advice
from deflect.report import document, figures
from deflect.report.data import as_json
from deflect.report.document import all_sections
from deflect.report.headlines import change_shown, headlines, settled, value_shown
from deflect.report.keys import KEYS
from deflect.report.places import places_of, told_in_short
from deflect.report.sentence import what_happens
from deflect.report.summary import print_summary
from deflect.report.wording import figure
from deflect.report.writing import result_text


def summary(advice: Advice, width: int = 80) -> str:
    """The terminal summary as plain text."""
    target = io.StringIO()
    print_summary(advice, Console(file=target, width=width, color_system=None), None)
    return target.getvalue()


@pytest.fixture(scope="session")
def page(advice: Advice) -> str:
    return document.document(advice)


@pytest.fixture(scope="session")
def hostile_page(hostile: Advice) -> str:
    return document.document(hostile)


class Tags(HTMLParser):
    """Tags with their attributes, and whether they close in order."""

    void = frozenset({"meta", "br", "hr", "img", "link", "input"})

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))
        if tag not in self.void:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, tag

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def parsed(page: str) -> Tags:
    tags = Tags()
    tags.feed(page)
    tags.close()
    assert tags.open == []
    return tags


# ---- the terminal


def test_the_summary_leads_with_the_verdict(advice: Advice) -> None:
    lines = summary(advice).splitlines()
    assert "Rowan trim on Alder, 10 MN" in lines[0]
    assert lines[1] == "Verdict: FIT WITH MEASURES"


@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_summary_fits_its_width(advice: Advice, hostile: Advice, width: int) -> None:
    for one in (advice, hostile):
        assert max(len(line) for line in summary(one, width).splitlines()) <= width


def test_the_summary_tells_numbers_with_range_and_limit(advice: Advice) -> None:
    told = " ".join(summary(advice).split())
    for words in ("Table sag", "Greatest gap", "Contact share", "Creep per stroke", "Strokes until", "Rules that break",
                  "Rules left undecided", "Rules not checked", "drawback:", "hazard:", "effort:", "→"):  # fmt: skip
        assert words in told


def test_names_are_text_on_the_terminal(hostile: Advice) -> None:
    told = summary(hostile, 200)
    assert "[bold]die[/bold] $x_2$" in told
    assert not set("\x1b\x00\u202e") & set(told)


@pytest.mark.parametrize("width", [20, 30, 40])
def test_a_narrow_terminal_cuts_no_number(advice: Advice, width: int) -> None:
    told = " ".join(summary(advice, width).split())
    assert "…" not in told
    for number in headlines(advice.assessment.analysis, advice.assessment.findings):
        assert number.shown in told, number.title
        assert number.range_shown in told


def test_the_summary_tells_the_sag_both_ways_and_what_happens(advice: Advice) -> None:
    told = " ".join(summary(advice, 200).split())
    sag = advice.assessment.analysis.solution.sag
    assert "along x, along y" in told or "along y, along x" in told
    assert all(figure(depth, "mm") in told for depth in (sag.along_x, sag.along_y))
    assert what_happens(advice.assessment.analysis) in told


def test_an_input_is_told_with_the_undecided_rules_that_it_would_settle(advice: Advice, page: str) -> None:
    line = "friction would settle: Creep in bounds"
    assert line in " ".join(summary(advice).split())
    assert f"{line[0].upper()}{line[1:]}." in page
    one = replace(advice.measurements[0], rule="gap")
    assert settled(replace(advice, measurements=(one,))) == ()
    alike = replace(advice.measurements[0], decides=False)
    (moved,) = settled(replace(advice, measurements=(alike,)))
    assert moved == "friction moves most, yet does not settle alone: Creep in bounds"
    second = replace(alike, uncertain="side thrust", decides=True)
    (both,) = settled(replace(advice, measurements=(alike, second)))
    assert both == "friction and side thrust together would settle: Creep in bounds"


# ---- JSON


def paths(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for key, part in value.items():
            yield key
            yield from paths(part)
    elif isinstance(value, list):
        for part in value:
            yield from paths(part)


def test_every_key_is_documented_and_every_documented_key_occurs(
    advice: Advice, keyed: Advice, both_halves: Advice, on_springs: Advice
) -> None:
    occur = {"keys"}
    for one in (advice, keyed, both_halves, on_springs):
        told = as_json(one)
        assert told.pop("keys") == dict(KEYS)
        occur |= set(paths(told))
    assert occur == set(KEYS)


def test_no_key_names_a_length_or_force_without_its_unit(advice: Advice) -> None:
    for key in KEYS:
        if key.startswith(("sag", "greatest_gap", "face_", "x_", "y_")):
            assert key.endswith(("_mm", "_mm_per_m")), key
        if "force_" in key and key not in {"force_balance_share"}:
            assert key.endswith("_kN"), key


def test_json_is_finite_and_says_why_a_number_is_null(advice: Advice) -> None:
    told = as_json(advice)
    text = json.dumps(told, allow_nan=False)
    assert json.loads(text) == told
    assert {"path": "rules[2].value.high", "reason": "without end: never reached, or it slides away"} in told["nulls"]
    assert told["rules"][2]["value"]["high"] is None


def test_json_holds_no_control_characters(hostile: Advice) -> None:
    text = result_text(hostile)
    assert not {c for c in text if not c.isprintable()} - {"\n"}
    assert "<script>alert('x')</script>" in json.loads(text)["case"]["die"]


def test_json_tells_rules_before_and_after_each_remedy(advice: Advice) -> None:
    told = as_json(advice)
    (remedy,) = told["remedies"]
    assert [row["id"] for row in remedy["rules_before_and_after"]] == [rule["id"] for rule in told["rules"]]
    assert remedy["worsened"] == ["table-sag"]


def test_json_tells_where_shims_and_posts_go(advice: Advice) -> None:
    (remedy,) = as_json(advice)["remedies"]
    assert remedy["shims"] == [
        {"x_mm": 0.0, "y_mm": 0.0, "length_mm": 1200.0, "width_mm": 600.0, "thickness_mm": 0.05}
    ]  # fmt: skip
    assert [(post["table_x_mm"], post["table_y_mm"], post["head_mm"]) for post in remedy["posts"]] == [
        (-300.0, 250.0, 200.0)
    ]


# ---- the document


def test_the_document_fetches_nothing(page: str, hostile_page: str) -> None:
    for one in (page, hostile_page):
        assert "http" not in one
        assert "@import" not in one
        for tag, attributes in parsed(one).found:
            assert tag not in {"script", "link", "iframe", "img", "object", "embed", "image"}
            assert "src" not in attributes
            for name in ("href", "xlink:href"):
                assert (attributes.get(name) or "#").startswith("#")
            assert not any(name.startswith("on") for name in attributes)
        assert all(target.startswith("#") for target in re.findall(r"url\(([^)]*)\)", one))


def test_ids_are_unique_and_references_lead_somewhere(page: str) -> None:
    ids = [attributes["id"] for _, attributes in parsed(page).found if "id" in attributes]
    assert len(ids) == len(set(ids))
    wanted = set(re.findall(r"url\(#([^)]*)\)", page)) | set(re.findall(r'href="#([^"]*)"', page))
    assert wanted <= set(ids)


def test_names_are_text_in_the_document(hostile_page: str) -> None:
    assert "<script>" not in hostile_page
    assert "&lt;script&gt;" in hostile_page
    assert "$x_2$" in hostile_page
    assert "{{ 7*7 }}" in hostile_page
    assert not {c for c in hostile_page if not c.isprintable()} - {"\n"}


def test_every_section_is_there_in_order(page: str) -> None:
    places = [page.index(f'<section id="{section.id}">') for section in all_sections()]
    assert places == sorted(places)
    orders = [section.order for section in all_sections()]
    assert len(orders) == len(set(orders)) >= 14


def test_the_document_shows_every_rule_before_and_after(advice: Advice, page: str) -> None:
    told = page[page.index('<section id="remedies">') : page.index('<section id="by-hand">')]
    for finding in advice.assessment.findings:
        assert finding.rule.title in told
    assert "worse</span>" in told
    assert "cured</span>" in told


def test_the_document_shows_only_what_a_remedy_changes_open(advice: Advice, page: str) -> None:
    told = page[page.index('<section id="remedies">') : page.index('<section id="by-hand">')]
    shown, folded = told.split("<details>")
    assert "<summary>" in folded
    assert "Gap in bounds" in shown
    assert "Gap in bounds" not in folded
    assert "Greatest gap below the base" not in told
    assert "Bearing pressure in bounds" in folded
    assert "Bearing pressure in bounds" not in shown


def test_shims_and_posts_are_told_where_they_go(advice: Advice, page: str) -> None:
    told = page[page.index('<section id="remedies">') : page.index('<section id="by-hand">')]
    assert "<caption>Shims" in told
    assert "<caption>Support posts" in told
    lines = told_in_short(advice.outcomes[0], advice.assessment.analysis.case)
    assert lines == (
        "shims, mm from the middle of the base: 0.05 mm at x −600 to 600, y −300 to 300",
        "posts, mm from the middle of the bolster: x −300, y 250",
    )
    assert lines[0] in " ".join(summary(advice, 200).split())


def test_shims_that_are_there_already_are_not_told_and_many_are_counted(advice: Advice) -> None:
    outcome, case = advice.outcomes[0], advice.assessment.analysis.case
    assert told_in_short(outcome, outcome.proposal.case) == ()
    shim = outcome.proposal.case.die.placing.shims[0]
    placing = replace(case.die.placing, shims=(shim,) * 6)
    many = replace(case, die=replace(case.die, placing=placing))
    (line,) = told_in_short(replace(outcome, proposal=replace(outcome.proposal, case=many)), case)
    assert line.endswith("; and 2 more in the report")
    assert line.count("0.05 mm") == 4


def test_a_held_die_is_told_as_held_everywhere(advice: Advice) -> None:
    before = advice.assessment
    held = told_held(before.analysis)
    outcome = replace(advice.outcomes[0], analysis=held)
    step = replace(advice.steps[0], change="Creep in bounds 34 → 1e+05 strokes")
    told = replace(advice, outcomes=(outcome,), steps=(replace(step, size=outcome.proposal.size),))
    assert change_shown(told.steps[0], told) == "Creep in bounds 20 000 strokes → held"
    keyed = replace(told, assessment=replace(before, analysis=held))
    for output in (summary(keyed, 200), document.document(keyed)):
        assert "free: " in output
        assert "Strokes until creep meets its limit" in output
    strokes = next(n for n in headlines(held, before.findings) if n.unit == "strokes")
    assert (strokes.shown, strokes.range_shown) == ("held", "")
    assert value_shown(before.findings[2], held) == "held"


def test_people_are_named_once_for_remedies_that_are_taken_together(advice: Advice) -> None:
    outcome = advice.outcomes[0]
    both = replace(outcome, remedy=replace(outcome.remedy, who="tool room; tool room; press room"))
    page = document.document(replace(advice, outcomes=(both,)))
    assert "tool room; press room; before the next tryout" in page
    assert "tool room; tool room" not in page


def test_a_step_tells_where_its_shims_go(advice: Advice) -> None:
    outcome = advice.outcomes[0]
    told = replace(advice, outcomes=(), steps=(replace(advice.steps[0], size=outcome.proposal.size),))
    assert places_of(told.steps[0], told) == ()
    told = replace(told, outcomes=advice.outcomes)
    steps = summary(told, 200).split("Remedies, each solved anew")[0]
    assert "0.05 mm at x −600 to 600, y −300 to 300" in steps
    assert '<a href="#remedies">Where they go</a>' in document.document(told)


def test_units_keep_their_capitals_in_what_to_measure(advice: Advice) -> None:
    measured = replace(advice.measurements[0], at_low="at the low end: 8.8 MN, breaks")
    assert "At the low end: 8.8 MN, breaks." in document.document(replace(advice, measurements=(measured,)))


def test_the_limits_name_the_estimate_and_the_side_hold(page: str) -> None:
    told = " ".join(page[page.index('<section id="limits">') :].split())
    assert "an estimate of it stands in the cautions" in told
    assert "upper end of what a clamped die does" in told


def test_the_exaggeration_is_stated(page: str) -> None:
    assert len(re.findall(r"heights × [125]0+", page)) == 2


# ---- all of them


def test_cautions_are_in_every_output(advice: Advice, page: str) -> None:
    told = " ".join(summary(advice).split())
    first = page[: page.index('<section id="numbers">')]
    last = page[page.index('<section id="cautions">') :]
    data = as_json(advice)["cautions"]
    for caution, plain in zip(advice.cautions, data, strict=True):
        for output in (told, first, last):
            assert caution.heading in output
            assert caution.defer in output
            assert caution.words[0] in output
            assert all(number in output for number in caution.numbers)
        assert plain["words"] == list(caution.words)
        assert plain["ask"] == caution.defer


def test_a_whole_advice_comes_through_every_output() -> None:
    told = advise(read_case("rowan-trim", "alder-10mn"), samples=2)
    page = " ".join(document.document(told).split())
    data = as_json(told)
    data.pop("keys")
    assert set(paths(data)) < set(KEYS)
    terminal = " ".join(summary(told).split())
    assert len(told.cautions) >= 4
    for output in (page, terminal):
        for caution in told.cautions:
            assert escape(caution.heading) in output or caution.heading in output
            assert escape(caution.defer) in output or caution.defer in output
    judged = [number for number in data["headlines"].values() if number["status"] is not None]
    assert len(judged) == 5
    asked = {finding.rule.id for finding in told.assessment.findings}
    for outcome in told.outcomes:
        assert str(escape(outcome.remedy.title)) in page
        # A remedy may bring a rule with it, as keys bring that of their layout; it takes none away.
        assert asked <= {finding.rule.id for finding in outcome.findings}


def test_outputs_are_the_same_every_time(advice: Advice, page: str) -> None:
    assert document.document(advice) == page
    assert result_text(advice) == result_text(advice)
    assert summary(advice) == summary(advice)


def test_figures_leave_no_settings_behind(advice: Advice) -> None:
    import matplotlib

    before = dict(matplotlib.rcParams)
    figures.gap_map(advice.assessment.analysis)
    assert dict(matplotlib.rcParams) == before


def test_the_readme_picture_is_small_and_wide_enough(advice: Advice) -> None:
    picture = figures.readme_picture(advice)
    assert picture[:8] == b"\x89PNG\r\n\x1a\n"
    assert int.from_bytes(picture[16:20], "big") == 1100
    assert len(picture) < 150_000


def test_names_are_not_read_as_mathematics(advice: Advice) -> None:
    before = advice.assessment.analysis
    patterns = tuple(replace(pattern, name="a $x_2$ <b>") for pattern in before.case.die.patterns)
    named = replace(before, case=replace(before.case, die=replace(before.case.die, patterns=patterns)))
    assert "a $x_2$ &lt;b&gt; 100 %" in figures.force_plan(named)


def test_plate_and_solid_stand_side_by_side_in_every_output(advice: Advice) -> None:
    fragment = document.document(advice)
    fragment = " ".join(fragment[fragment.index('<section id="side-by-side">') :].split("</section>")[0].split())
    data = as_json(advice)["side_by_side"]
    assert (data["plate"]["sag_along_x_mm"], data["solid"]["sag_along_x_mm"]) == (0.0912, 0.0826)
    told = summary(advice)
    assert "Table sag along x: plate 0.091 mm, solid 0.083 mm" in told
    effort = "Plates: 5 346 unknowns. Solids: 107 490 unknowns, 61 s, 1.4 GB for factors and answers."
    for output in (" ".join(told.split()), fragment):
        assert effort in output
    assert "<td>Table sag along x</td>" in fragment
    assert '<td class="n">+0.009 mm</td>' in fragment
    assert '<td class="n">0.000 mm</td>' in fragment


def test_without_solids_the_report_says_how_to_get_them(advice: Advice) -> None:
    plain = replace(advice, side_by_side=None)
    assert as_json(plain)["side_by_side"] is None
    assert "--bodies solid" in document.document(plain)
    assert "side by side" not in summary(plain)

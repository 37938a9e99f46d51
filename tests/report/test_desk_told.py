"""What the desk says beside its pictures: a word with every colour, the cautions in short and in full."""

from __future__ import annotations

import re
from dataclasses import replace

from deflect.desk import cautions
from deflect.desk.check import told
from deflect.findings import Advice, Verdict
from deflect.report.headlines import headlines


def plain(markup: str) -> str:
    """A markup's words."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", markup))


def test_every_judged_number_says_in_a_word_how_it_stands(advice: Advice) -> None:
    before = advice.assessment
    judged = [one for one in headlines(before.analysis, before.findings) if one.status is not None]
    assert judged
    rows = str(told.numbers(before.analysis, before.findings)).split('<tr class="first">')[1:]
    for number in judged:
        (row,) = (plain(row) for row in rows if f'data-number="{number.key}"' in row)
        assert number.status is not None
        assert f" {number.status.value} (at " in row


def test_a_remedy_is_told_before_and_after_with_words(advice: Advice) -> None:
    for outcome in advice.outcomes:
        shown = plain(str(told.before_after(outcome, advice.assessment)))
        assert outcome.proposal.size in shown
        assert re.search(r": (holds|breaks|undecided)", shown)
        assert outcome.remedy.drawback in shown
        assert outcome.remedy.hazard in shown


def test_a_verdict_with_measures_opens_with_the_measure(advice: Advice) -> None:
    cure = replace(advice.outcomes[0], left=(), worsened=(), confirmed=True)
    reasons = (f"with: {cure.remedy.title}: {cure.proposal.size}", *advice.reasons)
    mended = replace(advice, verdict=Verdict.WITH_MEASURES, outcomes=(cure,), reasons=reasons)
    shown = str(told.verdict(mended))
    first = plain(shown.partition("<details>")[0])
    assert f"With: {cure.remedy.title}." in first
    assert cure.proposal.size in plain(shown)
    assert "No verdict" in told.none("1 mistake")


def test_cautions_in_short_lead_to_all_of_them(advice: Advice) -> None:
    short, full = (str(say(advice.cautions, "place")) for say in (cautions.in_short, cautions.in_full))
    assert 'href="#place"' in short
    assert 'id="place"' in full
    assert f"Read all {len(advice.cautions)}" in short
    for one in advice.cautions:
        assert one.id.replace("-", " ") in short
        assert one.heading in plain(full)
    assert "approves no lift and no clamp" in cautions.AHEAD

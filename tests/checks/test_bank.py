"""The judgement bank: well formed, its page made of the answers kept, and those answers still the tool's.

What a tool room says is common practice, no source, and was written down before any situation was solved.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from deflect.advice import all_remedies, all_rules
from deflect.checks.bank import NOTHING, Compared, Situation, answer, remarks, situations
from deflect.findings import Verdict
from deflect.report import bank as pages

REPORTS = Path(__file__).parents[2] / "reports"
USERS = {"designer", "tryout planner", "trainer"}
# Two that are solved in some ten seconds each: nothing to search for.
QUICK = ("off-centre-and-bound", "closed-height-not-known")


def named(one: Situation) -> str:
    return one.id


def test_twenty_situations_or_more_for_every_user_and_verdict() -> None:
    bank = situations()
    assert len({one.id for one in bank}) == len(bank) >= 20
    assert {one.user for one in bank} == USERS
    assert {one.said.verdict for one in bank} == set(Verdict)
    assert len({one.said.fault for one in bank} - {NOTHING}) >= 10


@pytest.mark.parametrize("one", situations(), ids=named)
def test_a_situation_reads_and_names_what_there_is(one: Situation) -> None:
    rules, remedies = {rule.id for rule in all_rules()}, {remedy.id for remedy in all_remedies()}
    assert one.said.fault in rules | {NOTHING}
    assert {one.said.first, one.said.never_first} <= remedies | {NOTHING}
    assert one.said.first != one.said.never_first
    assert one.said.because.endswith(".")
    assert one.case().die.name


def test_the_page_is_the_one_of_the_answers_kept() -> None:
    kept = pages.kept(REPORTS)
    assert list(kept) == [one.id for one in situations()]
    told = [Compared(one, kept[one.id]) for one in situations()]
    assert (REPORTS / pages.PAGE).read_text(encoding="utf-8") == pages.page(told, remarks())


def test_each_disagreement_has_its_remark_and_nothing_else_has() -> None:
    kept = pages.kept(REPORTS)
    differ = {one.id for one in situations() if not Compared(one, kept[one.id]).agrees}
    assert set(remarks()) == differ
    assert all(len(words) > 40 for words in remarks().values())


@pytest.mark.parametrize("one", [one for one in situations() if one.id in QUICK], ids=named)
def test_a_quick_answer_is_still_the_one_kept(one: Situation) -> None:
    """Where this fails, make the page anew: ``python -m deflect.report bank``."""
    now, then = answer(one), pages.kept(REPORTS)[one.id]
    assert (now.verdict, now.faults, now.remedies) == (then.verdict, then.faults, then.remedies)


@pytest.mark.bank
@pytest.mark.parametrize("one", [one for one in situations() if one.id not in QUICK], ids=named)
def test_every_answer_is_still_the_one_kept(one: Situation) -> None:
    now, then = answer(one), pages.kept(REPORTS)[one.id]
    assert (now.verdict, now.faults, now.remedies) == (then.verdict, then.faults, then.remedies)

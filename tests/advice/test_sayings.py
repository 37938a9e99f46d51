"""Where the numbers speak against the trade, both are told in one sentence."""

from __future__ import annotations

from dataclasses import replace

from deflect.advice import all_remedies, all_rules, assess
from deflect.advice.sayings import against_remedy, against_trade
from deflect.findings import Assessment, Outcome, Proposal
from deflect.model.case import Case


def outcome(remedy: str, case: Case) -> Outcome:
    after = assess(case, 0, False)
    chosen = next(r for r in all_remedies() if r.id == remedy)
    return Outcome(chosen, Proposal(case, ""), after.analysis, after.findings, (), (), (), False)


def keyed(case: Case) -> Case:
    return replace(case, die=replace(case.die, placing=replace(case.die.placing, keyed=True)))


def test_a_thicker_base_that_opens_the_gap_is_told_so(rowan: Case) -> None:
    before = assess(rowan.with_base_thickness(350.0), 0, False)
    (told,) = against_remedy(outcome("thicker-base", rowan.with_base_thickness(600.0)), before)
    assert told.startswith("The trade says that a thicker base always helps; the numbers of this case say that gap")
    assert "goes the wrong way from 0.0" in told
    assert "at most 0.050 mm is wanted" in told


def test_keys_leave_the_gap(rowan: Case) -> None:
    (told,) = against_remedy(outcome("key", keyed(rowan)), assess(rowan, 0, False))
    assert "a keyed die is safe" in told
    assert "gap below the die stays at 0.06" in told


def test_a_remedy_that_does_what_is_said_of_it_hears_nothing(rowan: Case) -> None:
    flat = replace(rowan, press=replace(rowan.press, bolster=replace(rowan.press.bolster, dish=0.0)))
    weak = replace(flat, die=replace(flat.die, working_force=3e6))
    assert against_remedy(outcome("key", keyed(weak)), assess(weak, 0, False)) == ()


def test_a_table_within_its_figure_that_the_die_bridges_all_the_same(rowan: Case) -> None:
    before = assess(rowan, 0, False)
    told = against_trade(before, ())
    assert any("within its acceptance figure" in line and "and yet gap below the die is 0.06" in line for line in told)


def test_a_die_that_fits_hears_nothing(maple: Case) -> None:
    assert against_trade(assess(maple, 0, False), ()) == ()


def test_each_saying_is_told_once(rowan: Case) -> None:
    before: Assessment = assess(rowan, 0, False)
    twice = outcome("key", keyed(rowan))
    told = against_trade(before, (twice, twice))
    assert len(told) == len({line.split(";")[0] for line in told})


def test_sayings_name_rules_that_there_are() -> None:
    known = {rule.id for rule in all_rules()}
    sayings = [s for one in (*all_remedies(), *all_rules()) for s in one.trade_says]
    assert sayings
    assert all(set(saying.rules) <= known for saying in sayings)

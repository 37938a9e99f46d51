"""What breaks and is mended by nothing that was tried, told in words."""

from __future__ import annotations

from dataclasses import replace

from deflect.advice import all_rules, assess
from deflect.advice.trying import sized_remedies
from deflect.advice.unmended import LEFT_TO_DO, unmended
from deflect.findings import Outcome, Status
from deflect.model.case import Case


def test_every_trouble_of_a_rule_has_something_left_to_do() -> None:
    assert {rule.trouble for rule in all_rules()} <= set(LEFT_TO_DO)


def test_what_a_remedy_cures_is_not_told_and_what_none_cures_is(rowan: Case) -> None:
    before = assess(rowan, 0, mesh_error=False, thrust_direction=0.0)
    broken = {f.rule.id: f.rule.title for f in before.findings if f.status is Status.BREAKS}
    assert "gap" in broken
    remedy, proposal = sized_remedies(before, before.analysis, lambda _: None)[0]
    cure = Outcome(remedy, proposal, before.analysis, before.findings, ("gap",), (), (), confirmed=True)
    told = unmended(before, (cure,))
    assert len(told) == len(broken) - 1
    assert not any(line.startswith(broken["gap"]) for line in told)
    harmful = replace(cure, worsened=("closed-height",))
    assert len(unmended(before, (harmful,))) == len(broken)
    assert unmended(before, ())[0].split(" is mended", 1)[0] in broken.values()

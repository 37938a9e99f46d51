"""What a screening may not call clear: rules that need no solving and are broken or undecided."""

from __future__ import annotations

import pytest

from deflect.advice import assess
from deflect.advice.mounting import mounting, other_rules, unsolved
from deflect.advice.sifting import Sifted, sift
from deflect.casefile import read_case
from deflect.findings import Status
from deflect.mechanics.ground import table_of
from deflect.mechanics.screening import condense_die, condense_top, screen


def test_rules_that_need_no_solving_say_the_same_of_a_case_that_is_not_solved() -> None:
    case = read_case("willow-cast-trim", "cedar-8mn")
    solved = {f.rule.id: f for f in assess(case, 0, mesh_error=False, thrust_direction=0.0).findings}
    told = unsolved(case)
    assert {f.rule.id for f in told} <= {rule.id for rule in other_rules()}
    assert len(told) >= 3
    for finding in told:
        assert (finding.status, finding.reading) == (solved[finding.rule.id].status, solved[finding.rule.id].reading)


@pytest.mark.parametrize(
    ("die", "press", "why"),
    [("ash-loose", "birch-12mn", "Reserve against pick-up"), ("beech-cast", "cedar-8mn", "Thinnest rib"),
     ("laurel-trim", "birch-12mn", "Shear force of the cut"), ("cherry-flange", "alder-10mn", "Layout of keys")],
)  # fmt: skip
def test_a_pair_that_breaks_one_of_them_stays_open(die: str, press: str, why: str) -> None:
    case = read_case(die, press)
    screened = screen(case, condense_top(case.press, table_of(case.press.bare)[0].nominal), condense_die(case.die))
    found = sift(case, mounting(case), screened, unsolved(case))
    assert found.sifted is Sifted.OPEN
    assert any(reason.startswith(why) for reason in found.reasons)
    assert any(f.status is Status.BREAKS for f in unsolved(case))

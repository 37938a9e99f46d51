"""Keys and cones as rules and remedies see them: laid out at real places, judged by their layout."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from deflect.advice import all_remedies, all_rules, judge
from deflect.findings import Analysis, Finding, Proposal, Status
from deflect.mechanics.analysis import analyse
from deflect.mechanics.cutting import shift_tolerance
from deflect.mechanics.holder_layout import layout
from deflect.mechanics.holders import holders_of
from deflect.mechanics.locating import key_misses_slot
from deflect.model.case import Case
from deflect.model.die import Placing
from deflect.model.holder import Key, LocatingCone, Seat
from deflect.model.values import Rectangle

QUARTER = math.pi / 2


@pytest.fixture(scope="module")
def solved(rowan: Case) -> Analysis:
    return analyse(rowan, samples=0, mesh_error=False, thrust_direction=0.0)


def placed(solved: Analysis, **changes: object) -> Analysis:
    case = solved.case
    placing: Placing = replace(case.die.placing, **changes)  # type: ignore[arg-type]
    return replace(solved, case=replace(case, die=replace(case.die, placing=placing)))


def proposed(remedy_id: str, analysis: Analysis) -> list[Proposal]:
    return list(next(r for r in all_remedies() if r.id == remedy_id).proposals(analysis))


def judged(analysis: Analysis) -> Finding | None:
    return judge(next(r for r in all_rules() if r.id == "key-layout"), analysis)


def told(analysis: Analysis) -> tuple[Status, float, str]:
    finding = judged(analysis)
    assert finding is not None
    assert finding.reading is not None
    return finding.status, finding.reading.value.nominal, finding.reading.where


def test_the_key_remedy_names_real_places(solved: Analysis) -> None:
    (proposal,) = proposed("key", solved)
    placing = proposal.case.die.placing
    assert placing.keyed
    assert [(k.x, k.y, k.seat) for k in placing.keys] == [
        (0.0, -420.0, Seat.T_SLOT),
        (0.0, 420.0, Seat.T_SLOT),
        (100.0, 0.0, Seat.KEYWAY),
    ]
    assert not any(key_misses_slot(key, proposal.case) for key in placing.keys)
    assert layout(holders_of(proposal.case)).suits
    assert all(key.play < shift_tolerance(proposal.case.die)[0] for key in placing.keys)
    for words in ("0, −420", "0, 420", "in the T-slot there", "keyway at 100, 0 mm", "20 µm play"):
        assert words in proposal.size


def test_a_tight_die_has_tight_keys(solved: Analysis) -> None:
    """Without a sheet the sideways match of 15 µm is the tolerance: half of it is the play."""
    case = replace(solved.case, die=replace(solved.case.die, sheet=None))
    (proposal,) = proposed("key", replace(solved, case=case))
    assert {key.play for key in proposal.case.die.placing.keys} == {0.0075}


def test_the_cone_remedy_names_real_places(solved: Analysis) -> None:
    (proposal,) = proposed("cones", solved)
    placing = proposal.case.die.placing
    assert placing.coned
    assert [(c.x, c.y, c.floats) for c in placing.cones] == [(-900.0, 0.0, None), (900.0, 0.0, 0.0)]
    assert layout(holders_of(proposal.case)).suits
    assert "fixed cone at −900, 0 mm" in proposal.size


def test_nothing_is_added_to_a_die_that_is_held(solved: Analysis) -> None:
    for flag in ("keyed", "coned"):
        for remedy in ("key", "cones"):
            assert proposed(remedy, placed(solved, **{flag: True})) == []


def test_keys_that_work_against_each_other_are_laid_out_anew(solved: Analysis) -> None:
    four = tuple(Key(x, y, QUARTER) for x in (-600.0, 600.0) for y in (-400.0, 400.0))
    (proposal,) = proposed("key", placed(solved, keyed=True, keys=four))
    assert len(proposal.case.die.placing.keys) == 3
    assert proposal.size.startswith("in place of those that are there")


def test_no_place_no_remedy(solved: Analysis) -> None:
    bolster = replace(solved.case.press.bolster, openings=(Rectangle(0, 0, 2400, 1200),))
    case = replace(solved.case, press=replace(solved.case.press, bolster=bolster))
    for remedy in ("key", "cones"):
        assert proposed(remedy, replace(solved, case=case)) == []


def test_a_free_die_has_no_layout_to_judge(solved: Analysis) -> None:
    assert judged(solved) is None


def test_usual_keys_and_cones_hold_each_way_once(solved: Analysis) -> None:
    for flag in ("keyed", "coned"):
        assert told(placed(solved, **{flag: True}))[:2] == (Status.HOLDS, 3.0)


def test_keys_and_cones_together_are_too_many(solved: Analysis) -> None:
    status, ways, where = told(placed(solved, keyed=True, coned=True))
    assert (status, ways) == (Status.BREAKS, 0.0)
    assert "3 more than is needed" in where


def test_two_fixed_cones_are_one_way_too_many(solved: Analysis) -> None:
    cones = LocatingCone(-900, 0), LocatingCone(900, 0)
    status, ways, where = told(placed(solved, coned=True, cones=cones))
    assert (status, ways) == (Status.BREAKS, 2.0)
    assert "1 more than is needed" in where
    assert "breathing" in where


def test_one_line_of_keys_leaves_a_way_free(solved: Analysis) -> None:
    keys = Key(0, -420, QUARTER), Key(0, 420, QUARTER)
    assert told(placed(solved, keyed=True, keys=keys))[::2] == (Status.BREAKS, "free in 1 of 3 ways")


def test_a_cross_key_far_from_the_middle_is_told(solved: Analysis) -> None:
    keys = Key(0, -420, QUARTER), Key(0, 420, QUARTER), Key(100, 500, 0.0, Seat.KEYWAY)
    status, _, where = told(placed(solved, keyed=True, keys=keys))
    assert status is Status.HOLDS
    assert where == "key 3 blocks the breathing 500 mm from the middle"


def test_keys_beside_their_slot_are_told(solved: Analysis) -> None:
    keys = Key(0, -420, QUARTER), Key(0, 420, QUARTER), Key(100, 0, 0.0, Seat.KEYWAY)
    status, ways, where = told(placed(solved, keyed=True, keys=keys, x=50.0))
    assert (status, ways) == (Status.BREAKS, 1.0)
    assert "key 1 does not stand in a T-slot; key 2" in where

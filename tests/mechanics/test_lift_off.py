"""The balance of lift-off against hand sums and published figures."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deflect.casefile import read_case
from deflect.mechanics.lift_off import MOST_RESERVE, LiftBalance, cutting_force, lift_off, vacuum
from deflect.model.case import Case
from deflect.model.die import Clamp
from deflect.model.values import Interval


@pytest.fixture(scope="module")
def rowan() -> Case:
    return read_case("rowan-trim", "alder-10mn")


def changed(case: Case, **lift: object) -> Case:
    return replace(case, die=replace(case.die, lift_off=replace(case.die.lift_off, **lift)))  # type: ignore[arg-type]


def placed(case: Case, **placing: object) -> Case:
    return replace(case, die=replace(case.die, placing=replace(case.die.placing, **placing)))  # type: ignore[arg-type]


NOTHING = Interval.exactly(0.0)
ALONE = {"stripping": NOTHING, "guides": NOTHING, "stuck_panel": NOTHING, "suction": NOTHING}


def by(balance: LiftBalance, source: str) -> Interval:
    return next(one.force for one in (*balance.pulls, *balance.holds) if one.source == source)


def test_a_full_vacuum_on_a_square_metre_is_one_standard_atmosphere() -> None:
    """10th CGPM, 1954: 101 325 Pa; printed in the trade as 101 kN."""
    printed, exact = 101e3, 101_325.0
    computed = vacuum(1e6)
    assert computed == pytest.approx(exact, rel=1e-12)
    assert computed == pytest.approx(printed, abs=500.0)  # the printed figure is rounded to a kN


def test_ten_tonnes_weigh_98_kilonewtons(rowan: Case) -> None:
    """m g with g = 9.80665 m/s2 (exact by definition): 98.07 kN."""
    lower = replace(rowan.die.lower, mass=10_000.0)
    balance = lift_off(replace(rowan, die=replace(rowan.die, lower=lower)))
    assert by(balance, "weight of the lower half").nominal == pytest.approx(98_066.5, rel=1e-9)


def test_a_vacuum_on_a_square_metre_lifts_a_die_of_ten_tonnes(rowan: Case) -> None:
    """101.3 kN pull against 98.1 kN of weight, no clamps: reserve 0.968."""
    die = replace(rowan.die, lower=replace(rowan.die.lower, mass=10_000.0))
    case = placed(changed(replace(rowan, die=die), **ALONE | {"sealed_area": 1e6}), clamps=())
    case = changed(case, suction=Interval.exactly(1.0))
    assert lift_off(case).reserve.nominal == pytest.approx(98_066.5 / 101_325.0, rel=1e-9)


def test_each_source_by_hand(rowan: Case) -> None:
    """7.798 MN of shear; 10 % strips, a fifth reaches the lower half: 156 kN; every other source as stated."""
    case = changed(
        rowan,
        stripping=Interval.exactly(0.1),
        reaching=Interval.exactly(0.2),
        guides=Interval.exactly(30e3),
        stuck_panel=Interval.exactly(12e3),
        sealed_area=0.5e6,
        suction=Interval.exactly(0.5),
    )
    balance = lift_off(case)
    cut = 6248.374908 * 2.0 * 0.8 * 780.0
    assert by(balance, "stripping").nominal == pytest.approx(0.02 * cut, rel=1e-9)
    assert by(balance, "seized guides").nominal == 30e3
    assert by(balance, "stuck panel").nominal == 12e3
    assert by(balance, "vacuum").nominal == pytest.approx(25_331.25, rel=1e-9)
    pull = 0.02 * cut + 30e3 + 12e3 + 25_331.25
    held = 11_500 * 9.80665 + 4 * 60e3
    assert balance.reserve.nominal == pytest.approx(held / pull, rel=1e-9)


def test_dull_edges_pull_harder_at_worst_only(rowan: Case) -> None:
    """Stripping of dull edges: 30 % more of the cut at the high end (published), none at the usual one."""
    force, _ = cutting_force(rowan.die)
    cut = 6248.374908 * 2.0 * 780.0
    assert (force.low, force.nominal, force.high) == pytest.approx((0.6 * cut, 0.8 * cut, 0.8 * cut * 1.3), rel=1e-9)


def test_a_cut_of_unknown_length_counts_with_all_of_the_working_force(rowan: Case) -> None:
    die = replace(rowan.die, cutting=replace(rowan.die.cutting, length=None))
    assert cutting_force(die)[0] == Interval.exactly(8.8e6)


def test_stepped_edges_are_stripped_all_at_once(rowan: Case) -> None:
    stepped = replace(rowan.die, cutting=replace(rowan.die.cutting, at_once=0.5))
    assert cutting_force(stepped)[0] == cutting_force(rowan.die)[0]
    unknown = replace(rowan.die, cutting=replace(rowan.die.cutting, at_once=0.5, length=None))
    assert cutting_force(unknown)[0] == Interval.exactly(2 * 8.8e6)


def test_a_die_that_does_not_cut_strips_nothing() -> None:
    balance = lift_off(read_case("maple-restrike", "birch-12mn"))
    assert by(balance, "stripping") == Interval.exactly(0.0)


def test_the_reserve_sets_least_against_greatest(rowan: Case) -> None:
    balance = lift_off(rowan)
    assert balance.reserve.low == pytest.approx(balance.holding.low / balance.pull.high)
    assert balance.reserve.nominal == pytest.approx(balance.holding.nominal / balance.pull.nominal)
    assert balance.reserve.high == MOST_RESERVE  # at the low end nothing pulls


def test_an_estimated_mass_has_its_range(rowan: Case) -> None:
    lower = replace(rowan.die.lower, mass_is_estimated=True, base_mass=0.0)
    weight = by(lift_off(replace(rowan, die=replace(rowan.die, lower=lower))), "weight of the lower half")
    assert weight.low / weight.nominal == pytest.approx(2.2 / 2.6)
    assert weight.high / weight.nominal == pytest.approx(3.0 / 2.6)


@pytest.mark.parametrize(("held", "words"), [({"keyed": True}, "keys"), ({"coned": True}, "locating cones"), ({}, "")])
def test_keys_and_cones_hold_nothing_down(rowan: Case, held: dict[str, bool], words: str) -> None:
    case = placed(rowan, **held)
    assert lift_off(case).located == words
    assert lift_off(case).holding == lift_off(rowan).holding


def test_located_without_clamps_is_unheld_only_where_the_pull_may_exceed_the_weight(rowan: Case) -> None:
    """11.5 t weigh 112.8 kN."""
    loose = placed(rowan, keyed=True, clamps=())
    for guides, unheld in ((112e3, False), (113.5e3, True)):
        case = changed(loose, **ALONE | {"guides": Interval(0.0, 0.0, guides)})
        assert lift_off(case).unheld is unheld
        assert not lift_off(placed(case, keyed=False)).unheld
        assert not lift_off(placed(case, clamps=rowan.die.placing.clamps)).unheld


def test_clamps_are_counted_against_the_makers_number_and_four(rowan: Case) -> None:
    for asked, there, short in ((4, 4, False), (6, 4, True), (1, 3, True)):
        case = replace(rowan, press=replace(rowan.press, clamps_required=asked))
        balance = lift_off(placed(case, clamps=rowan.die.placing.clamps[:there]))
        assert balance.clamps_asked == max(asked, 4)
        assert balance.short_of_clamps is short


ranges = st.tuples(*(st.floats(0.0, 1e6) for _ in range(3))).map(lambda ends: Interval(*sorted(ends)))


@given(guides=ranges, stuck=ranges, more=st.floats(0.0, 1e6), force=st.floats(1e2, 1e6))
def test_more_pull_never_raises_the_reserve_and_more_clamps_never_lower_it(
    rowan: Case, guides: Interval, stuck: Interval, more: float, force: float
) -> None:
    case = changed(rowan, guides=guides, stuck_panel=stuck)
    reserve = lift_off(case).reserve
    pulled = changed(case, guides=Interval(guides.low + more, guides.nominal + more, guides.high + more))
    clamped = placed(case, clamps=(*rowan.die.placing.clamps, Clamp(0.0, 0.0, force)))
    for less, same in zip(ends(lift_off(pulled).reserve), ends(reserve), strict=True):
        assert less <= same
    for better, same in zip(ends(lift_off(clamped).reserve), ends(reserve), strict=True):
        assert better >= same


def ends(value: Interval) -> tuple[float, float, float]:
    return value.low, value.nominal, value.high

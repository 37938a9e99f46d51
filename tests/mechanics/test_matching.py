"""Shear force, clearance and the budget of the match, against hand sums and published figures."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from deflect.casefile import read_case
from deflect.mechanics.analysis import Analysis, analyse
from deflect.mechanics.cutting import clearance, edge_shift, shear_force
from deflect.mechanics.matching import WHAT_TO_DO, Budget, Cause, Line, budget, growth
from deflect.model.die import Die
from deflect.model.matching import Fitted, Measuring
from deflect.model.values import Interval


@pytest.fixture(scope="module")
def rowan() -> Analysis:
    return analyse(read_case("rowan-trim", "alder-10mn"), samples=0, mesh_error=False)


def with_die(analysis: Analysis, **changes: object) -> Analysis:
    case = analysis.case
    return replace(analysis, case=replace(case, die=replace(case.die, **changes)))  # type: ignore[arg-type]


def matched(analysis: Analysis, **changes: object) -> Analysis:
    return with_die(analysis, matching=replace(analysis.case.die.matching, **changes))  # type: ignore[arg-type]


def line(found: Budget, cause: Cause) -> Interval:
    return next(one.value for one in found.lines if one.cause is cause)


# ---- shear force


def cut(die: Die, **changes: object) -> Die:
    return replace(die, cutting=replace(die.cutting, **changes))  # type: ignore[arg-type]


def test_shear_force_of_handbooks(rowan: Analysis) -> None:
    """F = L t tau, tau = 0.8 Rm: 1 m of 2 mm sheet of 400 MPa, 640 kN; dull by 15 to 30 %: 736 to 832 kN."""
    assert rowan.case.die.sheet is not None
    sheet = replace(rowan.case.die.sheet, thickness=2.0, tensile_strength=400.0)
    die = cut(
        replace(rowan.case.die, sheet=sheet),
        length=1000.0,
        shear_share=Interval.exactly(0.8),
        dull_edge=Interval(0.15, 0.2, 0.3),
    )
    found = shear_force(die)
    assert found is not None
    assert (found.sharp.low, found.sharp.high) == pytest.approx((640e3, 640e3))
    assert (found.dull.low, found.dull.nominal, found.dull.high) == pytest.approx((736e3, 768e3, 832e3))


def test_stepped_edges_ask_for_what_is_cut_at_once(rowan: Analysis) -> None:
    whole, half = shear_force(rowan.case.die), shear_force(cut(rowan.case.die, at_once=0.5))
    assert whole is not None
    assert half is not None
    assert half.sharp.nominal == pytest.approx(whole.sharp.nominal / 2)


def test_the_trim_line_is_the_length_of_the_cut(rowan: Analysis) -> None:
    """Four corners of 192.1 mm, two sides of 1940 mm and two of 800 mm: 6248.4 mm by Pythagoras."""
    wanted = 4 * math.hypot(150, 120) + 2 * 1940 + 2 * 800
    assert rowan.case.die.cutting.length == pytest.approx(wanted, abs=1e-6)


def test_no_sheet_or_no_length_no_force(rowan: Analysis) -> None:
    assert shear_force(cut(rowan.case.die, length=None)) is None
    assert shear_force(replace(rowan.case.die, sheet=None)) is None


# ---- clearance


def test_clearance_with_its_tolerance(rowan: Analysis) -> None:
    """12 % of 2 mm is 0.24 mm, give or take 0.01; bending and creep come off the least."""
    found = clearance(rowan.case.die, Interval(0.01, 0.02, 0.04), Interval(0.0, 0.05, 0.3))
    assert found is not None
    assert (found.least, found.most) == pytest.approx((0.23, 0.25))
    assert (found.left.low, found.left.nominal, found.left.high) == pytest.approx((-0.11, 0.16, 0.22))


# ---- the lines


def test_growth_of_the_handbooks() -> None:
    """Printed: 11.5 um/m/K; a die of 4 m that warms by 5 K grows by 0.23 mm."""
    computed = growth(Interval.exactly(11.5e-6), Interval.exactly(5.0), 4000.0).nominal
    assert computed == pytest.approx(0.23, rel=1e-9)
    assert growth(Interval.exactly(11.5e-6), Interval.exactly(1.0), 1000.0).nominal == pytest.approx(0.0115)


@pytest.mark.parametrize(
    ("a", "k", "length", "micrometres"),
    [(5.0, 200.0, 2000.0, 15.0), (5.0, 300.0, 3000.0, 15.0), (15.0, 100.0, 1000.0, 25.0), (30.0, 50.0, 4000.0, 110.0)],
)
def test_a_plus_l_over_k_of_iso_10360_2(a: float, k: float, length: float, micrometres: float) -> None:
    """The form A + L/K of ISO 10360-2 (from memory), L in mm, in um."""
    machine = Measuring(False, Interval.exactly(a * 1e-3), Interval.exactly(k * 1e3), Interval.exactly(0.0))
    assert machine.uncertainty(length).nominal * 1e3 == pytest.approx(micrometres, rel=1e-9)


def test_the_worst_machine_has_the_greatest_a_and_the_least_k() -> None:
    machine = Measuring(False, Interval(0.005, 0.005, 0.02), Interval(75e3, 200e3, 300e3), Interval.exactly(0.0))
    found = machine.uncertainty(3000.0)
    assert (found.low, found.nominal, found.high) == pytest.approx((0.015, 0.020, 0.060))


def test_optical_uncertainty_is_a_share_of_the_length() -> None:
    optical = Measuring(True, Interval.exactly(1.0), Interval.exactly(1.0), Interval(1.5e-5, 3e-5, 5e-5))
    assert optical.uncertainty(2000.0).nominal == pytest.approx(0.06)


def test_a_trim_die_leans_and_creeps(rowan: Analysis) -> None:
    found = budget(matched(rowan, strokes=100))
    assert line(found, Cause.BENDING).high == pytest.approx(edge_shift(rowan.solution))
    assert line(found, Cause.BENDING).nominal == pytest.approx(edge_shift(rowan.solution) / 2)
    assert line(found, Cause.CREEP).nominal == pytest.approx(100 * rowan.spread.creep.nominal)
    assert found.at == "at the cutting line"


def test_a_held_die_has_play_instead_of_creep(rowan: Analysis) -> None:
    held = replace(rowan, creep=replace(rowan.creep, held=True))
    found = budget(matched(held, key_play=Interval(0.01, 0.02, 0.04)))
    assert line(found, Cause.PLAY) == Interval(0.01, 0.02, 0.04)
    assert Cause.CREEP not in [one.cause for one in found.lines]


def test_a_face_is_judged_by_its_own_error() -> None:
    maple = analyse(read_case("maple-restrike", "birch-12mn"), samples=0, mesh_error=False)
    found = budget(matched(maple, fitted=Fitted.BY_NUMBERS))
    assert found.at == "on the face"
    assert line(found, Cause.BENDING) == maple.spread.face


@pytest.mark.parametrize(
    ("fitted", "gone"),
    [
        (Fitted.BY_NUMBERS, set()),
        (Fitted.TO_EACH_OTHER, {Cause.DIE_GROWTH, Cause.MACHINE_GROWTH, Cause.MEASURING}),
        (Fitted.IN_THE_PRESS, {Cause.DIE_GROWTH, Cause.MACHINE_GROWTH, Cause.MEASURING, Cause.BENDING}),
    ],
)
def test_fitting_takes_lines_out_and_leaves_its_own(rowan: Analysis, fitted: Fitted, gone: set[Cause]) -> None:
    found = budget(matched(rowan, fitted=fitted))
    told = {one.cause for one in found.lines}
    assert set(found.left_out) == gone
    assert not told & gone
    assert (Cause.FITTING in told) is (fitted is not Fitted.BY_NUMBERS)


# ---- the sums


def made(*micrometres: float, uncertainty: float = 1.0) -> Budget:
    causes = list(Cause)
    lines = tuple(
        Line(cause, Interval.exactly(value * 1e-3), "") for cause, value in zip(causes, micrometres, strict=False)
    )
    return Budget("on the face", 0.015, lines, (), Interval.exactly(uncertainty * 1e-3), 1, 0.0)


def test_both_sums_by_hand() -> None:
    """3, 4 and 12 um: 19 um if all add up, 13 um as root of the sum of squares."""
    found = made(3.0, 4.0, 12.0)
    assert found.worst.nominal * 1e3 == pytest.approx(19.0)
    assert found.root_sum_square.nominal * 1e3 == pytest.approx(13.0)


@pytest.mark.parametrize("place", range(len(Cause)))
def test_the_greatest_line_dominates_and_has_its_own_advice(place: int) -> None:
    sizes = [1.0] * len(Cause)
    sizes[place] = 9.0
    cause = made(*sizes).dominating.cause
    assert cause is list(Cause)[place]
    assert len(WHAT_TO_DO[cause]) > 40


@pytest.mark.parametrize(("micrometres", "can"), [(4.9, True), (5.1, False)])
def test_a_target_is_measured_with_a_third_of_it(micrometres: float, can: bool) -> None:
    """15 um are measured with 5 um of uncertainty at most (common practice, no source)."""
    assert made(1.0, uncertainty=micrometres).measurable is can


def test_a_short_pass_takes_its_share_of_the_swing(rowan: Analysis) -> None:
    """Two lines of 11.5 um/m/K, 1 K over 2 m in 8 h: 46 um; in an hour, an eighth."""
    found = budget(matched(rowan, length=2000.0, machining_time=8.0))
    assert found.short_pass == pytest.approx(0.046 / 8)
    assert budget(matched(rowan, length=2000.0, machining_time=0.5)).short_pass == pytest.approx(0.046)

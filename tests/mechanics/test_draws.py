"""What is drawn from ranges: a Latin hypercube by its definition, corners and values between by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.arrays import Floats
from deflect.mechanics.draws import CORNERS, UNCERTAIN, USUAL, drawn, sample_at, uncertain_of
from deflect.mechanics.friction import JOINT_STIFFNESS, TANGENTIAL_GIVE
from deflect.mechanics.standing import Assumptions
from deflect.mechanics.support import CONTACT_GIVE, LAND_GIVE
from deflect.mechanics.thrust import Drives
from deflect.mechanics.variation import AS_USUAL
from deflect.model.case import Case
from deflect.model.values import Interval

CASE = read_case("rowan-trim", "alder-10mn")
LAND = Interval(10.0, 40.0, 90.0)


def test_the_first_draws_are_two_opposite_corners() -> None:
    assert set(CORNERS.ravel()) == {0.0, 1.0}
    assert CORNERS.sum(axis=0) == pytest.approx(np.ones(len(UNCERTAIN)))
    assert drawn(2) == pytest.approx(CORNERS)
    assert drawn(1) == pytest.approx(CORNERS[:1])
    assert drawn(0).shape == (0, len(UNCERTAIN))


@pytest.mark.parametrize("samples", [3, 16])
def test_the_others_are_a_latin_hypercube(samples: int) -> None:
    """Each range in as many equal parts as there are draws, one draw in each (M. D. McKay and others 1979)."""
    points = drawn(samples)
    assert points.shape == (samples, len(UNCERTAIN))
    parts = np.sort(np.floor(points[2:] * (samples - 2)), axis=0)
    assert parts == pytest.approx(np.tile(np.arange(samples - 2)[:, None], len(UNCERTAIN)))


def at(name: str, value: float) -> Floats:
    """The middle of the cube but for one coordinate."""
    unit = USUAL.copy()
    unit[UNCERTAIN.index(name)] = value
    return unit


def assumed(land: float, held: bool, end: int) -> Assumptions:
    return Assumptions(
        bed_stiffness=pytest.approx(land), hold_downs=held, land_give=LAND_GIVE[end], contact_give=CONTACT_GIVE[end]
    )


def test_the_middle_of_the_cube_is_what_is_usual() -> None:
    sample = sample_at(CASE, LAND, None, USUAL)
    press, die = CASE.press, CASE.die
    assert sample.assumptions == assumed(40.0, True, 1)
    assert sample.drives == Drives(
        press.friction.nominal,
        press.table_slope.nominal,
        die.side_thrust.nominal,
        die.cutting_thrust.nominal,
        die.offset_thrust.nominal,
        0.0,
        TANGENTIAL_GIVE[1],
        JOINT_STIFFNESS[1],
    )
    assert sample.variation == AS_USUAL


def test_each_corner_draws_every_input_to_its_end() -> None:
    """The first towards more sag and more creep: soft land, much give, little friction, much of what drives."""
    press, die = CASE.press, CASE.die
    known = press.bed.hold_downs_known
    ranges = (press.friction, press.table_slope, die.side_thrust, die.cutting_thrust, die.offset_thrust)
    worse, better = (sample_at(CASE, LAND, None, corner) for corner in CORNERS)
    assert worse.assumptions == assumed(10.0, known, 2)
    assert better.assumptions == assumed(90.0, True, 0)
    friction, *drives = ranges
    for sample, ends, least in (
        (worse, [r.high for r in drives], friction.low),
        (better, [r.low for r in drives], friction.high),
    ):
        told = sample.drives
        assert [told.slope, told.side_thrust, told.cutting, told.offset] == pytest.approx(ends)
        assert told.friction == pytest.approx(least)
    assert (worse.drives.tangential_give, better.drives.tangential_give) == (TANGENTIAL_GIVE[0], TANGENTIAL_GIVE[2])
    assert (worse.drives.joint, better.drives.joint) == (JOINT_STIFFNESS[2], JOINT_STIFFNESS[0])


def test_half_of_the_draws_lie_on_either_side_of_the_usual_value() -> None:
    case = replace(CASE, press=replace(CASE.press, friction=Interval(0.1, 0.15, 0.25)))
    told = [sample_at(case, LAND, None, at("friction", u)).drives.friction for u in (0.0, 0.25, 0.5, 0.75, 1.0)]
    assert told == pytest.approx([0.1, 0.125, 0.15, 0.2, 0.25])


def test_a_land_is_drawn_by_its_logarithm() -> None:
    """Halfway down to 10 from 40 N/mm3 is 20, halfway up to 90 is 60."""
    told = [sample_at(CASE, LAND, None, at("land stiffness", u)).assumptions.bed_stiffness for u in (0.25, 0.75)]
    assert told == pytest.approx([20.0, 60.0])
    exact = sample_at(CASE, Interval.exactly(np.inf), None, at("land stiffness", 0.1))
    assert exact.assumptions.bed_stiffness == np.inf


def test_hold_downs_that_are_not_known_hold_in_half_of_the_draws() -> None:
    bed = replace(CASE.press.bed, hold_downs_known=False)
    case = replace(CASE, press=replace(CASE.press, bed=bed))
    told = [
        sample_at(case, LAND, None, at("hold-down of the bolster", u)).assumptions.hold_downs
        for u in (0.0, 0.5, 0.51, 1.0)
    ]
    assert told == [True, True, False, False]


def test_warmth_and_what_was_calibrated_are_told_only_where_they_are_there() -> None:
    assert uncertain_of(CASE) == UNCERTAIN[:12]
    warm = replace(CASE, die=replace(CASE.die, warmth=Interval(-4.0, 2.0, 6.0)))
    assert uncertain_of(warm) == (*UNCERTAIN[:12], "warmth of the die base")
    told = [sample_at(warm, LAND, None, at("warmth of the die base", u)).variation.die_warmth for u in (0.0, 0.5, 0.75)]
    assert told == pytest.approx([-6.0, 0.0, 2.0])
    bolster = replace(CASE.press.bolster, warmth=Interval(0.0, 3.0, 9.0))
    table = replace(CASE, press=replace(CASE.press, bolster=bolster))
    assert uncertain_of(table) == (*UNCERTAIN[:12], "warmth of the bolster")
    assert sample_at(table, LAND, None, at("warmth of the bolster", 1.0)).variation.bolster_warmth == pytest.approx(6.0)


def test_walls_are_drawn_as_multiples_of_the_usual_ones() -> None:
    case = read_case("rowan-trim", "hornbeam-10mn")
    walls = case.press.bed.land.walls
    assert walls is not None
    spread = replace(walls, stiffness=Interval(2e5, 4e5, 16e5))
    bed = replace(case.press.bed, land=replace(case.press.bed.land, walls=spread))
    case = replace(case, press=replace(case.press, bed=bed))
    assert "walls of the bed" in uncertain_of(case)
    told = [sample_at(case, LAND, None, at("walls of the bed", u)).variation.walls for u in (0.0, 0.25, 0.5, 0.75, 1.0)]
    assert told == pytest.approx([0.5, np.sqrt(0.5), 1.0, 2.0, 4.0])


def calibrated(correlation: tuple[float, float, float]) -> Case:
    """A calibrated press whose bolster bends as one of 160, 200 or 230 mm, its walls half, once or three times as
    stiff as they are."""
    case = read_case("rowan-trim", "hornbeam-10mn-calibrated")
    known, walls = case.press.calibration, case.press.bed.land.walls
    assert known is not None
    assert walls is not None
    thickness = Interval(160.0, 200.0, 230.0)
    spread = replace(walls, stiffness=Interval(0.5, 1.0, 3.0))
    bed = replace(case.press.bed, land=replace(case.press.bed.land, walls=spread))
    known = replace(known, effective_thickness=thickness, correlation=correlation)
    return replace(case, press=replace(case.press, bed=bed, calibration=known))


def drawn_at(case: Case, land: float, own: float, other: float) -> tuple[float, float]:
    """Bolster and walls as multiples of the usual ones, at coordinates from 0 to 1."""
    unit = at("land stiffness", land)
    unit[UNCERTAIN.index("effective thickness of the bolster")] = own
    unit[UNCERTAIN.index("walls of the bed")] = other
    told = sample_at(case, LAND, None, unit).variation
    return told.bolster, told.walls


def test_figures_of_a_calibration_that_hang_on_nothing_are_drawn_each_for_itself() -> None:
    """A bolster bends by the third power of its thickness; between ends and middle by equal ratios."""
    case = calibrated((0.0, 0.0, 0.0))
    assert drawn_at(case, 1.0, 0.5, 0.5) == pytest.approx((1.0, 1.0))
    assert drawn_at(case, 0.5, 0.0, 1.0) == pytest.approx((0.8**3, 3.0))
    assert drawn_at(case, 0.5, 1.0, 0.25) == pytest.approx((1.15**3, np.sqrt(0.5)))
    assert drawn_at(case, 0.5, 0.75, 0.0) == pytest.approx((1.15**1.5, 0.5))


def test_figures_of_a_calibration_are_drawn_as_they_hang_together() -> None:
    """A stiff land with a thin bolster and stiff walls: L L' = R for unit normals, by hand.

    Correlations of -0.6 (land, bolster), 0.5 (land, walls), -0.7 (bolster, walls): the walls go by 0.5 of the land's
    coordinate, by (-0.7 + 0.5 * 0.6)/0.8 = -0.5 of the bolster's own, and by sqrt(1 - 0.25 - 0.25) of their own.
    """
    case = calibrated((-0.6, 0.5, -0.7))
    assert drawn_at(case, 0.5, 0.5, 0.5) == pytest.approx((1.0, 1.0))
    assert drawn_at(case, 1.0, 0.5, 0.5) == pytest.approx((0.8 ** (3 * 0.6), 3**0.5))
    assert drawn_at(case, 0.0, 0.5, 0.5) == pytest.approx((1.15 ** (3 * 0.6), 0.5**0.5))
    assert drawn_at(case, 0.5, 1.0, 0.5) == pytest.approx((1.15 ** (3 * 0.8), 0.5**0.5))
    assert drawn_at(case, 0.5, 0.5, 1.0) == pytest.approx((1.0, 3 ** np.sqrt(0.5)))
    # Beyond its ends nothing is drawn: both together would be 1.4 and 1.7 of the way.
    assert drawn_at(case, 0.0, 1.0, 0.5) == pytest.approx((1.15**3, 0.5))
    assert drawn_at(case, 1.0, 0.0, 1.0) == pytest.approx((0.8**3, 3.0))

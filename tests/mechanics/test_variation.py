"""Bodies varied without a new factorisation against bodies made anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.solution import Solution, solve
from deflect.mechanics.standing import Assumptions, stand
from deflect.mechanics.variation import Variation, varied
from deflect.model.case import Case
from deflect.model.values import Interval

ASSUMED = Assumptions(60.0)


@pytest.fixture(scope="module")
def case() -> Case:
    return read_case("rowan-trim", "hornbeam-10mn")


def solved(case: Case, by: Variation | None = None) -> Solution:
    standing = stand(case)
    return solve(standing if by is None else varied(standing, by), ASSUMED)


def assert_same(one: Solution, other: Solution, within: float) -> None:
    for name in ("greatest_gap", "corner_lift"):
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=within, abs=1e-9)
    assert one.sag.along_x == pytest.approx(other.sag.along_x, rel=within)
    assert one.face.error_range == pytest.approx(other.face.error_range, rel=within)
    assert np.nanmax(one.pressure) == pytest.approx(np.nanmax(other.pressure), rel=2 * within)


def with_walls(case: Case, multiple: float) -> Case:
    bed = case.press.bed
    assert bed.land.walls is not None
    walls = replace(bed.land.walls, stiffness=Interval.exactly(multiple))
    return replace(case, press=replace(case.press, bed=replace(bed, land=replace(bed.land, walls=walls))))


def test_walls_varied_are_walls_made_anew(case: Case) -> None:
    """Round-off alone."""
    assert_same(solved(case, Variation(walls=0.6)), solved(with_walls(case, 0.6)), 1e-8)


def test_a_bolster_varied_is_one_of_another_modulus(case: Case) -> None:
    """But for its squeeze at land and contact, which is not varied: 2 % of the pressure, 1 % else."""
    bolster = case.press.bolster
    stiffer = replace(bolster.material, youngs_modulus=1.1 * bolster.material.youngs_modulus)
    anew = replace(case, press=replace(case.press, bolster=replace(bolster, material=stiffer)))
    assert_same(solved(case, Variation(bolster=1.1)), solved(anew), 0.01)


def with_warmth(case: Case, die: Interval, bolster: Interval) -> Case:
    press = replace(case.press, bolster=replace(case.press.bolster, warmth=bolster))
    return replace(case, press=press, die=replace(case.die, warmth=die))


def test_warmth_varied_is_warmth_stated(case: Case) -> None:
    """Superposition: round-off alone, with a bolster that is varied as well."""
    stated = with_warmth(case, Interval.exactly(6.0), Interval.exactly(-2.0))
    ranged = with_warmth(case, Interval(0.0, 2.0, 6.0), Interval(-2.0, 1.0, 2.0))
    by = Variation(die_warmth=4.0, bolster_warmth=-3.0)
    assert_same(solved(ranged, by), solved(stated), 1e-8)
    by = replace(by, bolster=1.05)
    assert_same(solved(ranged, by), solved(stated, Variation(bolster=1.05)), 1e-8)


def test_a_warm_die_bows_by_its_free_curvature_and_is_not_stressed(case: Case) -> None:
    """A die under no force on no bed but its corners: warmer on top, its middle rises by alpha dT L^2/8h.

    S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, section 14 (from memory).
    """
    warm = stand(with_warmth(case, Interval.exactly(5.0), Interval.exactly(0.0)))
    base, die = warm.base, case.die.base
    points = np.array([[0.0, 0.0], [die.length / 2, 0.0], [0.0, die.width / 2]])
    height = base.top(points).surface @ warm.warmed.base
    for k, extent in ((1, die.length), (2, die.width)):
        rise = 12.5e-6 * 5.0 * extent**2 / (8 * die.thickness)
        assert height[0] - height[k] == pytest.approx(rise, rel=1e-9)
    state = warm.solve(0.0, ASSUMED)
    assert state.contact_force.sum() == pytest.approx(stand(case).solve(0.0, ASSUMED).contact_force.sum(), rel=1e-9)
    # By its weight alone it is hardly stressed; E alpha dT / 2 (1 - nu) would be 7.5 MPa.
    assert solve(warm, ASSUMED, state, state).base_stress < 3.0


def test_a_warm_bolster_bows_by_its_free_curvature(case: Case) -> None:
    """Warmer on top by 3 K: its middle rises over its ends by alpha dT L^2/8h."""
    warm = stand(with_warmth(case, Interval.exactly(0.0), Interval.exactly(3.0)))
    bolster = case.press.bolster
    points = np.array([[0.0, 0.0], [bolster.length / 2, 0.0], [0.0, bolster.width / 2]])
    height = warm.table.top(points).surface @ warm.warmed.table
    for k, extent in ((1, bolster.length), (2, bolster.width)):
        rise = bolster.material.expansion * 3.0 * extent**2 / (8 * bolster.thickness)
        assert height[0] - height[k] == pytest.approx(rise, rel=1e-9)
    assert np.abs(warm.warmed.base).max() == 0.0

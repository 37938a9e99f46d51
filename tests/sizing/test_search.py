"""The search for a size, on functions whose answer is known; the linear effects, against solving anew."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.findings import Judged
from deflect.mechanics.changes import shim_effect, with_shims, work_of_posts
from deflect.mechanics.ground import table_of
from deflect.mechanics.standing import Assumptions, stand
from deflect.model.case import Case
from deflect.model.die import Shim
from deflect.model.values import Rectangle
from deflect.sizing.post_places import post_places
from deflect.sizing.search import least_change


@pytest.fixture(scope="module")
def case() -> Case:
    return read_case("rowan-trim", "alder-10mn")


def test_the_least_step_past_the_root() -> None:
    assert least_change(300.0, 500.0, 10.0, lambda t: Judged(373.0 - t, -1.0)) == (380.0,)
    assert least_change(300.0, 100.0, 10.0, lambda t: Judged(t - 217.0, -1.0)) == (210.0,)


def test_nothing_where_nothing_is_wrong() -> None:
    assert least_change(300.0, 500.0, 10.0, lambda _: Judged(-0.1, -1.0)) == ()


def test_a_minimum_between_the_bounds_is_found() -> None:
    """It cures between 360 and 440 only."""
    assert least_change(300.0, 500.0, 10.0, lambda t: Judged(abs(t - 400.0) - 40.0, -1.0)) == (360.0,)


def test_what_harms_is_told_after_what_does_not() -> None:
    assert least_change(300.0, 500.0, 10.0, lambda t: Judged(400.0 - t, t - 345.0)) == (340.0, 400.0)


def test_the_effect_of_a_shim_is_that_of_solving_anew(case: Case) -> None:
    """So thin a shim changes no contact: the linear effect is exact but for round-off (1e-9 mm of 1e-6 mm)."""
    usual = Assumptions(table_of(case.press)[0].nominal)
    standing, field = stand(case), Rectangle(200.0, 0.0, 400.0, 400.0)
    state, thin = standing.solve(1.0, usual), 1e-6
    after = with_shims(standing, [Shim(field, thin)]).solve(1.0, usual)
    assert np.array_equal(after.closed, state.closed)
    assert (after.gap - state.gap) / thin == pytest.approx(shim_effect(state, [field])[:, 0], abs=1e-5)


def test_shims_laid_below_a_standing_die_are_those_of_a_fresh_one(case: Case) -> None:
    usual = Assumptions(table_of(case.press)[0].nominal)
    shimmed = with_shims(stand(case), [Shim(Rectangle(200.0, 0.0, 400.0, 400.0), 0.1)])
    fresh = stand(shimmed.case)
    assert shimmed.solve(1.0, usual).gap == pytest.approx(fresh.solve(1.0, usual).gap, abs=1e-12)


def test_a_post_relieves_half_its_force_times_its_free_movement(case: Case) -> None:
    """Clapeyron: while no contact changes, force = free movement / give, energy = half their product."""
    usual = Assumptions(table_of(case.press)[0].nominal)
    bare = stand(case).solve(1.0, usual)
    posts = post_places(case.press)
    middle = next(p for p in posts if p.x == p.y == 0.0)
    bed = replace(case.press.bed, posts=(replace(middle, gap=100.0),))
    free = 100.0 - stand(replace(case, press=replace(case.press, bed=bed))).solve(1.0, usual).solved.gap[-1]
    # A gap just short of the free movement: the post carries little, and no contact changes.
    gap = free - 1e-6
    bed = replace(case.press.bed, posts=(replace(middle, gap=gap),))
    standing = stand(replace(case, press=replace(case.press, bed=bed)))
    solved = standing.solve(1.0, usual)
    assert np.array_equal(solved.closed[:-1], bare.closed)
    work = work_of_posts(standing, usual, np.array([False]))
    # The free movement is a difference of 100 mm and 100 mm less 1e-6: eight digits of it are left.
    assert work[0] == pytest.approx(0.5 * solved.solved.force[-1] * 1e-6, rel=1e-3)

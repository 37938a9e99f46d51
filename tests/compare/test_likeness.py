"""Comparison of presses: properties that follow from the equations, and stand-ins with one known parameter shifted."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.likeness import Setting, likeness, paired_draws
from deflect.model.case import Case
from deflect.sizing.emulation import CUSHION_STEP, FORCE_STEP, Kind, emulate

# A face is made alike where what is left is below this, mm: a tenth of the usual spotting tolerance.
MADE_ALIKE = 0.003
TOLERANCE = 0.03
DRAWS = 6


@pytest.fixture(scope="module")
def case() -> Case:
    return read_case("rowan-trim", "alder-10mn")


@pytest.fixture(scope="module")
def production(case: Case) -> Setting:
    return Setting.of(case)


@pytest.fixture(scope="module")
def other() -> Setting:
    return Setting.of(read_case("rowan-trim", "birch-12mn"))


def at_share(case: Case, share: float) -> Case:
    return replace(case, die=replace(case.die, working_force=share * case.die.working_force))


def with_dish(case: Case, dish: float) -> Case:
    return replace(case, press=replace(case.press, bolster=replace(case.press.bolster, dish=dish)))


def test_a_press_differs_from_itself_by_nothing_in_every_draw(case: Case, production: Setting) -> None:
    told = likeness(production, Setting.of(case), TOLERANCE, DRAWS)
    assert told.face.greatest == 0.0
    assert told.table.rms == 0.0
    assert (told.face_spread.low, told.face_spread.high) == (0.0, 0.0)
    assert (told.table_spread.low, told.table_spread.high) == (0.0, 0.0)
    assert told.alike == 1.0


def test_swapped_presses_turn_every_sign(production: Setting, other: Setting) -> None:
    one, two = likeness(production, other, TOLERANCE, 0), likeness(other, production, TOLERANCE, 0)
    for a, b in ((one.face, two.face), (one.table, two.table)):
        assert a.greatest == -b.greatest != 0.0
        assert (a.rms, a.spread, a.at) == (b.rms, b.spread, b.at)
        np.testing.assert_array_equal(a.values, -b.values)


def test_a_rigid_difference_is_none(production: Setting) -> None:
    from deflect.mechanics.difference import difference

    shape = production.shape()
    tilted = 0.3 + 1e-4 * shape.points[:, 0] - 2e-4 * shape.points[:, 1]
    told = difference(shape.points, shape.area, tilted, shape.in_face)
    # Round-off of a fit to numbers of about 0.5 mm.
    assert abs(told.greatest) < 1e-13


def test_draws_of_two_presses_share_what_is_the_dies_and_the_models() -> None:
    units, one, two = paired_draws(12, same=False)
    assert units.shape == (12, 6)
    assert np.array_equal(one[:, [2, 3]], two[:, [2, 3]])
    assert not np.array_equal(one[:, [0, 1]], two[:, [0, 1]])
    _, one, two = paired_draws(12, same=True)
    assert np.array_equal(one, two)


def test_a_lower_force_is_found_back(case: Case, production: Setting) -> None:
    weaker = Setting.of(at_share(case, 0.8))
    found = emulate(production.shape(), weaker, TOLERANCE / 10, case.die.working_force)
    (force,) = [one for one in found.measures if one.kind is Kind.FORCE]
    assert abs(force.case.die.working_force - case.die.working_force) <= FORCE_STEP / 2
    # The force comes in whole steps, and 8.8 MN is one: what is left is round-off of the scaled force.
    assert force.left.spread < 1e-9
    assert found.chosen is force


def test_a_flat_table_is_shimmed_to_a_worn_one_and_back(case: Case) -> None:
    for production_dish, standin_dish in ((0.10, 0.0), (0.0, 0.10)):
        wanted = Setting.of(with_dish(case, production_dish)).shape()
        standin = Setting.of(with_dish(case, standin_dish))
        found = emulate(wanted, standin, MADE_ALIKE, case.die.working_force, shim_step=0.01)
        (shims,) = [one for one in found.measures if one.kind is Kind.SHIMS]
        assert found.before > MADE_ALIKE
        assert shims.left.spread < min(MADE_ALIKE, 0.5 * found.before)
        steps = np.array([s.thickness for s in shims.shims]) / 0.01
        np.testing.assert_allclose(steps, np.round(steps), atol=1e-6)


def test_whole_steps_leave_no_less_than_any_thickness(production: Setting, other: Setting) -> None:
    found = emulate(production.shape(), other, TOLERANCE, other.case.die.working_force, shim_step=0.05)
    (shims,) = [one for one in found.measures if one.kind is Kind.SHIMS]
    assert shims.continuous is not None
    assert shims.continuous <= shims.left.spread < found.before


def test_what_cannot_be_reached_is_said_with_how_far_it_misses(production: Setting, other: Setting) -> None:
    unreachable = 1e-6
    found = emulate(production.shape(), other, unreachable, other.case.die.working_force)
    assert found.chosen is None
    assert found.best is not None
    assert found.short_by == pytest.approx(found.best.left.spread - unreachable)


def test_closure_differs_by_nothing_on_one_press_and_turns_its_sign_when_swapped() -> None:
    from deflect.mechanics.closure import closure_of
    from deflect.mechanics.difference import Difference, closure_difference

    closures = [closure_of(read_case("reed-draw", press)) for press in ("birch-12mn", "larch-16mn")]
    one, two = (closure for closure in closures if closure is not None)
    patches = one.faces.patches
    apart = [closure.lower_error + closure.upper_error for closure in (one, two)]

    def between(first: np.ndarray, second: np.ndarray) -> Difference:
        return closure_difference(patches.centre, patches.area, first, second)

    assert between(apart[0], apart[0]).greatest == 0.0
    there, back = between(*apart), between(*apart[::-1])
    assert there.greatest == -back.greatest != 0.0


def test_no_die_is_pressed_much_harder_than_on_its_production_press(case: Case) -> None:
    """A stiff stand-in would need far more force to bend alike: that is no measure."""
    from deflect.sizing.emulation import MOST_FORCE

    soft = replace(case.press.bolster, thickness=0.6 * case.press.bolster.thickness)
    wanted = Setting.of(replace(case, press=replace(case.press, bolster=soft))).shape()
    strong = replace(case.press, rated_force=4 * case.press.rated_force)
    found = emulate(wanted, Setting.of(replace(case, press=strong)), MADE_ALIKE, case.die.working_force)
    for measure in found.measures:
        assert measure.case.die.working_force <= MOST_FORCE * case.die.working_force


def test_a_lower_cushion_force_is_found_back() -> None:
    """The stand-in differs by its cushion's setting alone, which comes in whole steps: round-off is left."""
    case = read_case("hazel-draw", "birch-12mn")
    lowered = replace(case, die=replace(case.die, cushion_force=case.die.cushion_force - 4 * CUSHION_STEP))
    found = emulate(Setting.of(case).shape(), Setting.of(lowered), TOLERANCE / 10, case.die.working_force)
    (cushion,) = [one for one in found.measures if one.kind is Kind.CUSHION]
    assert cushion.case.die.cushion_force == pytest.approx(case.die.cushion_force)
    assert cushion.case.die.working_force == case.die.working_force
    assert cushion.left.spread < 1e-9 < found.before


def test_a_die_without_a_cushion_has_none_to_set(case: Case, production: Setting) -> None:
    found = emulate(production.shape(), Setting.of(at_share(case, 0.8)), TOLERANCE, case.die.working_force)
    assert Kind.CUSHION not in [one.kind for one in found.measures]

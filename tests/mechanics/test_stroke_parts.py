"""Moments of a stroke, its steps, and what grips the die, by hand; draws of two presses by their definition."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import cast

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.body import GRAVITY
from deflect.mechanics.draws import UNCERTAIN, USUAL
from deflect.mechanics.friction import SlipState, Step
from deflect.mechanics.holders import InPlaneHolder
from deflect.mechanics.likeness import OWN, SHARED, paired_draws, strongest
from deflect.mechanics.march import Creep
from deflect.mechanics.standing import Standing
from deflect.mechanics.stroke import (
    BETWEEN,
    Course,
    friction_at,
    grips_of,
    nearness,
    path_of,
    resting_force,
    share_left,
    stances_of,
    straps_of,
)
from deflect.mechanics.thrust import Drives
from deflect.model.case import Case
from deflect.model.die import Clamp
from deflect.model.force import Patch
from deflect.model.values import Rectangle

AREA = Rectangle(0.0, 0.0, 100.0, 100.0)
PLAIN = read_case("rowan-trim", "alder-10mn")


def case(*shares: tuple[float, float], clamps: tuple[Clamp, ...] = ()) -> Case:
    """Patches with so much of the force each, of which so much acts on the return."""
    patterns = tuple(Patch(share, AREA, on_return=back) for share, back in shares)
    placing = replace(PLAIN.die.placing, clamps=clamps)
    return replace(PLAIN, die=replace(PLAIN.die, patterns=patterns, placing=placing))


def path(one: Case) -> tuple[list[tuple[float, float]], int]:
    moments, bottom = path_of(cast(Standing, SimpleNamespace(case=one)))
    return [(m.working, m.returning) for m in moments], bottom


def test_a_stroke_whose_force_retraces_goes_back_as_it_came() -> None:
    """From a quarter of the weight as a share of the force, by equal ratios to all of it."""
    one = case((1.0, 1.0))
    found, bottom = path(one)
    assert bottom == 7
    assert len(found) == 15
    assert found == found[::-1]
    assert found[0] == (0.0, 0.0)
    assert found[bottom][0] == pytest.approx(1.0)
    shares = np.array([working for working, _ in found[1 : bottom + 1]])
    assert shares[0] == pytest.approx(0.25 * one.die.lower.mass * GRAVITY / one.base_force)
    assert shares[1:] / shares[:-1] == pytest.approx(np.full(6, shares[0] ** (-1 / 6)))
    assert {returning for _, returning in found} == {0.0}


def test_a_stroke_whose_force_changes_lets_go_of_one_and_then_of_the_other() -> None:
    """Of 0.6 half, of 0.4 a quarter is left: 0.4 of the force acts as the slide begins to rise."""
    one = case((0.6, 0.5), (0.4, 0.25))
    assert share_left(one) == pytest.approx(0.4)
    found, bottom = path(one)
    assert bottom == 7
    assert found[bottom + 1 : bottom + 3] == [(0.5, 0.5), (0.0, 1.0)]
    falling = np.array([returning for working, returning in found[bottom + 2 :]])
    assert {working for working, _ in found[bottom + 2 :]} == {0.0}
    assert falling[-1] == 0.0
    first = 0.25 * one.die.lower.mass * GRAVITY / one.base_force / 0.4
    assert falling[-2] == pytest.approx(first)
    assert falling[1:-1] / falling[:-2] == pytest.approx(np.full(6, first ** (1 / 6)))


def test_the_first_share_is_neither_next_to_nothing_nor_a_good_deal() -> None:
    light = replace(PLAIN, die=replace(PLAIN.die, lower=replace(PLAIN.die.lower, mass=1.0)))
    heavy = replace(PLAIN, die=replace(PLAIN.die, lower=replace(PLAIN.die.lower, mass=1e7)))
    assert path(light)[0][1][0] == pytest.approx(1e-3)
    assert path(heavy)[0][1][0] == pytest.approx(0.2)


def test_weight_and_clamps_press_a_die_between_strokes() -> None:
    one = case((1.0, 1.0), clamps=(Clamp(0.0, 0.0, 30e3), Clamp(500.0, 0.0, 20e3)))
    assert resting_force(one) == pytest.approx(one.die.lower.mass * GRAVITY + 50e3)


def test_what_slips_is_a_strap_and_what_does_not_a_grip() -> None:
    strap = InPlaneHolder("clamp 1", "clamp", (0.0, 0.0), None, 0.0, 1e5, limit=9e3)
    key = InPlaneHolder("key 1", "key", (0.0, 0.0), None, 0.0, 1e5)
    assert straps_of((strap, key)) == [strap]
    assert grips_of((strap, key)) == [key]


def test_a_point_is_felt_at_the_patches_nearest_to_it() -> None:
    """One patch alone, two that are as near, and four."""
    places = np.array([(0.0, 0.0), (100.0, 0.0), (0.0, 100.0), (100.0, 100.0)])
    points = np.array([(10.0, 20.0), (50.0, 10.0), (50.0, 50.0), (50.001, 10.0)])
    assert nearness(points, places) == pytest.approx(
        np.array([(1, 0, 0, 0), (0.5, 0.5, 0, 0), (0.25,) * 4, (0, 1, 0, 0)])
    )


def test_friction_of_a_moment_is_that_of_the_step_which_ends_there() -> None:
    """The first moment is where the stroke before ended; what rubs besides the patches is left out."""
    nothing = np.zeros((2, 2))
    last = [
        Step(SlipState(np.zeros(3), nothing), np.full((3, 2), float(k)), nothing, np.zeros(3), 0.0)
        for k in range(1, 2 * BETWEEN + 1)
    ]
    marched = Creep(np.zeros(3), np.zeros((1, 3)), np.zeros(1), True, 1, 0.0, 0.0, last=tuple(last))
    course = SimpleNamespace(drag=SimpleNamespace(places=np.zeros((2, 2))), moments=(None,) * 3)
    found = friction_at(cast(Course, course), marched)
    assert [f.shape for f in found] == [(2, 2)] * 3
    assert [f[0, 0] for f in found] == [2.0 * BETWEEN, 1.0 * BETWEEN, 2.0 * BETWEEN]


def made_up_course() -> Course:
    """One patch below a die of 1 kN, held by 1, 8 and 1 kN; breathing of 0, 0.7 and 0 mm along x, of which friction has
    bent back 0.01 mm at the full force."""
    die = replace(PLAIN.die, lower=replace(PLAIN.die.lower, mass=1e3 / GRAVITY), patterns=(Patch(1.0, AREA),))
    moments = [
        SimpleNamespace(
            held=held,
            state=SimpleNamespace(contact_force=np.array([held])),
            breathing=np.array([[breathing, 0.0]]),
            friction=np.array([[pull, 0.0]]),
            working=held - 1e3,
            returning=0.0,
        )
        for held, breathing, pull in ((1e3, 0.0, 0.0), (8e3, 0.7, -100.0), (1e3, 0.0, 0.0))
    ]
    drag = SimpleNamespace(standing=SimpleNamespace(case=replace(PLAIN, die=die)), places=np.zeros((1, 2)))
    # One mode, which moves the patch by 0.01 mm along x per unit; its compliance is 1e-4 mm/N.
    bends = np.array([[0.01], [0.0]])
    return cast(Course, SimpleNamespace(drag=drag, moments=tuple(moments), bends=bends, bottom=1))


def test_steps_between_moments_are_geometric_in_what_holds_the_die() -> None:
    """1, 2, 4 and 8 kN, and back; breathing goes in proportion, without what friction has bent back of it."""
    drives = Drives(0.15, 0.0, 2e-3, 0.0, 0.0, 0.0, tangential_give=0.3, joint=1e3)
    stances = stances_of(made_up_course(), drives)
    assert BETWEEN == 3
    held = np.array([1e3, 2e3, 4e3, 8e3, 4e3, 2e3, 1e3])
    assert [float(s.normal[0]) for s in stances] == pytest.approx(held)
    assert [float(s.breathing[0, 0]) for s in stances] == pytest.approx((held - 1e3) / 7e3 * 0.71)
    assert [float(s.thrust[0]) for s in stances] == pytest.approx(2e-3 * (held - 1e3))
    assert [s.closed for s in stances] == [False, True, True, True, True, True, False]
    finer = stances_of(made_up_course(), drives, between=6)
    assert [float(s.normal[0]) for s in finer[:7]] == pytest.approx(1e3 * 2.0 ** (np.arange(7) / 2))


def test_a_strap_rubs_with_what_its_clamp_presses_and_breathes_as_the_patch_below_it() -> None:
    strap = InPlaneHolder("clamp 1", "clamp", (5.0, 0.0), None, 0.0, 1e5, limit=9e3)
    stances = stances_of(made_up_course(), Drives(0.15, 0.0, 0.0, 0.0, 0.0, 0.0, 0.3, 1e3), (strap,))
    assert {(s.normal.shape, s.breathing.shape) for s in stances} == {((2,), (2, 2))}
    assert [float(s.normal[1]) for s in stances] == pytest.approx([9e3 / PLAIN.press.friction.nominal] * 7)
    assert [float(s.breathing[1, 0]) for s in stances] == pytest.approx([float(s.breathing[0, 0]) for s in stances])


# ---- two presses


def test_draws_of_two_presses_share_what_is_one_and_the_same() -> None:
    units, one, two = paired_draws(12, same=False)
    assert units.shape == (12, 2 * len(OWN) + len(SHARED))
    own, shared = [UNCERTAIN.index(n) for n in OWN], [UNCERTAIN.index(n) for n in SHARED]
    assert one[:, own] == pytest.approx(units[:, : len(OWN)])
    assert two[:, own] == pytest.approx(units[:, len(OWN) : 2 * len(OWN)])
    assert one[:, shared] == pytest.approx(units[:, 2 * len(OWN) :])
    assert two[:, shared] == pytest.approx(one[:, shared])
    assert np.abs(one[:, own] - two[:, own]).max() > 0.3
    walls = UNCERTAIN.index("walls of the bed")
    assert one[:, walls] == pytest.approx(one[:, own[0]])
    rest = [k for k in range(len(UNCERTAIN)) if k not in (*own, *shared, walls)]
    assert one[:, rest] == pytest.approx(np.tile(USUAL[rest], (12, 1)))


def test_of_one_and_the_same_press_every_draw_is_the_same() -> None:
    _, one, two = paired_draws(12, same=True)
    assert one == pytest.approx(two)
    assert np.ptp(one, axis=0).max() > 0.5


def test_inputs_that_rank_as_the_values_do_move_them() -> None:
    """The first falls with the values, the second hardly ranks as they do, the third does not move."""
    units = np.column_stack([[0.9, 0.6, 0.5, 0.1], [0.1, 0.9, 0.2, 0.8], np.full(4, 0.5)])
    values = np.array([1.0, 2.0, 30.0, 400.0])
    assert strongest(("one", "two", "three"), units, values) == ("one", "two")
    assert strongest(("one", "two", "three"), units, values, most=1) == ("one",)
    assert strongest(("one", "two", "three"), units, np.ones(4)) == ()
    assert strongest(("one",), units[:2, :1], values[:2]) == ()

"""What must hold of creep whatever the pressure, the friction and the holders: drawn examples.

Sources: derived, each beside its test; I. M. Jenkins 1962 and W. D. Iwan, J. Appl. Mech. 33 (1966) 893 for the loop of
a spring and slider.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_bodies import RIGID_LAND, case_of

from deflect.mechanics.arrays import Floats
from deflect.mechanics.creep import find_creep
from deflect.mechanics.drag import Drag
from deflect.mechanics.friction import Footing, Grips, SlipState, Stance, step
from deflect.mechanics.march import Creep, march
from deflect.mechanics.standing import stand
from deflect.mechanics.thrust import Drives, Leanings, side_thrust
from deflect.model.die import Placing
from deflect.model.force import Patch
from deflect.model.values import Rectangle

LENGTH, STRAIN, FRICTION = 4000.0, 5e-5, 0.15
STRETCH = STRAIN * LENGTH  # 0.2 mm
PATCHES = 60
PLACE = (np.arange(PATCHES) + 0.5) / PATCHES * LENGTH
# Elastic slip before sliding, as a share of the stretch.
SLACK = 1e-3
# A nanometre: what the balance of friction, met to 1e-10, leaves of a shift of some tenths of a mm.
NOTHING = 1e-6

SPREADS = st.lists(st.floats(0.05, 1.0), min_size=PATCHES, max_size=PATCHES).map(np.array)


def _footing(friction: float = FRICTION, normal: float = 3e5, grips: Grips | None = None) -> Footing:
    places = np.column_stack([PLACE - LENGTH / 2, np.zeros(PATCHES)])
    stiffness = np.full(PATCHES, friction * normal / PATCHES / (SLACK * STRETCH))
    return Footing(places, friction, stiffness, grips=grips)


def _stroke(down: Floats, up: Floats, thrust: float = 0.0, normal: float = 3e5) -> list[Stance]:
    """The strip stretched about its left end and back, pressed otherwise on the way back; no change of force within
    either way, so that each way has one neutral point."""
    shares = np.linspace(0.0, 1.0, 13)

    def stance(share: float, spread: Floats) -> Stance:
        stretched = np.column_stack([PLACE * STRAIN * share, np.zeros(PATCHES)])
        return Stance(normal * spread / spread.sum(), stretched, np.array([thrust, 0.0, 0.0]))

    way_down, way_up = [stance(s, down) for s in shares], [stance(s, up) for s in shares[::-1]]
    return [*way_down, *way_up, stance(0.0, down)]


def _neutral(spread: Floats, share: float = 0.5) -> tuple[float, float]:
    """Where a share of the friction lies to the left, as a share of the length, and how far a patch blurs that."""
    total = np.cumsum(spread) / spread.sum()
    k = int(np.searchsorted(total, share))
    before = total[k - 1] if k else 0.0
    return (k + (share - before) / (total[k] - before)) / PATCHES, 1.0 / PATCHES


@settings(max_examples=20)
@given(spread=SPREADS)
def test_no_thrust_and_the_same_way_back_no_creep(spread: Floats) -> None:
    """Both ways have the same neutral point, that of half the friction, however the pressure lies."""
    assert np.abs(march(_footing(), _stroke(spread, spread)).shift[:2]).max() < NOTHING


@settings(max_examples=20)
@given(down=SPREADS, up=SPREADS)
def test_other_pressure_on_the_way_back_creeps_without_thrust(down: Floats, up: Floats) -> None:
    """creep = eps (x_c - x_e), each the median of its own pressure: the strip is drawn back to the up-stroke's."""
    (x_e, blur), (x_c, _) = _neutral(down), _neutral(up)
    creep = march(_footing(), _stroke(down, up)).shift[0] / STRETCH
    # A neutral point falls inside one of 60 patches, which moves as a whole; each change of pressure slides a little.
    assert creep == pytest.approx(x_c - x_e, abs=blur + 4 * SLACK)


@settings(max_examples=20)
@given(first=st.floats(0.05, 0.5), more=st.floats(1.05, 3.0))
def test_more_friction_never_walks_farther(first: float, more: float) -> None:
    """Even pressure: creep = eps L H/(mu N)."""
    even = np.ones(PATCHES)
    stroke = _stroke(even, even, thrust=0.4 * 0.05 * 3e5)
    slow, fast = (march(_footing(mu), stroke).shift[0] for mu in (first * more, first))
    assert slow <= fast + NOTHING


@settings(max_examples=20)
@given(spread=SPREADS, share=st.floats(0.0, 0.8))
def test_friction_never_gives_work_back(spread: Floats, share: float) -> None:
    footing = _footing()
    stroke = _stroke(spread, spread, thrust=share * FRICTION * 3e5)
    state = SlipState(np.zeros(3), stroke[0].breathing)
    for stance in stroke[1:]:
        taken = step(footing, state, stance)
        work = -(taken.friction * (taken.state.slid - state.slid)).sum()
        assert work >= -1e-9 * FRICTION * 3e5 * STRETCH
        state = taken.state


def test_loop_of_a_spring_and_slider() -> None:
    """W = 4 F (X - F/k) for amplitude X: F = 1, k = 2, X = 1.5 gives 4 (printed 4.0)."""
    limit, stiffness, amplitude = 1.0, 2.0, 1.5
    footing = Footing(np.zeros((1, 2)), 1.0, np.array([stiffness]), grips=_fixed())
    swing = amplitude * np.sin(np.linspace(0, 2 * np.pi, 401))
    state, spent = SlipState(np.zeros(3), np.zeros((1, 2))), 0.0
    for cycle in range(2):
        spent = 0.0
        for at in swing[1:]:
            taken = step(footing, state, Stance(np.array([limit]), np.array([[at, 0.0]]), np.zeros(3)))
            spent -= float((taken.friction * (taken.state.slid - state.slid)).sum())
            state = taken.state
        assert cycle == 0 or spent == pytest.approx(4 * limit * (amplitude - limit / stiffness), rel=1e-4)


def _fixed() -> Grips:
    """Two grips so stiff, felt by no patch's bending, that the die stays where it is."""
    return _grips([(-1.0, 0.0), (1.0, 0.0)], None, play=0.0, stiffness=1e12, near=np.zeros((2, 1)))


def _grips(
    places: list[tuple[float, float]], way: tuple[float, float] | None, play: float, stiffness: float, near: Floats
) -> Grips:
    along = np.eye(2) if way is None else np.outer(way, way)
    h = len(places)
    return Grips(
        near=near,
        places=np.array(places),
        along=np.repeat(along[None], h, axis=0),
        offset=np.zeros((h, 2)),
        play=np.full(h, play),
        stiffness=np.full(h, stiffness),
        closed_only=np.zeros(h, dtype=bool),
    )


def _key(play: float, stiffness: float = 5e5) -> Grips:
    """A key in the middle of the strip that holds along it."""
    near = np.zeros((1, PATCHES))
    near[0, PATCHES // 2 - 1 : PATCHES // 2 + 1] = 0.5
    return _grips([(0.0, 0.0)], (1.0, 0.0), play, stiffness, near)


def _thrust_stroke() -> list[Stance]:
    """Stretched about its middle, so that the key feels the shift alone."""
    even = np.ones(PATCHES)
    about = np.array([STRAIN * LENGTH / 2, 0.0])
    stroke = _stroke(even, even, thrust=0.3 * FRICTION * 3e5)
    return [replace(s, breathing=s.breathing - about * (np.ptp(s.breathing[:, 0]) / STRETCH)) for s in stroke]


def test_a_key_within_its_play_changes_nothing() -> None:
    stroke = _thrust_stroke()
    free, loose = (march(_footing(grips=grips), stroke, strokes=4) for grips in (None, _key(play=1.0)))
    assert loose.shift == pytest.approx(free.shift, abs=1e-9)
    assert loose.grip_force == pytest.approx([0.0])


def test_a_key_bites_once_its_play_is_used_and_takes_the_thrust() -> None:
    """In the steady state the friction swings evenly about nothing, and the key takes the thrust (derived)."""
    held = march(_footing(grips=_key(play=0.2)), _thrust_stroke(), strokes=60, leaps=True)
    thrust = 0.3 * FRICTION * 3e5
    assert held.steady
    assert np.abs(held.shift[0]) < NOTHING
    # The die rests at its play and the key's spring, and breathes there by less than the slack.
    assert held.path[-1, 0] == pytest.approx(0.2 + thrust / 5e5, abs=0.05 * STRETCH)
    assert held.grip_force[0] == pytest.approx(thrust, rel=0.1)


def test_leaps_end_where_every_stroke_does() -> None:
    grips = _key(play=0.2, stiffness=1e5)
    leapt = march(_footing(grips=grips), _thrust_stroke(), strokes=80, leaps=True)
    # Stroke by stroke the march ends with the first shifts that agree, before anything bites.
    walked = march(_footing(grips=_key(play=0.0, stiffness=1e5)), _thrust_stroke(), strokes=80)
    assert leapt.strokes < walked.strokes
    # A leap ends a thousandth short of the way.
    assert leapt.path[-1, 0] - 0.2 == pytest.approx(walked.path[-1, 0], rel=5e-3)


# ---- a die on a table

FORCE, WEIGHT = 4e6, 8e4


def _die_creep(x: float, y: float, heading: float, share: float = 0.01) -> Creep:
    """A die under a patch off its middle, set off the table's, a thrust along ``heading``."""
    pattern = Patch(1.0, Rectangle(2 * x, 2 * y, 1400.0, 600.0))
    standing = stand(case_of(pattern, FORCE, WEIGHT, placing=Placing(x=x, y=y)))
    drives = Drives(FRICTION, 0.0, share, 0.0, 0.0, heading, 4 / 15, 1500.0)
    return find_creep(standing, Drag.of(standing), RIGID_LAND, drives, (heading,)).march


def test_a_mirrored_case_creeps_mirrored() -> None:
    plain, mirrored = _die_creep(100.0, 60.0, 0.4), _die_creep(-100.0, 60.0, np.pi - 0.4)
    assert mirrored.shift == pytest.approx(plain.shift * [-1, 1, -1], abs=1e-9)


def test_a_symmetric_die_without_thrust_does_not_creep() -> None:
    assert np.abs(_die_creep(0.0, 0.0, 0.0, share=0.0).shift[:2]).max() < NOTHING


def _guide(play: float, offset: float = 0.0, stiffness: float = 1e5) -> Grips:
    return replace(_key(play, stiffness), offset=np.array([[offset, 0.0]]))


@pytest.mark.parametrize("offset", [0.0, 0.1, -0.1])
def test_a_grip_is_met_through_its_breathing_and_past_its_free_middle(offset: float) -> None:
    """Where the die passes what breathing leaves of the play, or first comes nearer to the middle, it goes on until the
    grip bites, and the grip takes the thrust (derived)."""
    even = np.ones(PATCHES)
    thrust = 0.02 * FRICTION * 3e5
    held = march(_footing(grips=_guide(0.3, offset)), _stroke(even, even, thrust), strokes=200, leaps=True)
    assert held.steady
    assert np.abs(held.shift[0]) < 2 * NOTHING
    assert held.grip_force[0] > 0.5 * thrust


def test_the_force_turns_a_die_about_where_it_acts() -> None:
    """A thrust to the rear whose force stands to the right of the die's middle turns it anticlockwise (statics)."""
    case = case_of(Patch(1.0, Rectangle(500.0, 0.0, 400.0, 400.0)), FORCE, WEIGHT)
    drives = Drives(FRICTION, 0.0, 0.01, 0.0, 0.0, np.pi / 2, 4 / 15, 1500.0)
    x, y, turning = side_thrust(drives, Leanings.of(case), FORCE + WEIGHT, FORCE, 0.0)
    assert (x, y) == pytest.approx((0.0, 0.01 * FORCE), abs=1e-6)
    assert turning == pytest.approx(500.0 * 0.01 * FORCE)

"""Creep of a rigid strip on a floor that it stretches over and back: closed forms for every spread of the pressure.

In each half of a cycle the strip has one neutral point, where the friction on one side and the bias balance that on
the other: it lies at x_e with f(0..x_e) = (F - H)/2 while the strain grows, at x_c with (F + H)/2 while it falls, and
the creep per cycle is eps (x_c - x_e).  F = mu N is all of the friction, H the bias, h = H/F.

Sources: H. Moseley, Proc. R. Soc. 7 (1855) 333 (lead creeping down a roof); C. Davison, Q. J. Geol. Soc. 44 (1888) 232
(from memory); the spreads of pressure, the slack and the dissipation are ours, derived.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.mechanics.arrays import Floats
from deflect.mechanics.friction import Footing, SlipState, Stance, step
from deflect.mechanics.march import Creep, march

LENGTH, STRAIN, FRICTION, NORMAL = 4000.0, 5e-5, 0.15, 3e5
STRETCH = STRAIN * LENGTH  # 0.2 mm
LIMIT = FRICTION * NORMAL
PATCHES = 400
PLACE = (np.arange(PATCHES) + 0.5) / PATCHES  # shares of the length
EVEN = np.full(PATCHES, 1.0 / PATCHES)
# Elastic slip before sliding, as a share of the stretch, where none is wanted.
NO_SLACK = 1e-3


def footing(spread: Floats = EVEN, slack: float = NO_SLACK, angle: float = 0.0) -> Footing:
    """The strip along ``angle``; each patch slides after ``slack`` times the stretch, under the force of NORMAL."""
    along = (PLACE - 0.5) * LENGTH
    places = np.column_stack([along * np.cos(angle), along * np.sin(angle)])
    return Footing(places, FRICTION, spread * LIMIT / (slack * STRETCH))


def stance(strain: float, bias: float, normal: float = NORMAL, spread: Floats = EVEN, angle: float = 0.0) -> Stance:
    """The strip stretched by ``strain``; ``bias``: share of the friction of NORMAL, along the strip."""
    heading = np.array([np.cos(angle), np.sin(angle)])
    stretched = np.outer((PLACE - 0.5) * LENGTH * strain, heading)
    return Stance(normal * spread, stretched, np.array([*(bias * LIMIT * heading), 0.0]))


def cycle(bias: float, spread: Floats = EVEN, strain: float = STRAIN, angle: float = 0.0) -> list[Stance]:
    down = [stance(strain * t, bias, spread=spread, angle=angle) for t in np.linspace(0, 1, 13)]
    return [*down, *down[-2::-1]]


def creep_of(bias: float, spread: Floats = EVEN, slack: float = NO_SLACK) -> float:
    """Creep per cycle as a share of the stretch."""
    creep = march(footing(spread, slack), cycle(bias, spread))
    assert creep.steady
    return float(creep.shift[0]) / STRETCH


@pytest.mark.parametrize("bias", [0.06798, 0.2, 0.6, 0.9])
def test_moseley_even_pressure(bias: float) -> None:
    """creep = eps L H/(mu N), less twice the slack, which is taken out here."""
    # 0.5 %: a neutral point falls inside one of 400 patches.
    assert creep_of(bias) + 2 * NO_SLACK == pytest.approx(bias, rel=5e-3)


@pytest.mark.parametrize(
    ("bias", "slack", "listed"),
    [(0.6, 0.05, 0.5), (0.6, 0.1, 0.4), (0.6, 0.2, 0.2), (0.3, 0.05, 0.2), (0.3, 0.1, 0.1), (0.3, 0.2, 0.0)],
)
def test_slack_is_a_threshold(bias: float, slack: float, listed: float) -> None:
    """creep = eps L h - 2 g, and nothing below: the strip shakes down.  Figures listed: ours."""
    assert max(0.0, bias - 2 * slack) == pytest.approx(listed)
    assert creep_of(bias, slack=slack) == pytest.approx(listed, abs=2e-3)


@pytest.mark.parametrize(("bias", "listed"), [(0.2, 0.142141), (0.6, 0.447214)])
def test_triangular_pressure(bias: float, listed: float) -> None:
    """p ~ x: creep = eps L (sqrt((1 + h)/2) - sqrt((1 - h)/2)), less than under even pressure."""
    exact = np.sqrt((1 + bias) / 2) - np.sqrt((1 - bias) / 2)
    assert exact == pytest.approx(listed, abs=5e-7)
    spread = PLACE / PLACE.sum()
    # 1 %: the slack is not taken out of the pressed end alone, so it counts for about twice itself here too.
    assert creep_of(bias, spread) + 2 * NO_SLACK == pytest.approx(exact, rel=1e-2)


@pytest.mark.parametrize(("share", "creeps"), [(0.95, False), (1.05, True)])
def test_two_unequal_supports(share: float, creeps: bool) -> None:
    """N1 > N2 at the two ends: nothing below h = (N1 - N2)/N, the whole of eps L above."""
    share_left, share_right = 0.6, 0.4
    ends = np.array([[-LENGTH / 2, 0.0], [LENGTH / 2, 0.0]])
    normal = np.array([share_left, share_right]) * NORMAL
    bias = np.array([share * (share_left - share_right) * LIMIT, 0.0, 0.0])
    down = [Stance(normal, ends * STRAIN * t, bias) for t in np.linspace(0, 1, 13)]
    creep = march(Footing(ends, FRICTION, FRICTION * normal / (NO_SLACK * STRETCH)), [*down, *down[-2::-1]])
    # The lighter end's friction swings both ends once over and back: each gives by its own stiffness.
    slack = 2 * NO_SLACK * (1 + share_right / share_left)
    assert creep.shift[0] / STRETCH == pytest.approx(1 - slack if creeps else 0.0, abs=1e-4)


@pytest.mark.parametrize(
    ("down", "up"),
    [((1.0, 0.4), (1.0, 0.4)), ((1.0, 0.4), (1.0, 0.0)), ((1.0, 0.2), (0.5, 0.2)), ((0.3, 0.2), (1.0, 0.6))],
)
def test_pressure_and_bias_that_differ_on_the_way_back(down: tuple[float, float], up: tuple[float, float]) -> None:
    """creep = eps L (h1 + h2)/2: a bias on one half only gives half.  Each pair: normal force, bias (of NORMAL's)."""
    shares = np.linspace(0, 1, 13)
    stroke = [stance(STRAIN * t, down[1], down[0] * NORMAL) for t in shares]
    stroke += [stance(STRAIN * t, up[1], up[0] * NORMAL) for t in shares[::-1]]
    stroke += [stance(0.0, down[1], down[0] * NORMAL)]
    creep = march(footing(), stroke)
    exact = (down[1] / down[0] + up[1] / up[0]) / 2
    assert creep.steady
    # 1 %: each half loses its own slack, at most once NO_SLACK either way, and changes of force slide a little.
    assert creep.shift[0] / STRETCH + NO_SLACK * (down[0] + up[0]) == pytest.approx(exact, rel=1e-2)


@pytest.mark.parametrize("ratio", [3.0, 20.0, 120.0])
def test_force_that_grows_with_the_strain(ratio: float) -> None:
    """Die weight N0, press force P, strain in step with the force: creep = (L eps H/(mu P)) ln(1 + P/N0).

    Nearly all of it happens while little force holds the die.
    """
    bias = 0.2 / ratio
    level = np.geomspace(1.0, 1.0 + ratio, 60)
    down = [stance(STRAIN * (held - 1) / ratio, bias, NORMAL * held / ratio) for held in level]
    creep = march(footing(slack=1e-5), [*down, *down[-2::-1]])
    exact = bias * np.log(1 + ratio)
    assert creep.steady
    # 1.5 %: sixty steps, over each of which the force is taken as constant.
    assert creep.shift[0] / STRETCH == pytest.approx(exact, rel=1.5e-2)


@pytest.mark.parametrize("bias", [0.0, 0.3, 0.6])
def test_dissipation_per_cycle(bias: float) -> None:
    """W = mu N eps L (1 + h^2)/2, of which H times the creep is fed by the bias; no step gives any back."""
    footed = footing(slack=5e-4)
    stroke = cycle(bias)
    state = SlipState(np.zeros(3), stroke[0].breathing)
    spent: list[float] = []
    for _ in range(3):
        spent.append(0.0)
        for now in stroke[1:]:
            after = step(footed, state, now).state
            # Force of the floor along what slides: the elastic stretch that is left, times the stiffness.
            left = now.breathing + np.array([after.shift[0], after.shift[1]]) - after.slid
            work = float((footed.stiffness[:, None] * left * (after.slid - state.slid)).sum())
            assert work >= -1e-9 * LIMIT * STRETCH
            spent[-1] += work
            state = after
    # 1 %: the slack is lost twice a cycle.
    assert spent[-1] / (LIMIT * STRETCH) == pytest.approx((1 + bias**2) / 2, rel=1e-2)


def _marched(bias: float, strain: float = STRAIN, angle: float = 0.0) -> Creep:
    return march(footing(angle=angle), cycle(bias, strain=strain, angle=angle))


def test_symmetries() -> None:
    """The opposite bias creeps the other way, the opposite strain the same way, and no bias not at all."""
    plain = _marched(0.4).shift
    assert _marched(-0.4).shift == pytest.approx(-plain, abs=1e-9)
    assert _marched(0.4, strain=-STRAIN).shift == pytest.approx(plain, abs=1e-9)
    assert _marched(0.0).shift == pytest.approx(np.zeros(3), abs=1e-9)


@pytest.mark.parametrize("angle", [0.5, np.pi / 2, 2.5])
def test_a_turned_strip_creeps_along_itself(angle: float) -> None:
    plain, turned = _marched(0.4).shift, _marched(0.4, angle=angle).shift
    assert turned[:2] == pytest.approx(plain[0] * np.array([np.cos(angle), np.sin(angle)]), abs=1e-7)
    assert turned[2] * LENGTH == pytest.approx(0.0, abs=1e-7)


def test_scales_with_the_strain_and_not_with_the_force() -> None:
    """Twice the strain and twice the slack: twice the creep.  Ten times the force, bias and stiffness: the same."""
    footed = footing(slack=0.05)
    plain = march(footed, cycle(0.4)).shift[0]
    soft = Footing(footed.places, FRICTION, footed.stiffness / 2)
    assert march(soft, cycle(0.4, strain=2 * STRAIN)).shift[0] == pytest.approx(2 * plain, rel=1e-6)
    strong = Footing(footed.places, FRICTION, 10 * footed.stiffness)
    stroke = [Stance(10 * s.normal, s.breathing, 10 * s.thrust) for s in cycle(0.4)]
    assert march(strong, stroke).shift[0] == pytest.approx(plain, rel=1e-6)


def test_more_bias_than_friction_runs_away() -> None:
    """The march must not call it steady creep: more is pushing than can be held."""
    creep = march(footing(), cycle(1.2), strokes=4)
    assert creep.residual > 0.05 or not creep.steady


def test_a_thrust_that_friction_does_not_hold_slides_the_die_away() -> None:
    """Derived: no shift balances a thrust above the friction; that is told, and never as a creep of nothing."""
    places = np.array([[-500.0, 0.0], [500.0, 0.0]])
    footing = Footing(places, 0.15, np.full(2, 1e6))
    rest = Stance(np.full(2, 1e5), np.zeros((2, 2)), np.zeros(3))
    pushed = Stance(np.full(2, 1e5), np.zeros((2, 2)), np.array([3.1e4, 0.0, 0.0]))
    marched = march(footing, [rest, pushed, rest])
    assert marched.slides
    assert not marched.steady
    assert marched.shift[0] == pytest.approx(10.0)
    held = march(footing, [rest, replace(pushed, thrust=np.array([2.9e4, 0.0, 0.0])), rest])
    assert not held.slides

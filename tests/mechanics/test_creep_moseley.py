"""The march of a rigid strip: how it scales, and what it says where friction does not hold the die.

The closed forms of its creep are among the published checks.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.checks.families.friction import FRICTION, STRAIN, cycle, footing
from deflect.mechanics.friction import Footing, Stance
from deflect.mechanics.march import march


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

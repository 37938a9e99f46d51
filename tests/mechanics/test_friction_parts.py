"""What a step of friction is made of, by hand: springs in series, grips with play."""

from __future__ import annotations

import numpy as np
import pytest

from deflect.mechanics.friction import Footing, Grips, SlipState, Stance, step, tangential_stiffness
from deflect.mechanics.support import land_compliance, wall_stiffness

PLACES = np.array([[-100.0, -50.0], [100.0, -50.0], [0.0, 100.0]])
NONE = np.zeros((3, 2))


def test_bodies_and_joint_give_one_after_the_other() -> None:
    """A share of 0.5 of 0.004 mm3/N, and a joint of 250 N/mm3: 0.002 + 0.004 mm3/N."""
    assert tangential_stiffness(np.array([0.004, 0.0]), 0.5, 250.0) == pytest.approx([1 / 0.006, 250.0])
    assert tangential_stiffness(np.array([0.004]), 0.5, np.inf) == pytest.approx([500.0])


def gripped(offset: tuple[float, float], play: float, along: tuple[float, float] | None = None) -> Footing:
    """Three patches of 10 N/mm each that hardly hold, and a grip of 5 kN/mm at the die's centre."""
    way = np.eye(2) if along is None else np.outer(along, along)
    near = np.full((1, 3), 1 / 3)
    grips = Grips(
        near, np.zeros((1, 2)), way[None], np.array([offset]), np.array([play]), np.array([5e3]), np.array([True])
    )
    return Footing(PLACES, 0.1, np.full(3, 10.0), grips=grips)


def pushed(footing: Footing, force: tuple[float, float], closed: bool = True) -> tuple[np.ndarray, np.ndarray]:
    """Shift (2,) and force of the grip (2,) under a force at the die's centre; patches slide at 1 N each."""
    start = SlipState(np.zeros(3), NONE)
    found = step(footing, start, Stance(np.full(3, 10.0), NONE, np.array([*force, 0.0]), closed))
    assert found.residual < 1e-9
    return found.state.shift[:2], found.grip[0]


def test_a_grip_bites_once_its_play_is_used() -> None:
    """503 N along x, of which friction takes 3: 500 N stretch the grip by 0.1 mm beyond its play."""
    shift, grip = pushed(gripped((0.0, 0.0), 0.2), (503.0, 0.0))
    assert shift == pytest.approx([0.3, 0.0], abs=1e-9)
    assert grip == pytest.approx([-500.0, 0.0], abs=1e-6)


@pytest.mark.parametrize("offset", [0.05, -0.05])
def test_a_grip_whose_middle_lies_aside_bites_sooner_or_later(offset: float) -> None:
    shift, _ = pushed(gripped((offset, 0.0), 0.2), (503.0, 0.0))
    assert shift == pytest.approx([0.3 + offset, 0.0], abs=1e-9)


def test_a_grip_that_holds_one_way_lets_the_other_go() -> None:
    """Along (0.6, 0.8) alone: across it nothing but the patches' springs resist."""
    shift, grip = pushed(gripped((0.0, 0.0), 0.0, (0.6, 0.8)), (600.0, 800.0))
    assert shift == pytest.approx(np.array([0.6, 0.8]) * (1000.0 - 3.0) / 5e3, rel=1e-6)
    assert grip == pytest.approx([-0.6 * 997.0, -0.8 * 997.0], rel=1e-6)
    _, none = pushed(gripped((0.0, 0.0), 0.0, (0.6, 0.8)), (-1.6, 1.2))
    assert none == pytest.approx([0.0, 0.0], abs=1e-6)


def test_guides_of_a_closed_press_let_go_when_it_opens() -> None:
    shift, grip = pushed(gripped((0.0, 0.0), 0.0), (1.5, 0.0), closed=False)
    assert grip == pytest.approx([0.0, 0.0])
    # Half of what friction holds: three springs of 10 N/mm.
    assert shift == pytest.approx([0.05, 0.0], rel=1e-6)


def test_walls_behind_a_share_of_the_land_are_columns() -> None:
    """210 GPa, a third of the land on walls of 700 mm: 100 N/mm3."""
    assert wall_stiffness(210e3, 1 / 3, 700.0) == pytest.approx(100.0)


def test_bolster_and_bed_give_one_after_the_other() -> None:
    """A tenth of 0.02 mm3/N, and a bed of 50 N/mm3."""
    assert land_compliance(0.02, 50.0, 0.1) == pytest.approx(0.022)
    assert land_compliance(0.02, np.inf, 0.1) == pytest.approx(0.002)

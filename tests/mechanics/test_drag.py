"""What friction bends: the modes against the bodies themselves, with the same friction put on them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from reference_bodies import HOLDING_LAND, PATCH, case_of

from deflect.mechanics.arrays import Floats
from deflect.mechanics.drag import Drag, away
from deflect.mechanics.standing import State, stand


@pytest.fixture(scope="module")
def pressed() -> tuple[Drag, State]:
    """The block on the slab, both without Poisson's effect, so that nothing spreads under pressure."""
    case = case_of(PATCH, 10e6)
    bolster, base = case.press.bolster, case.die.base
    slab = replace(bolster, material=replace(bolster.material, poisson_ratio=0.0))
    block = replace(base, material=replace(base.material, poisson_ratio=0.0))
    case = replace(case, press=replace(case.press, bolster=slab), die=replace(case.die, base=block))
    standing = stand(case)
    return Drag.of(standing), standing.solve_under(standing.loads(1.0), HOLDING_LAND)


@pytest.mark.parametrize(("along", "powers"), [(0, (0, 0)), (1, (1, 0)), (0, (1, 1)), (1, (0, 2))])
def test_modes_carry_smooth_friction_as_the_bodies_do(
    pressed: tuple[Drag, State], along: int, powers: tuple[int, int]
) -> None:
    """A kilonewton spread as a polynomial bends both bodies back; contacts stay as they are, so that it is linear."""
    drag, state = pressed
    x, y = (drag.places / 1000.0).T
    friction = np.zeros((len(x), 2))
    friction[:, along] = x ** powers[0] * y ** powers[1] * drag.standing.contact_area
    friction *= 1e3 / np.abs(friction).sum()
    after = drag.standing.solve_under(state.loads + drag.couples([friction])[0], HOLDING_LAND, state.closed)
    assert (after.closed == state.closed).all()
    moved = drag.breathing(after) - drag.breathing(state)
    bends = drag.bends(state)
    told = (bends @ (bends.T @ friction.ravel())).reshape(-1, 2)
    # Round-off of the breathing under the whole force, a thousand times as much; modes that bend next to nothing.
    assert told == pytest.approx(moved, abs=1e-5 * float(np.abs(moved).max()))
    # Friction bends the way it pushes.
    assert float((friction * moved).sum()) > 0


def test_a_source_moves_what_is_round_it_straight_away_and_itself_not() -> None:
    """J. N. Goodier 1937: d/(2 pi r^2)."""
    found: Floats = away(np.array([[0.0, 0.0], [30.0, 40.0]]), np.array([[0.0, 0.0], [0.0, -50.0]]))
    exact = np.array([[0.0, 0.0], [0.0, 50 / 2500], [30 / 2500, 30 / 9000], [40 / 2500, 90 / 9000]])
    assert found == pytest.approx(exact / (2 * np.pi))

"""One step of friction as a minimisation: its derivatives, its convergence, its blocks."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from deflect.mechanics import friction
from deflect.mechanics.arrays import Floats
from deflect.mechanics.friction import Footing, Grips, Pressing, SlipState, Stance, step

FRICTION, PATCHES, MODES = 0.15, 24, 6
# Stiffness of a patch of 100 x 100 mm below a die, N/mm: ours.
PATCH_STIFFNESS = 8e6
RANDOM = np.random.default_rng(7)


def _footing(gripped: bool) -> Footing:
    """Patches anywhere, six modes that bend some micrometres under the friction, a key and a guide with play."""
    places = RANDOM.uniform(-1000.0, 1000.0, (PATCHES, 2))
    grips = None
    if gripped:
        near = np.zeros((2, PATCHES))
        near[0, 0] = near[1, 1] = 1.0
        along = np.array([np.outer([1.0, 0.0], [1.0, 0.0]), np.eye(2)])
        grips = Grips(near, places[:2], along, np.zeros((2, 2)), np.array([0.01, 0.0]), np.array([2e5, 3e5]),
                      np.array([False, True]))  # fmt: skip
    bends = RANDOM.normal(0.0, 2e-4, (2 * PATCHES, MODES))
    return Footing(places, FRICTION, np.full(PATCHES, PATCH_STIFFNESS), bends, grips)


def _stance(closed: bool = True) -> Stance:
    normal = RANDOM.uniform(0.0, 4e4, PATCHES)
    normal[::5] = 0.0
    return Stance(normal, RANDOM.normal(0.0, 0.01, (PATCHES, 2)), np.array([2e4, -1e4, 3e6]), closed)


STATE = SlipState(np.array([0.01, -0.02, 1e-6]), RANDOM.normal(0.0, 0.01, (PATCHES, 2)))


@pytest.mark.parametrize("closed", [True, False])
def test_slope_and_tangent_are_derivatives_of_the_energy(closed: bool) -> None:
    """Central differences of the energy and of its slope, away from kinks."""
    pressing = Pressing.of(_footing(True), _stance(closed))
    origin, v = pressing.origin(STATE), RANDOM.normal(0.0, 0.02, 3 + MODES)

    def at(v: Floats) -> tuple[float, Floats, Floats]:
        point = pressing.at(v, origin + pressing.motion @ v)
        slope, secant = pressing.slope(point)
        return point.energy, slope, pressing.tangent(point, secant)

    energy, slope, tangent = at(v)
    step_size = 1e-6
    ways = step_size * np.eye(3 + MODES)
    pairs = [(at(v + way), at(v - way)) for way in ways]
    by_energy = np.array([(up[0] - down[0]) / (2 * step_size) for up, down in pairs])
    by_slope = np.array([(up[1] - down[1]) / (2 * step_size) for up, down in pairs])
    # Round-off of the energy over the step, and what keeps the tangent definite: 1e-9 of its greatest entry.
    assert by_energy == pytest.approx(slope, abs=1e-7 * np.abs(slope).max() + 1e-15 * abs(energy) / step_size)
    assert by_slope == pytest.approx(tangent, abs=1e-6 * np.abs(tangent).max())


@pytest.mark.parametrize("gripped", [False, True])
def test_newton_converges_quadratically(gripped: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    """From a residual below a thousandth one more step is enough for its square: what keeps the tangent definite must
    not stiffen the modes, or each step gains no more than a constant share."""
    residuals: list[float] = []
    true = friction._residual

    def noted(gradient: Floats, size: float) -> float:
        residuals.append(true(gradient, size))
        return residuals[-1]

    monkeypatch.setattr(friction, "_residual", noted)
    for _ in range(10):
        residuals.clear()
        step(_footing(gripped), STATE, _stance())
        near = [k for k, r in enumerate(residuals) if r < 1e-3]
        assert near, "the step has not come near its end"
        # Quadratic from 1e-3: 1e-5 or so, 1e-9, 1e-16; a constant share of a twentieth would take six more.
        assert len(residuals) - near[0] <= 4


def test_a_step_leaves_each_patch_within_its_cone() -> None:
    """Coulomb's law (C. A. Coulomb 1785): friction is at most mu N, and a patch that has slid carries just that."""
    stance = _stance()
    outcome = step(_footing(False), STATE, stance)
    carried, limit = np.hypot(*outcome.friction.T), FRICTION * stance.normal
    slid = np.hypot(*(outcome.state.slid - STATE.slid).T) > 1e-9
    assert (carried <= limit * (1 + 1e-12)).all()
    assert carried[slid & (stance.normal > 0)] == pytest.approx(limit[slid & (stance.normal > 0)], rel=1e-12)
    kinds = Counter((slid & (stance.normal > 0)).tolist())
    assert len(kinds) == 2, "some patches stick and some slide, or the test says little"

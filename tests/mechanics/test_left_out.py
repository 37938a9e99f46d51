"""Sizes of what the bodies leave out, against routes of their own."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

from deflect.mechanics.left_out import edge_dent, overshoot, period, speed_at, thermal_bow, time_to_bottom
from deflect.mechanics.support import FACE_GIVE
from deflect.model.material import Material

STEEL = Material("steel", 206e3, 0.3, 7.85e-6, 100.0)


def test_period_of_a_mass_that_hangs_by_its_own_weight() -> None:
    """2π √(δ/g), any textbook of dynamics; exact but for round-off."""
    assert period(3.0, 10.0, 3.0 * 9.81) == pytest.approx(2 * math.pi * math.sqrt(0.010 / 9.81), rel=1e-12)


@pytest.mark.parametrize("ratio", [0.5, 1.5, 2.5])
def test_overshoot_of_a_ramp_against_integration(ratio: float) -> None:
    """Where rise/period is a half, three halves…, the envelope is met: peak of the integrated movement, to 1e-4."""
    turn = 2 * math.pi

    def swing(t: float, y: list[float]) -> list[float]:
        return [y[1], turn**2 * (min(t / ratio, 1.0) - y[0])]

    path = solve_ivp(swing, (0.0, ratio + 2.0), [0.0, 0.0], rtol=1e-9, atol=1e-11, max_step=2e-3)
    assert overshoot(1.0, ratio) == pytest.approx(path.y[0].max() - 1.0, abs=1e-4)


def test_a_force_put_on_at_once_doubles_the_movement_and_nothing_does_more() -> None:
    assert overshoot(0.005, 0.0) == 1.0
    assert overshoot(0.005, 1e-4) == 1.0


@pytest.mark.parametrize("height", [2.0, 40.0, 300.0])
def test_time_to_the_bottom_is_the_way_over_the_speed(height: float) -> None:
    """∫ dh/v; with h = s² the integrand has no pole at the bottom, and the quadrature is exact to 1e-8."""
    stroke, rate = 1000.0, 15.0
    time, _ = quad(lambda s: 2 * s / speed_at(s * s, stroke, rate), 0.0, math.sqrt(height))
    assert time_to_bottom(height, stroke, rate) == pytest.approx(time, rel=1e-8)


def test_half_a_turn_from_top_to_bottom() -> None:
    """Above half of the stroke the slide is taken to come from half of it: a quarter of a turn."""
    assert time_to_bottom(500.0, 1000.0, 15.0) == pytest.approx(60 / 15 / 4)
    assert time_to_bottom(900.0, 1000.0, 15.0) == pytest.approx(60 / 15 / 4)
    assert speed_at(500.0, 1000.0, 15.0) == pytest.approx(math.pi * 1000.0 * 15.0 / 60)


def test_thermal_bow_is_the_rise_of_the_arc() -> None:
    """Timoshenko & Woinowsky-Krieger 1959, section 14: an arc of radius h/(α ΔT); its rise, to (L/R)²."""
    radius = 450.0 / (11.5e-6 * 3.0)
    rise = radius - math.sqrt(radius**2 - 1200.0**2)
    assert thermal_bow(11.5e-6, 3.0, 2400.0, 450.0) == pytest.approx(rise, rel=1e-5)


def test_half_a_pressed_plane_sinks_half_as_deep_at_its_edge() -> None:
    """Any give that dies away around a force, here exp(−r)/r, summed over a plane and over half of it."""
    step = 0.01
    middle = np.arange(-8.0 + step / 2, 8.0, step)
    away = np.hypot(*np.meshgrid(middle, middle, indexing="ij"))
    give = np.exp(-away) / away
    share = give[middle > 0].sum() / give.sum()
    dent = edge_dent(20.0, (450.0, STEEL), (200.0, STEEL))
    assert dent == pytest.approx(share * FACE_GIVE * 20.0 * 650.0 / (2 * 206e3), rel=1e-9)

"""Calibration: synthetic readings give the truth back, within what the fit says of itself."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_press
from deflect.mechanics.arrays import Floats
from deflect.mechanics.bare_table import Stiffness, bare_table
from deflect.mechanics.calibration import Fit, calibrate
from deflect.mechanics.calibration.fit import fitted
from deflect.mechanics.calibration.problem import Z95, Problem, places
from deflect.model.force import Patch
from deflect.model.press import Press
from deflect.model.readings import DialReading, MeasuredAcceptance, Readings, TestForce
from deflect.model.values import Rectangle

PLACES = [(x, y) for y in (-700.0, 0.0, 700.0) for x in (-1500.0, -750.0, 0.0, 750.0, 1500.0)]
AREA = (Patch(1.0, Rectangle(0.0, 0.0, 1600.0, 800.0)),)
UNCERTAINTY = 0.01
SEEDS = 24


def session(*, from_floor: bool = True, forces: tuple[float, ...] = (8e6,)) -> Readings:
    dials = tuple(DialReading(f"{chr(65 + n // 5)}{n % 5 + 1}", x, y, 0.0) for n, (x, y) in enumerate(PLACES))
    tests = tuple(TestForce(force, AREA, dials) for force in forces)
    return Readings("2025-04-08", "made up", UNCERTAINTY, 0.03, from_floor, tests)


def with_readings(readings: Readings, values: Floats) -> Readings:
    """The same session with other values, test after test."""
    left = iter(values.tolist())
    tests = tuple(
        replace(test, dials=tuple(replace(dial, movement=next(left)) for dial in test.dials)) for test in readings.tests
    )
    return replace(readings, tests=tests)


def made_up(problem: Problem, truth: Stiffness, rng: np.random.Generator) -> Problem:
    """The problem with readings of a true table, scattered as stated."""
    values = problem.predict(truth) + rng.normal(0.0, UNCERTAINTY / Z95, problem.measured.size)
    return replace(problem, measured=values, readings=with_readings(problem.readings, values))


def from_prior(problem: Problem, rng: np.random.Generator) -> tuple[Stiffness, Floats]:
    figures = rng.normal(size=problem.prior.size) * problem.prior
    return problem.stiffness(figures), figures


def away(fit: Fit, problem: Problem, figures: Floats) -> Floats:
    """How far each figure is from the truth, in standard deviations that the fit states."""
    usual = [one.before.nominal for one in fit.figures]
    off = [
        np.log(one.after.nominal / start) - true for one, start, true in zip(fit.figures, usual, figures, strict=True)
    ]
    return np.array([o * Z95 / one.spread for o, one in zip(off, fit.figures, strict=True)])


@pytest.mark.parametrize(("press", "from_floor"), [("alder-10mn", True), ("hornbeam-10mn", False)])
def test_truths_lie_within_their_intervals_as_often_as_stated(press: str, from_floor: bool) -> None:
    """Of 24 truths from the prior, each measured once: 95 % intervals hold 20 or more (fewer: once in a hundred), and
    are no wider than needed: errors over stated deviations have an rms of 1 within 25 % (24 values: 15 % each way)."""
    problem = Problem.of(read_press(press), session(from_floor=from_floor))
    off = []
    for seed in range(SEEDS):
        rng = np.random.default_rng(seed)
        truth, figures = from_prior(problem, rng)
        off.append(away(fitted(made_up(problem, truth, rng)), problem, figures))
    held = (np.abs(off) <= Z95).sum(axis=0)
    assert held.min() >= 20, held
    spread = np.sqrt(np.mean(np.square(off)))
    assert 0.75 < spread < 1.25, spread


@pytest.fixture(scope="module")
def alder() -> Press:
    return read_press("alder-10mn")


@pytest.fixture(scope="module")
def problem(alder: Press) -> Problem:
    plain = Problem.of(alder, session())
    return made_up(plain, Stiffness(50.0, 1.03), np.random.default_rng(1))


@pytest.mark.parametrize("multiple", [0.87, 1.07])
def test_answers_between_the_condensed_thicknesses_are_those_of_such_a_bolster(alder: Press, multiple: float) -> None:
    """Interpolated answer against a bolster of that thickness: 0.12 %, of which the land's local give is most."""
    points = np.array(PLACES)
    force = np.array([8e6])
    other = replace(alder, bolster=replace(alder.bolster, thickness=multiple * alder.bolster.thickness))
    exact = bare_table(other, [AREA], points).movement(Stiffness(60.0), force)
    told = bare_table(alder, [AREA], points).movement(Stiffness(60.0, multiple), force)
    assert told == pytest.approx(exact, rel=1.3e-3)


def test_a_dial_that_slipped_is_named_and_told_what_the_fit_is_without_it(problem: Problem) -> None:
    values = problem.measured.copy()
    values[8] -= 0.05
    fit = fitted(replace(problem, measured=values, readings=with_readings(problem.readings, values)))
    assert [row.dial for row in fit.residuals if row.disagrees] == ["B4"]
    assert fit.scatter > 1.5
    # Against a fit that never saw it.
    keep = np.arange(values.size) != 8
    dials = tuple(d for d in problem.readings.tests[0].dials if d.dial != "B4")
    tests = (replace(problem.readings.tests[0], dials=dials),)
    apart = calibrate(problem.press, with_readings(replace(problem.readings, tests=tests), values[keep]))
    ((dial, figures),) = fit.without
    assert dial == "B4"
    for (name, value), one in zip(figures, apart.figures, strict=True):
        assert name == one.name
        assert value == pytest.approx(one.after.nominal, rel=1e-4)


def test_nothing_disagrees_where_nothing_slipped(problem: Problem) -> None:
    fit = fitted(problem)
    assert not any(row.disagrees for row in fit.residuals)
    assert 0.6 < fit.scatter < 1.4


def test_dials_on_a_bridge_say_nothing_of_sinking_and_tilt(alder: Press, problem: Problem) -> None:
    """The same readings with any sinking and tilt added give the same figures."""
    bridge = session(from_floor=False)
    moved = problem.measured + np.array([0.3 + 2e-5 * x - 4e-5 * y for x, y in PLACES])
    one, other = (calibrate(alder, with_readings(bridge, values)) for values in (problem.measured, moved))
    for a, b in zip(one.figures, other.figures, strict=True):
        assert a.after.nominal == pytest.approx(b.after.nominal, rel=1e-5)


def test_a_dial_at_the_place_named_narrows_the_interval_as_told(problem: Problem) -> None:
    """Added where it was told, the interval of the land shrinks to the told share, within 5 % of it."""
    before = fitted(problem)
    place = before.next_places[0]
    assert place.name == "land stiffness"
    test = problem.readings.tests[0]
    dial = DialReading("more", place.x, place.y, 0.0)
    plain = Problem.of(problem.press, replace(problem.readings, tests=(replace(test, dials=(*test.dials, dial)),)))
    usual = np.log([one.after.nominal / one.before.nominal for one in before.figures])
    values = np.append(problem.measured, plain.predict(plain.stiffness(usual))[-1])
    after = fitted(replace(plain, measured=values, readings=with_readings(plain.readings, values)))
    assert after.figures[0].spread / before.figures[0].spread == pytest.approx(place.share, rel=0.05)


def test_an_acceptance_figure_alone_is_met_and_speaks_of_the_bolster(alder: Press) -> None:
    figure = MeasuredAcceptance(0.22e-3, 10e6, 0.6, 2400.0, 1320.0, 0.02)
    readings = Readings("", "acceptance sheet", UNCERTAINTY, 0.005, True, (), figure)
    fit = calibrate(alder, readings)
    (row,) = fit.residuals
    # Within its own uncertainty of 2 %: the prior pulls a little.
    assert row.fitted == pytest.approx(0.22e-3, rel=0.02)
    land, thickness = fit.figures[0], fit.figures[1]
    # A sag between two places of the table speaks of the bolster; what sinks as a whole is not in it.
    assert thickness.gain > 0.4
    assert 0 < land.gain < 0.2
    # Both make the table stiffer: what one of them takes of the reading the other leaves.
    assert -1 < fit.calibration.correlation[0] < -0.9


def test_ranges_that_a_press_file_gave_are_counted_as_held_or_missed(alder: Press, problem: Problem) -> None:
    assert fitted(problem).held == problem.measured.size
    far = made_up(Problem.of(alder, session()), Stiffness(6.0), np.random.default_rng(2))
    assert fitted(far).held < far.measured.size / 2


def test_a_dial_disagrees_beyond_what_the_worst_of_so_many_scatters_by(problem: Problem) -> None:
    """One false alarm in twenty fits: of fifteen dials the normal quantile of 1 - 0.05/30 (C. E. Bonferroni), 2.94."""
    exact = problem.predict(problem.stiffness(np.zeros(problem.prior.size)))

    def off(error: float) -> tuple[float, bool]:
        values = exact + error * (np.arange(exact.size) == 8)
        row = fitted(replace(problem, measured=values, readings=with_readings(problem.readings, values))).residuals[8]
        return abs(row.off), row.disagrees

    first, _ = off(0.01)
    for wanted, disagrees in ((2.8, False), (3.05, True)):
        told, found = off(0.01 * wanted / first)
        assert told == pytest.approx(wanted, abs=0.07)
        assert found is disagrees


def test_places_for_a_dial_are_a_grid_over_the_bolster_but_for_its_cut_outs(alder: Press) -> None:
    """Nine along by five across, 0.9 of the length and of the width apart."""
    bolster = alder.bolster
    grid = places(alder)
    assert grid.shape == (45, 2)
    assert np.unique(grid[:, 0]) == pytest.approx(np.linspace(-0.45, 0.45, 9) * bolster.length)
    assert np.unique(grid[:, 1]) == pytest.approx(np.linspace(-0.45, 0.45, 5) * bolster.width)
    hole = Rectangle(0.1 * bolster.length, 0.0, 0.24 * bolster.length, 0.3 * bolster.width)
    left = places(replace(alder, bolster=replace(bolster, openings=(hole,))))
    # From -0.02 to 0.22 of the length, across the middle row alone.
    gone = {(float(x), float(y)) for x, y in grid} - {(float(x), float(y)) for x, y in left}
    assert {round(x / bolster.length, 4) for x, _ in gone} == {0.0, 0.1125}
    assert {y for _, y in gone} == {0.0}

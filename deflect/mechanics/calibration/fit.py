"""Fit a press to what was measured on its table: least squares with priors, and what the fit is worth.

Everything is fitted in logarithms.  Posterior: the fit linearised about its best values (G. A. F. Seber, C. J. Wild,
Nonlinear Regression (1989), chapter 2); where the readings scatter more than their stated uncertainty, that
grows by the ratio of R. T. Birge, Phys. Rev. 40 (1932) 207.  Which dial disagrees: residuals against a fit without that
dial (R. D. Cook, S. Weisberg, Residuals and Influence in Regression (1982), chapter 2).
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
from scipy.optimize import least_squares
from scipy.stats import norm, qmc

from deflect.faults import MechanicsFailed
from deflect.mechanics.acceptance import bed_stiffness
from deflect.mechanics.arrays import Floats
from deflect.mechanics.bare_table import Stiffness
from deflect.mechanics.calibration.problem import STEP, Z95, Problem, places
from deflect.mechanics.calibration.results import Fit, Fitted, NextPlace, Residual
from deflect.model.press import Calibration, Press
from deflect.model.readings import Readings
from deflect.model.values import Interval

# Draws that make the range of an earlier prediction.
_PREDICTIONS = 24
_SEED = 20
# Rounds in which the readings' uncertainty is made greater until they scatter no more than that, and by which factor
# they still may.
_ROUNDS, _SETTLED = 4, 1.02
# By which factor a reading is made more uncertain to leave it out.
_UNHEARD = 1e6
# Chance that no dial is called out of line where none is.
_FALSE_ALARM = 0.05


def calibrate(press: Press, readings: Readings) -> Fit:
    """Fit land stiffness, effective thickness, walls and the gauge of the force to readings on the bare table.

    The press's own description is the prior, an earlier calibration is not: give earlier readings once more with
    the new ones.  Raises MechanicsFailed where no table of this kind gives the readings.
    """
    return fitted(Problem.of(press, readings))


def fitted(problem: Problem) -> Fit:
    """The fit of a problem that is laid out."""
    settled, best, scatter = _settle(problem)
    fit = _read(settled, best, scatter)
    if problem.press.bed.hold_downs_known:
        return fit
    # Nobody knows how the bolster is held down: the intervals take both ends in, held and not held.
    loose = replace(problem, hold_downs=False)
    other = _read(*_settle(loose))
    figures = tuple(
        replace(one, after=_hull(one.after, loosely.after))
        for one, loosely in zip(fit.figures, other.figures, strict=True)
    )
    return replace(
        fit,
        figures=figures,
        loose=tuple((one.name, one.after.nominal) for one in other.figures),
        calibration=replace(fit.calibration, **_intervals(figures)),
    )


def _hull(one: Interval, other: Interval) -> Interval:
    return Interval(min(one.low, other.low), one.nominal, max(one.high, other.high))


def _settle(problem: Problem) -> tuple[Problem, Floats, float]:
    """The problem with the uncertainty that the readings show, its best figures, and that as a multiple of the stated
    one."""
    scatter = 1.0
    best = _best(problem, np.zeros(problem.names_count))
    for _ in range(_ROUNDS):
        more = _scatter(problem, best)
        if more < _SETTLED:
            break
        scatter *= more
        problem = replace(problem, sigma=more * problem.sigma)
        best = _best(problem, best)
    return problem, best, scatter


def _best(problem: Problem, start: Floats) -> Floats:
    solved = least_squares(
        problem.residuals,
        start,
        jac=problem.jacobian,
        bounds=(problem.lowest, problem.highest),
        x_scale=problem.prior,
        xtol=1e-8,
        ftol=1e-8,
    )
    if not solved.success:
        raise MechanicsFailed("the fit to the readings did not settle: look at the readings for a slip of the pen")
    return np.asarray(solved.x)


def _spread(problem: Problem, best: Floats) -> tuple[Floats, Floats]:
    """The readings' slopes by every figure, known stand or not (n, p + f), and the covariance of all (p + f, p + f)."""
    rows = np.hstack([problem.slopes(best), problem.free / problem.sigma[:, None]])
    known = np.zeros((best.size, rows.shape[1]))
    known[:, : best.size] = np.diag(1.0 / problem.prior)
    return rows, np.asarray(np.linalg.pinv(rows.T @ rows + known.T @ known, hermitian=True), dtype=float)


def _left(rows: Floats, covariance: Floats) -> Floats:
    """Share (n,) of each reading's own scatter that the fit leaves in its residual."""
    return np.asarray(np.maximum(1.0 - np.einsum("ij,jk,ik->i", rows, covariance, rows), 1e-6))


def _scatter(problem: Problem, best: Floats) -> float:
    """How much the readings scatter about the fit, as a multiple of what they are said to."""
    off = problem.residuals(best)[: problem.measured.size]
    freedom = float(_left(*_spread(problem, best)).sum())
    return float(np.sqrt(off @ off / freedom)) if freedom > 1 else 1.0


def _read(problem: Problem, best: Floats, scatter: float) -> Fit:
    """Intervals, residuals, the dials that disagree, and where to measure next."""
    figures = best.size
    rows_by, covariance = _spread(problem, best)
    off = problem.residuals(best)[: len(rows_by)]
    left = _left(rows_by, covariance)
    sigma = np.sqrt(np.diag(covariance)[:figures])
    # Against a fit without the dial: with what the others scatter, or are said to scatter, whichever is more.
    others = (off @ off - off**2 / left) / max(float(left.sum()) - 1, 1.0)
    away = -off / np.sqrt(left * np.maximum(others, 1.0 / scatter**2))
    limit = float(norm.ppf(1 - _FALSE_ALARM / (2 * off.size)))
    found = _figures(problem, best, sigma)
    names = tuple(one.name for one in found)
    rows = _residual_rows(problem, best, away, limit)
    without = []
    for k, row in enumerate(rows):
        if row.disagrees:
            unheard = problem.sigma / scatter
            unheard[k] *= _UNHEARD
            apart = _settle(replace(problem, sigma=unheard))[1]
            told = _figures(problem, apart, sigma)
            without.append((row.dial, tuple((one.name, one.after.nominal) for one in told)))
    correlation = covariance[:figures, :figures] / np.outer(*(2 * [np.sqrt(np.diag(covariance)[:figures])]))
    return Fit(
        press=problem.press,
        readings=problem.readings,
        figures=found,
        residuals=rows,
        scatter=scatter,
        without=tuple(without),
        next_places=_next(problem, best, covariance, names),
        calibration=_calibration(problem, found, correlation),
    )


def _figures(problem: Problem, best: Floats, sigma: Floats) -> tuple[Fitted, ...]:
    names = ["land stiffness", "effective thickness", "force", "wall stiffness"][: best.size]
    usual = [problem.usual.land, problem.press.bolster.thickness, 1.0, _usual_walls(problem.press)]
    return tuple(
        Fitted(name, _interval(value, 0.0, Z95 * prior), _interval(value, at, Z95 * spread))
        for name, value, prior, at, spread in zip(names, usual, problem.prior, best, sigma, strict=False)
    )


def _usual_walls(press: Press) -> float:
    """Stiffness of spanning walls as the press file describes them, as a multiple of what their sizes give."""
    walls = press.uncalibrated.bed.land.walls
    return 1.0 if walls is None else walls.stiffness.nominal


def _interval(usual: float, at: float, half: float) -> Interval:
    return Interval(*(usual * float(np.exp(at + way * half)) for way in (-1, 0, 1)))


def _intervals(found: tuple[Fitted, ...]) -> dict[str, Any]:
    """The fitted intervals by the names of ``Calibration``."""
    by_name = {one.name: one.after for one in found}
    return {
        "land_stiffness": by_name["land stiffness"],
        "effective_thickness": by_name["effective thickness"],
        "wall_stiffness": by_name.get("wall stiffness"),
    }


def _calibration(problem: Problem, found: tuple[Fitted, ...], correlation: Floats) -> Calibration:
    named = _intervals(found)
    walls = named["wall_stiffness"]
    return Calibration(
        date=problem.readings.date,
        source=problem.readings.source,
        readings=problem.readings.count,
        **named,
        correlation=(
            float(correlation[0, 1]),
            0.0 if walls is None else float(correlation[0, 3]),
            0.0 if walls is None else float(correlation[1, 3]),
        ),
    )


def _residual_rows(problem: Problem, best: Floats, away: Floats, limit: float) -> tuple[Residual, ...]:
    stiffness = problem.stiffness(best)
    fitted = problem.predict(stiffness)
    fitted = fitted + _explained(problem, problem.measured - fitted)
    low, usual, high = _predicted(problem)
    places = [(d.dial, d.x, d.y, t.force) for t in problem.readings.tests for d in t.dials]
    if problem.readings.acceptance is not None:
        places.append(("acceptance figure", 0.0, 0.0, problem.readings.acceptance.force))
    return tuple(
        Residual(dial, x, y, force, float(measured), float(fit), Interval(a, b, c), float(off), bool(abs(off) > limit))
        for (dial, x, y, force), measured, fit, a, b, c, off in zip(
            places, problem.measured, fitted, low.tolist(), usual.tolist(), high.tolist(), away, strict=True
        )
    )


def _explained(problem: Problem, left: Floats) -> Floats:
    """What of a residual (n,) the unknown stand of the dials explains."""
    if not problem.free.size:
        return np.zeros_like(left)
    return np.asarray(problem.free @ np.linalg.lstsq(problem.free, left, rcond=None)[0])


def _predicted(problem: Problem) -> tuple[Floats, Floats, Floats]:
    """Lowest, usual and highest reading (n,) by the press file as it stands, uncertainty of reading included."""
    press = problem.press
    known = press.calibration
    land = bed_stiffness(press)
    thickness = Interval.exactly(1.0)
    spanning = press.bed.land.walls
    walls = Interval.exactly(1.0) if spanning is None else spanning.stiffness.scaled(1.0 / _usual_walls(press))
    if known is not None:
        thickness = known.effective_thickness.scaled(1.0 / press.bolster.thickness)
    draws = np.vstack([np.full(3, 0.5), qmc.LatinHypercube(d=3, rng=_SEED).random(_PREDICTIONS)])
    told = []
    for k, (u, v, w) in enumerate(draws):
        stiffness = Stiffness(_between(land, u), _between(thickness, v), _between(walls, w))
        held = press.bed.hold_downs_known or k % 2 == 0
        moved = problem.predict(stiffness, held)
        told.append(moved + _explained(problem, problem.measured - moved))
    slack = Z95 * problem.sigma
    values = np.array(told)
    return values.min(axis=0) - slack, values[0], values.max(axis=0) + slack


def _between(interval: Interval, share: float) -> float:
    """Half of the shares below the usual value, half above it, in logarithms."""
    low, usual, high = np.log([interval.low, interval.nominal, interval.high])
    at = low + 2 * share * (usual - low) if share < 0.5 else usual + (2 * share - 1) * (high - usual)
    return float(np.exp(at))


def _next(problem: Problem, best: Floats, covariance: Floats, names: tuple[str, ...]) -> tuple[NextPlace, ...]:
    """For each figure but the force: the place on the grid where one more dial narrows its interval most."""
    tests = problem.readings.tests
    spots = places(problem.press)
    patterns = np.array([t.force for t in tests] or [problem.readings.acceptance.force])  # type: ignore[union-attr]
    used = int(np.argmax(patterns))
    load = np.zeros(problem.table.forces)
    load[used] = patterns[used]
    columns = []
    for k in range(best.size):
        step = np.zeros(best.size)
        step[k] = STEP
        ahead, behind = (
            problem.table.movement(problem.stiffness(best + way * step), load)[-len(spots) :] for way in (1, -1)
        )
        columns.append((ahead - behind) / (2 * STEP))
    sigma = problem.readings.uncertainty / Z95
    rows = np.zeros((len(spots), covariance.shape[0]))
    rows[:, : best.size] = np.column_stack(columns) / sigma
    if problem.free.size and tests:
        first = best.size + 3 * used
        rows[:, first : first + 3] = np.column_stack([np.ones(len(spots)), spots / 1e3]) / sigma
    seen = rows @ covariance
    variance = 1.0 + np.einsum("ij,ij->i", seen, rows)
    found = []
    for k, name in enumerate(names):
        if name == "force":
            continue
        share = np.sqrt(np.maximum(1.0 - seen[:, k] ** 2 / (variance * covariance[k, k]), 0.0))
        at = int(np.argmin(share))
        found.append(NextPlace(name, float(spots[at, 0]), float(spots[at, 1]), float(share[at])))
    return tuple(found)


def without_dials(readings: Readings, dials: frozenset[str]) -> Readings:
    """The readings without some dials, by their names. Raises MechanicsFailed where one is not there."""
    strange = dials - {dial.dial for test in readings.tests for dial in test.dials}
    if strange:
        raise MechanicsFailed(f"no dial is called {', '.join(sorted(strange))}: the names stand in the readings")
    tests = tuple(replace(t, dials=tuple(d for d in t.dials if d.dial not in dials)) for t in readings.tests)
    return replace(readings, tests=tuple(t for t in tests if t.dials))

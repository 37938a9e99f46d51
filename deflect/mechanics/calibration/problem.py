"""A fit as numbers: what the readings would be, how far they are off, and by which figure."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.stats import norm

from deflect.mechanics.acceptance import bed_stiffness
from deflect.mechanics.arrays import Floats
from deflect.mechanics.bare_table import BareTable, Stiffness, bare_table
from deflect.model.force import Patch
from deflect.model.press import Press
from deflect.model.readings import MeasuredAcceptance, Readings
from deflect.model.values import Rectangle

# Half the width of a 95 % interval in standard deviations (normal distribution).
Z95 = float(norm.ppf(0.975))
# Least spread of the land's prior, and those of thickness and walls, as 95 % factors: an exact figure in a press
# file is seldom one; T-slots, holes and a weldment's welds take off stiffness (ours).
LEAST_LAND_FACTOR, THICKNESS_FACTOR, WALL_FACTOR = 1.5, 1.10, 2.0
# The stiffest and softest land that a fit may reach, as multiples of the usual value of its prior.
_REACH = 30.0
# Step of the derivatives, in logarithms: well above what one land patch more or less in contact changes.
STEP = 0.02
# Points along each half of a line on which an acceptance figure is read.
_LINE = 21


@dataclass(frozen=True, eq=False)
class Problem:
    """The fit as numbers.  sigma (n,): standard deviation of each reading; prior (p,): of each figure's logarithm;
    usual: values at zero; free (n, f): columns of what is not known of the dials' stand, with no prior;
    hold_downs: whether those of the bolster act."""

    press: Press
    readings: Readings
    table: BareTable
    usual: Stiffness
    prior: Floats
    measured: Floats
    sigma: Floats
    free: Floats
    has_walls: bool
    hold_downs: bool = True

    @staticmethod
    def of(press: Press, readings: Readings) -> Problem:
        described = press.uncalibrated
        land = bed_stiffness(described)
        half = max(np.log(land.high / land.low) / 2, np.log(LEAST_LAND_FACTOR))
        walls = described.bed.land.walls
        spread = [half, np.log(THICKNESS_FACTOR), np.log1p(readings.force_uncertainty)]
        if walls is not None:
            spread.append(max(np.log(walls.stiffness.high / walls.stiffness.low) / 2, np.log(WALL_FACTOR)))
        measured = [dial.movement for test in readings.tests for dial in test.dials]
        sigma = [readings.uncertainty / Z95] * len(measured)
        if readings.acceptance is not None:
            figure = readings.acceptance
            measured.append(figure.slope)
            sigma.append(figure.slope * figure.uncertainty / Z95)
        return Problem(
            press,
            readings,
            _table(press, readings),
            Stiffness(land.nominal),
            np.array(spread) / Z95,
            np.array(measured),
            np.array(sigma),
            _stand(readings),
            walls is not None,
        )

    @property
    def names_count(self) -> int:
        return self.prior.size

    @property
    def highest(self) -> Floats:
        reach = np.log([_REACH, 1.14, 1.5, _REACH])
        return np.asarray(reach[: self.prior.size])

    @property
    def lowest(self) -> Floats:
        return -self.highest

    def stiffness(self, figures: Floats) -> Stiffness:
        values = np.exp(figures)
        return Stiffness(
            self.usual.land * values[0],
            float(values[1]),
            float(values[3]) if self.has_walls else 1.0,
            float(values[2]),
        )

    def predict(self, stiffness: Stiffness, hold_downs: bool | None = None) -> Floats:
        """What each reading would be (n,), mm, and the acceptance figure, mm/mm."""
        hold_downs = self.hold_downs if hold_downs is None else hold_downs
        tests, acceptance = self.readings.tests, self.readings.acceptance
        told, first = [], 0
        for k, test in enumerate(tests):
            load = np.zeros(self.table.forces)
            load[k] = test.force
            moved = self.table.movement(stiffness, load, hold_downs)
            told.append(moved[first : first + len(test.dials)])
            first += len(test.dials)
        if acceptance is not None:
            load = np.zeros(self.table.forces)
            load[-1] = acceptance.force
            line = self.table.movement(stiffness, load, hold_downs)[first : first + 2 * _LINE]
            told.append(np.array([_slope(line, acceptance)]))
        return np.concatenate(told)

    def residuals(self, figures: Floats) -> Floats:
        off = self._stood((self.predict(self.stiffness(figures)) - self.measured) / self.sigma)
        return np.concatenate([off, figures / self.prior])

    def jacobian(self, figures: Floats) -> Floats:
        return np.vstack([self._stood(self.slopes(figures)), np.diag(1.0 / self.prior)])

    def slopes(self, figures: Floats) -> Floats:
        """Derivative (n, p) of the readings, in standard deviations, by each figure's logarithm."""
        columns = []
        for k in range(figures.size):
            step = np.zeros(figures.size)
            step[k] = STEP
            ahead, behind = (self.predict(self.stiffness(figures + way * step)) for way in (1, -1))
            columns.append((ahead - behind) / (2 * STEP))
        return np.column_stack(columns) / self.sigma[:, None]

    def _stood(self, values: Floats) -> Floats:
        """Values (n, …) less what the unknown stand of the dials explains."""
        if not self.free.size:
            return values
        free = self.free / self.sigma[:, None]
        return np.asarray(values - free @ np.linalg.lstsq(free, values, rcond=None)[0])


def _table(press: Press, readings: Readings) -> BareTable:
    patterns = [test.patterns for test in readings.tests]
    points = [np.array([(d.x, d.y) for d in test.dials], dtype=float).reshape(-1, 2) for test in readings.tests]
    if readings.acceptance is not None:
        figure, plan = readings.acceptance, press.bolster.plan
        area = Rectangle(0.0, 0.0, figure.loaded_share * plan.length, figure.loaded_share * plan.width)
        patterns.append((Patch(1.0, area),))
        middle = (press.bed.opening.x, press.bed.opening.y)
        for axis, (extent, size) in enumerate(
            ((figure.reference_length, plan.length), (figure.reference_width, plan.width))
        ):
            line = np.tile(middle, (_LINE, 1)).astype(float)
            reach = min(extent / 2, size / 2 - abs(middle[axis]))
            line[:, axis] += np.linspace(-reach, reach, _LINE)
            points.append(line)
    # Last come the places where a dial might stand next.
    points.append(places(press))
    return bare_table(press, patterns, np.vstack(points))


def _slope(line: Floats, figure: MeasuredAcceptance) -> float:
    sag = []
    for moved, extent in ((line[:_LINE], figure.reference_length), (line[_LINE:], figure.reference_width)):
        chord = np.linspace(moved[0], moved[-1], _LINE)
        sag.append(float(np.max(moved - chord)) / extent)
    return max(sag)


def _stand(readings: Readings) -> Floats:
    """Sinking and tilt of the dials' stand under each force, as columns over all readings (n, 3 tests)."""
    if readings.from_floor:
        return np.zeros((readings.count, 0))
    free, row = np.zeros((readings.count, 3 * len(readings.tests))), 0
    for k, test in enumerate(readings.tests):
        for dial in test.dials:
            free[row, 3 * k : 3 * k + 3] = 1.0, dial.x / 1e3, dial.y / 1e3
            row += 1
    return free


def places(press: Press) -> Floats:
    """Places (m, 2) on a grid over the bolster where a dial could stand."""
    plan = press.bolster.plan
    x = np.linspace(-0.45, 0.45, 9) * plan.length
    y = np.linspace(-0.45, 0.45, 5) * plan.width
    grid = np.array([(a, b) for a in x for b in y])
    for cut in press.bolster.openings:
        inside = (np.abs(grid[:, 0] - cut.x) < cut.length / 2) & (np.abs(grid[:, 1] - cut.y) < cut.width / 2)
        grid = grid[~inside]
    return np.asarray(grid)

"""Which of the inputs that are never known exactly moves the verdict of one pair.

Sobol indices: I. M. Sobol, Math. Comput. Simul. 55 (2001) 271; estimated as by A. Saltelli et al., Comput. Phys.
Commun. 181 (2010) 259 (both from memory), by scipy.stats.sobol_indices.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.stats import sobol_indices, uniform

from deflect.mechanics.analysis import headlines_at
from deflect.mechanics.arrays import Floats
from deflect.mechanics.draws import UNCERTAIN, USUAL, sample_at
from deflect.mechanics.ground import table_of
from deflect.mechanics.solution import FEELER, LEAST_CONTACT
from deflect.model.case import Case
from deflect.rules.creep import LEAST_STROKES

# Points of the estimate; a power of two, times two more than there are inputs is what is solved.
USUAL_POINTS = 32
# A headline that varies by less than this share of itself is not moved by anything.
_STILL = 1e-9
# A die that slides away has next to no strokes; one that never meets anything has no end of them.
_FEW, _MANY = 1.0, 1e7
_SEED = 22
VERDICT = "verdict"

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Moved:
    """One number and what moves it.  first, total: Sobol indices by input, the share of the variance that the input
    makes alone, and with all others; low, high: over the points."""

    number: str
    first: tuple[float, ...]
    total: tuple[float, ...]
    low: float
    high: float


@dataclass(frozen=True)
class Sensitivity:
    """inputs: that have a range; moved: the verdict's number first, then each headline that moves; holds: share of the
    points at which every number keeps its limit; points: that were solved.

    The verdict's number is the worst of all numbers as a share of its limit: above 1 something breaks.
    """

    inputs: tuple[str, ...]
    moved: tuple[Moved, ...]
    holds: float
    points: int


def sensitivity(case: Case, points: int = USUAL_POINTS, progress: Progress = lambda done, total: None) -> Sensitivity:
    """Solve a case at ``points`` (a power of two) times two more than it has inputs with a range, and share out the
    variance.  Raises MechanicsFailed."""
    inputs = ranged_inputs(case)
    read = headlines_at(case)
    total = points * (len(inputs) + 2)
    numbers: list[str] = []
    seen: list[Floats] = []

    def solved(at: Floats) -> Floats:
        columns = []
        for column in at.T:
            unit = USUAL.copy()
            unit[[UNCERTAIN.index(name) for name in inputs]] = column
            found = shares_of_limits(case, read(unit))
            numbers[:] = list(found)
            columns.append(list(found.values()))
            progress(sum(one.shape[1] for one in seen) + len(columns), total)
        values = np.array(columns).T
        seen.append(values.copy())  # what is handed over is changed in place
        return values

    if not inputs:
        return Sensitivity((), (), float(max(shares_of_limits(case, read(USUAL)).values()) <= 1.0), 1)
    found = sobol_indices(func=solved, n=points, dists=[uniform()] * len(inputs), rng=np.random.default_rng(_SEED))
    values = np.hstack(seen)
    moved = [
        Moved(
            number,
            tuple(float(v) for v in found.first_order[k]),
            tuple(float(v) for v in found.total_order[k]),
            float(values[k].min()),
            float(values[k].max()),
        )
        for k, number in enumerate(numbers)
        if np.ptp(values[k]) > _STILL * max(abs(float(values[k].max())), _STILL)
    ]
    holds = float((values[numbers.index(VERDICT)] <= 1.0).mean())
    return Sensitivity(inputs, tuple(moved), holds, values.shape[1])


def ranged_inputs(case: Case) -> tuple[str, ...]:
    """The inputs of ``UNCERTAIN`` that change anything from one end of their range to the other."""
    stiffness = table_of(case.press.bare)[0]
    bedded = None if case.die.bedded is None else table_of(case.die.bedded.press.bare)[0]
    inputs = []
    for k, name in enumerate(UNCERTAIN):
        ends = []
        for end in (0.0, 1.0):
            unit = USUAL.copy()
            unit[k] = end
            ends.append(sample_at(case, stiffness, bedded, unit))
        if ends[0] != ends[1]:
            inputs.append(name)
    return tuple(inputs)


def shares_of_limits(case: Case, headlines: dict[str, float]) -> dict[str, float]:
    """Every number that has a limit as a share of it, above 1 where it breaks; the worst of all first."""
    limits = case.die.limits
    shares = {
        "gap": headlines["gap"] / FEELER,
        "contact": (1.0 - headlines["contact_share"]) / (1.0 - LEAST_CONTACT),
        "face error": headlines["face"] / (limits.bedding if case.die.bedded is None else limits.spotting),
    }
    if case.press.acceptance is not None:
        shares["table sag"] = headlines["sag_slope"] / case.press.acceptance.slope
    if not case.die.placing.held:
        shares["creep"] = LEAST_STROKES / float(np.clip(headlines["strokes"], _FEW, _MANY))
    # Shares span decades where a die slides away: a logarithm keeps one point from being all of the variance.
    if "creep" in shares:
        shares["creep"] = 1.0 + float(np.log10(shares["creep"]))
    return {VERDICT: max(shares.values()), **shares}

"""One die on two presses: how differently table and face move, at the usual values and over the ranges."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.stats import qmc, rankdata

from deflect.mechanics.acceptance import Sag, measure_sag
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.difference import Difference, Shape, face_difference, shape_of, table_difference
from deflect.mechanics.draws import UNCERTAIN, USUAL, sample_at
from deflect.mechanics.footprint import Mesh
from deflect.mechanics.ground import table_of
from deflect.mechanics.solution import SEATED
from deflect.mechanics.standing import Assumptions, Standing, State, stand
from deflect.mechanics.variation import varied
from deflect.model.case import Case
from deflect.model.values import Interval

# What each press has of its own, and what is the same for both: it is the die's, or the model's.
OWN = ("land stiffness", "hold-down of the bolster")
SHARED = ("local give at the land", "local give of the contact")
# Draws of a comparison: four corners (one press soft and the other stiff, and the reverse; both soft, both stiff), and
# a Latin hypercube between them.
USUAL_DRAWS = 20
_CORNERS = ((0.0, 1.0, 1.0, 0.0, 1.0, 1.0), (1.0, 0.0, 0.0, 1.0, 1.0, 1.0), (0.0, 1.0, 0.0, 1.0, 1.0, 1.0),
            (1.0, 0.0, 1.0, 0.0, 0.0, 0.0))  # fmt: skip
_SEED = 21


@dataclass(frozen=True, eq=False)
class Setting:
    """A case with its bodies ready to be solved for any draw; stiffness: of its press's land, N/mm3."""

    case: Case
    standing: Standing
    stiffness: Interval

    @staticmethod
    def of(case: Case, mesh: Mesh | None = None) -> Setting:
        """Condense the bodies of a case; what locates the die presses nothing on its base."""
        return Setting(case, stand(case, mesh), table_of(case.press.bare)[0])

    def assumptions(self, unit: Floats = USUAL) -> Assumptions:
        """At a point of the unit cube of ``UNCERTAIN``."""
        return sample_at(self.case, self.stiffness, None, unit).assumptions

    def state(self, unit: Floats = USUAL, start: Flags | None = None) -> State:
        """Under the whole force, the bed's walls and a calibrated bolster as drawn."""
        sample = sample_at(self.case, self.stiffness, None, unit)
        return varied(self.standing, sample.variation).solve(1.0, sample.assumptions, start)

    def shape(self, unit: Floats = USUAL, start: Flags | None = None) -> Shape:
        """Table and face under the whole force."""
        state = self.state(unit, start)
        return shape_of(state.standing, state)


@dataclass(frozen=True)
class Told:
    """Headline numbers of one solved state: greatest gap at the patches, mm; share of the bearing area with a gap
    below a feeler gauge; greatest pressure of a patch, MPa; sag of the table, mm and mm/mm."""

    gap: float
    contact_share: float
    pressure: float
    sag: Sag


def told_of(state: State, rest: State) -> Told:
    """Read off a state under force, and the one at rest."""
    standing = state.standing
    area = standing.contact_area
    return Told(
        float(state.gap.max(initial=0.0)),
        float(area[state.gap < SEATED].sum() / area.sum()),
        float((state.contact_force / area).max(initial=0.0)),
        measure_sag(standing.table, state.table_motion - rest.table_motion, standing.case.press),
    )


@dataclass(frozen=True, eq=False)
class Likeness:
    """The second press less the first.  face, table: at the usual values; face_spread, table_spread: greatest less
    least difference over the draws, mm; alike: share of the draws within ``tolerance`` mm; drivers: the inputs that
    move the face's difference most, the strongest first; faces: the face's spread in each draw, mm."""

    face: Difference
    table: Difference
    face_spread: Interval
    table_spread: Interval
    tolerance: float
    alike: float
    drivers: tuple[str, ...]
    faces: tuple[float, ...]


def likeness(first: Setting, second: Setting, tolerance: float, draws: int = USUAL_DRAWS) -> Likeness:
    """Compare one die on two presses.  Of one and the same press every draw is the same draw."""
    usual = first.state(), second.state()
    shapes = shape_of(first.standing, usual[0]), shape_of(second.standing, usual[1])
    face, table = face_difference(*shapes), table_difference(*shapes)
    same = first.case.press == second.case.press
    units, one, two = paired_draws(draws, same)
    faces, tables = [], []
    for a, b in zip(one, two, strict=True):
        drawn = first.shape(a, usual[0].closed), second.shape(b, usual[1].closed)
        faces.append(face_difference(*drawn).spread)
        tables.append(table_difference(*drawn).spread)
    names = tuple(f"{what}, {press}" for press in ("production press", "stand-in") for what in OWN) + SHARED
    within = [spread <= tolerance for spread in (face.spread, *faces)]
    return Likeness(
        face,
        table,
        _interval(face.spread, faces),
        _interval(table.spread, tables),
        tolerance,
        sum(within) / len(within),
        strongest(names, units, np.array(faces)),
        tuple(faces),
    )


def paired_draws(draws: int, same: bool) -> tuple[Floats, Floats, Floats]:
    """Points (draws, 6) of what is not known of both presses, and the points (draws, d) of ``UNCERTAIN`` of each."""
    inside = qmc.LatinHypercube(d=len(_CORNERS[0]), rng=_SEED).random(max(draws - len(_CORNERS), 0))
    units = np.vstack([_CORNERS, inside])[:draws]
    if same:
        units[:, len(OWN) : 2 * len(OWN)] = units[:, : len(OWN)]
    shared = units[:, 2 * len(OWN) :]
    sides = []
    for k in range(2):
        own = units[:, k * len(OWN) : (k + 1) * len(OWN)]
        side = np.tile(USUAL, (len(units), 1))
        side[:, [UNCERTAIN.index(name) for name in (*OWN, *SHARED)]] = np.hstack([own, shared])
        # Walls that span are soft where the land is: both ends of the bed together.
        side[:, UNCERTAIN.index("walls of the bed")] = own[:, 0]
        sides.append(side)
    return units, sides[0], sides[1]


def strongest(names: tuple[str, ...], units: Floats, values: Floats, most: int = 2) -> tuple[str, ...]:
    """The inputs with the greatest rank correlation with the values; none where nothing moves."""
    if len(values) < 3 or np.ptp(values) == 0:
        return ()
    ranks = rankdata(values)
    size = [abs(np.corrcoef(rankdata(column), ranks)[0, 1]) if np.ptp(column) > 0 else 0.0 for column in units.T]
    return tuple(names[k] for k in np.argsort(size)[::-1][:most] if size[k] > 0)


def _interval(usual: float, others: list[float]) -> Interval:
    return Interval(min(usual, *others, usual), usual, max(usual, *others, usual))

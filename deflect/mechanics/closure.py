"""What the closed die says: where its faces bear, what is to be milled into them, how edges shift sideways."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from deflect.faults import MechanicsFailed
from deflect.mechanics.analysis import Analysis
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.closing import (
    FaceGrid,
    Half,
    close,
    closing_patterns,
    face_grid,
    lower_half,
    reading_grid,
    sheet_give,
    upper_half,
)
from deflect.mechanics.contract import BaseBody
from deflect.mechanics.ground import bedded_case, standing_of, table_of
from deflect.mechanics.hanging import Hanging, described_above, hang
from deflect.mechanics.layout import base_layout
from deflect.mechanics.solution import face_area
from deflect.mechanics.standing import Assumptions, Standing
from deflect.mechanics.support import CONTACT_GIVE
from deflect.model.case import Case
from deflect.model.die import Bedded
from deflect.model.force import Line
from deflect.model.values import Interval

# Thickness of the film of blue that spotting leaves a mark of, mm: 5 to 20 µm (common practice, no source).
FILM = 0.01
# A patch that carries more than this times its even share bears hard: the film is rubbed bright there (ours).
HARD = 1.5
# Points along an edge, mm apart.
_EDGE_STEP = 50.0


@dataclass(frozen=True, eq=False)
class Edges:
    """Sideways shift of the upper cutting edges against the lower ones: at points (m, 2) in die axes, shift (m, 2),
    mm.  tilt: part of the greatest one that comes of tilting stacks, mm; free: what clearance of the guides adds."""

    points: Floats
    shift: Floats
    tilt: float
    free: float

    @property
    def greatest(self) -> float:
        """mm."""
        return float(np.hypot(*self.shift.T).max(initial=0.0))

    @property
    def greatest_at(self) -> tuple[float, float]:
        x, y = self.points[int(np.hypot(*self.shift.T).argmax())]
        return float(x), float(y)


@dataclass(frozen=True, eq=False)
class Closure:
    """Both halves under the whole force.  Lengths in mm, forces in N, pressures in MPa.

    closes: whether the faces close solid anywhere; else faces (f patches, die axes) are only read.
    even (f,): pressure if all pressed alike; pressure, gap (f,): as they close.
    lower_error, upper_error (f,): by what each face lies back from its best rigid fit under even force; camber is
    the same, to be left standing there.  made (f,): what lower and upper face together were given at bedding-in.
    points_force (p,): of the slide's hanging points; tilt (2,): of the slide against its guides, rad, in the mirror.
    lower_gap, upper_gap: greatest between lower die and bolster, upper die and slide; where nothing closes of each
    half alone.  upper_base, upper_motion: the upper die as it is bent.
    travel: of the drive from when the faces meet, mm; NaN where nothing closes.
    """

    case: Case
    faces: FaceGrid
    closes: bool
    even: Floats
    pressure: Floats
    gap: Floats
    lower_error: Floats
    upper_error: Floats
    made: Floats
    points_force: Floats
    tilt: Floats
    lower_gap: float
    upper_gap: float
    edges: Edges | None
    upper_base: BaseBody
    upper_motion: Floats
    travel: float
    exchanges: int
    complementarity: float
    balance: float

    def upper_stands_down(self, points: Floats) -> Floats:
        """By how much the upper face stands down under the whole force at points (m, 2) in die axes (m,), mm."""
        return np.asarray(self.upper_base.top(points).surface @ self.upper_motion)

    @property
    def upper_stress(self) -> float:
        """Greatest bending stress of the upper base, MPa."""
        return self.upper_base.stress(self.upper_motion, self.upper_base.patches.centre)

    @property
    def greatest_gap(self) -> float:
        """Greatest gap left between the faces and the sheet, mm."""
        return float(self.gap.max(initial=0.0))

    @property
    def greatest_gap_at(self) -> tuple[float, float]:
        x, y = self.faces.patches.centre[int(self.gap.argmax())]
        return float(x), float(y)

    @property
    def camber(self) -> Floats:
        """What both faces together still lack for closing evenly (f,), mm."""
        return self.lower_error + self.upper_error - self.made

    @property
    def camber_range(self) -> float:
        """Greatest less least of it, mm."""
        return float(np.ptp(self.camber))

    @property
    def spread(self) -> tuple[float, float]:
        """Least and greatest pressure as shares of the even one, %."""
        share = 100 * self.pressure / self.even
        return float(share.min()), float(share.max())

    @property
    def hard(self) -> Flags:
        """Where a fitter sees the blue rubbed bright (f,)."""
        return np.asarray(self.pressure > HARD * self.even)

    @property
    def marked(self) -> Flags:
        """Where blue is carried over at all (f,)."""
        return np.asarray(self.gap < FILM)

    @property
    def marked_share(self) -> float:
        """Share of the closing area that is marked."""
        return self._share(self.marked)

    @property
    def hard_share(self) -> float:
        return self._share(self.hard)

    def _share(self, where: Flags) -> float:
        area = self.faces.patches.area
        return float(area[where].sum() / area.sum())


@dataclass(frozen=True)
class Ranges:
    """Over the ranges of land and hanging points, mm: camber that the faces lack, greatest gap left between them, and
    greatest shift of the edges."""

    camber: Interval
    gap: Interval
    shift: Interval


@dataclass(frozen=True)
class Stiff:
    """What one closing takes: land (N/mm3), hanging points (N/mm each), local give of the contact."""

    land: float
    points: float
    contact_give: float = CONTACT_GIVE[1]


def usual(case: Case) -> Stiff:
    """The usual values of a press whose slide is described."""
    return ends(case)[1]


def ends(case: Case) -> tuple[Stiff, Stiff, Stiff]:
    """Soft, usual and stiff."""
    slide = case.press.slide
    assert slide is not None
    assert slide.body is not None
    land, points = table_of(case.press.bare)[0], slide.body.stiffness
    soft, middle, stiff = CONTACT_GIVE[2], CONTACT_GIVE[1], CONTACT_GIVE[0]
    return (
        Stiff(land.low, points.low, soft),
        Stiff(land.nominal, points.nominal, middle),
        Stiff(land.high, points.high, stiff),
    )


def closure_of(case: Case) -> Closure | None:
    """Close the die of ``case`` at the usual values; None: slide or upper die is not described, or what is described
    does not hold the halves."""
    try:
        return closed_at(case, usual(case)) if described_above(case) else None
    except MechanicsFailed:
        return None


def ranges_of(analysis: Analysis) -> Ranges | None:
    """The same over the ranges of what carries both halves, where the analysis was solved over its ranges; None: slide
    or upper die is not described."""
    closure = closure_of(analysis.case)
    if closure is None:
        return None
    found = [closure]
    if analysis.spread.samples > 0:
        soft, _, stiff = ends(analysis.case)
        found += [closed_at(analysis.case, soft), closed_at(analysis.case, stiff)]
    shift = _interval([_shift(c) for c in found])
    free = 0.0 if closure.edges is None else closure.edges.free
    return Ranges(
        _interval([c.camber_range for c in found]),
        _interval([c.greatest_gap for c in found]),
        Interval(shift.low, shift.nominal, shift.high + free),
    )


def _shift(closure: Closure) -> float:
    return 0.0 if closure.edges is None else closure.edges.greatest


def _interval(values: list[float]) -> Interval:
    return Interval(min(values), values[0], max(values))


@lru_cache(maxsize=8)
def closed_at(case: Case, stiff: Stiff) -> Closure:
    """The same where it is carried as stiffly as said.  Raises MechanicsFailed where it does not hold."""
    before = _bedded(case)
    if before is None:
        return _solve(case, stiff, None)
    # The same table and slide where it is the same press.
    made = _camber_of(before, stiff if before.press == case.press else usual(before))
    return _solve(case, stiff, made)


@lru_cache(maxsize=8)
def _camber_of(case: Case, stiff: Stiff) -> Floats:
    """What the faces of a die were given where it was bedded in."""
    found = _solve(case, stiff, None)
    return found.lower_error + found.upper_error


def closure_when_bedded(case: Case) -> Closure | None:
    """The same pair where it was bedded in, its faces fitted; None: it was not, or that slide is not described."""
    before = _bedded(case)
    if before is None:
        return None
    fitted = replace(before.die, bedded=Bedded(before.press, before.die.working_force))
    return closure_of(replace(before, die=fitted))


def bedded_unknown(case: Case) -> bool:
    """Whether the die is bedded in on a press whose slide is not described."""
    return case.die.bedded is not None and _bedded(case) is None


def _bedded(case: Case) -> Case | None:
    """The die closing on the press and at the force at which it was bedded in; None: it was not, or the slide of that
    press is not described."""
    there = bedded_case(case)
    return there if there is not None and described_above(there) else None


def _solve(case: Case, stiff: Stiff, made: Floats | None) -> Closure:
    return close_pair(case, standing_of(case), hang(case), stiff, made)


def close_pair(case: Case, standing: Standing, hanging: Hanging, stiff: Stiff, made: Floats | None = None) -> Closure:
    """Close the halves of ``case``; made (f,): what their faces were given already, mm."""
    closes = bool(closing_patterns(case.die)[0])
    faces = face_grid(case.die, case.base_force) if closes else reading_grid(face_area(case))
    lower = lower_half(standing, Assumptions(stiff.land, contact_give=stiff.contact_give), case, faces)
    upper = upper_half(hanging, hanging.assumptions(stiff.points, stiff.contact_give), case, faces)
    alone = [half.pressed(faces.even) for half in (lower, upper)]
    errors = [_fitted(faces, opening) for _, opening in alone]
    made = np.zeros(faces.count) if made is None else made
    area = faces.patches.area
    if not closes:
        solved = zip((lower, upper), alone, strict=True)
        motions = [half.base_motion(s.force, faces.even, s.rigid) for half, (s, _) in solved]
        gap, pressure, upper_force = np.zeros(faces.count), np.zeros(faces.count), alone[1][0].force
        evidence = [solved for solved, _ in alone]
        below, above = (
            float(s.gap[:contacts].max())
            for (s, _), contacts in zip(alone, (standing.contacts, hanging.standing.contacts), strict=True)
        )
        travel = np.nan
    else:
        start = (alone[0][0].closed, alone[1][0].closed)
        give = sheet_give(case.die.sheet)
        closed = close(lower, upper, faces, hanging, case.die.working_force, -made, give, start)
        motions = [closed.lower_motion, closed.upper_motion]
        gap, pressure, upper_force = closed.face_gap, closed.face_force / area, closed.upper_force
        evidence = [closed.solved]
        travel = float(closed.solved.rigid[-1])
        below = float(closed.solved.gap[: standing.contacts].max())
        above = float(closed.solved.gap[lower.count : lower.count + hanging.standing.contacts].max())
    first = hanging.standing.contacts
    tilt = upper.tilt(upper_force)
    return Closure(
        case=case,
        faces=faces,
        closes=closes,
        even=faces.even / area,
        pressure=pressure,
        gap=gap,
        lower_error=errors[0],
        upper_error=errors[1],
        made=made,
        points_force=upper_force[first : first + hanging.points],
        tilt=tilt,
        lower_gap=below,
        upper_gap=above,
        upper_base=hanging.standing.base,
        upper_motion=motions[1],
        travel=travel,
        edges=edges_of(case, (lower, upper), motions),
        exchanges=sum(s.exchanges for s in evidence),
        complementarity=max(s.complementarity for s in evidence),
        balance=max(s.balance for s in evidence),
    )


def _fitted(faces: FaceGrid, opening: Floats) -> Floats:
    """An opening (f,) less its best rigid fit over the area that closes."""
    plane = np.column_stack([np.ones(faces.count), faces.patches.centre])
    weight = np.sqrt(faces.patches.area)[:, None]
    fit = np.linalg.lstsq(weight * plane, weight[:, 0] * opening, rcond=None)[0]
    return np.asarray(opening - plane @ fit)


def edges_of(case: Case, halves: tuple[Half, Half], motions: list[Floats]) -> Edges | None:
    """The shift of upper edges against lower ones: each leans by its rotation times its height.

    Bending turns an edge about the neutral plane of its base, tilting about that of the bolster, or about the middle
    of the slide's guides.
    """
    lines = [pattern for pattern in case.die.patterns if isinstance(pattern, Line)]
    if not case.die.operation.cuts or not lines:
        return None
    points = np.concatenate([_along(line) for line in lines])
    die, slide = case.die, case.press.slide
    assert slide is not None
    assert slide.body is not None
    assert die.upper.base is not None
    guides = slide.body.guides
    pivots = (
        halves[0].standing.table.bolster.thickness / 2,
        slide.body.thickness if guides is None else guides.above,
    )
    bent, tilted = list[Floats](), list[Floats]()
    for half, motion, height, base, pivot in zip(
        halves, motions, (die.lower.height, die.upper.height), (die.base, die.upper.base), pivots, strict=True
    ):
        read = half.standing.base.top(points)
        rotation = np.column_stack([read.rotation_x @ motion, read.rotation_y @ motion])
        below = base_layout(base).sections[0].to_underside
        whole = _tilt_of(half, motion)
        bent.append(-(height - below) * (rotation - whole))
        tilted.append(np.tile(-(height + pivot) * whole, (len(points), 1)))
    shift = (bent[1] + tilted[1]) - (bent[0] + tilted[0])
    worst = int(np.hypot(*shift.T).argmax())
    free = 0.0 if guides is None else guides.free_tilt * (die.upper.height + guides.above)
    return Edges(points, shift, float(np.hypot(*(tilted[1] - tilted[0])[worst])), free)


def _tilt_of(half: Half, motion: Floats) -> Floats:
    """The tilt of a base's whole top by its best rigid fit (2,)."""
    base = half.standing.base
    centre = base.patches.centre
    plane = np.column_stack([np.ones(len(centre)), centre])
    return np.asarray(np.linalg.lstsq(plane, base.top(centre).surface @ motion, rcond=None)[0][1:])


def _along(line: Line) -> Floats:
    """Points every few centimetres along a line (m, 2)."""
    pieces = []
    for start, end in zip(line.points[:-1], line.points[1:], strict=True):
        a, b = np.asarray(start), np.asarray(end)
        steps = max(2, int(np.hypot(*(b - a)) / _EDGE_STEP) + 1)
        pieces.append(a + np.linspace(0, 1, steps)[:, None] * (b - a))
    return np.concatenate(pieces)

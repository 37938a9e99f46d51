"""What to measure on the shop floor, and what is predicted there: read off an analysis once for every output."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import lru_cache, partial
from typing import Any

import numpy as np

from deflect.findings import Analysis
from deflect.mechanics.analysis import at_corners
from deflect.mechanics.dials import down_at, gap_at, rim_gap
from deflect.mechanics.footprint import to_table
from deflect.mechanics.holders import holders_of
from deflect.mechanics.solution import Solution
from deflect.model.values import Interval, Rectangle
from deflect.report import strokes, wording
from deflect.report.balances import interval
from deflect.report.headlines import heading, held_by, scaled

Plain = dict[str, Any]
MOST = 6
"""Readings that a fitter is asked for at most."""
COUNTED = 100
"""Strokes over which a shift is read."""
# How far from the edges of the bolster a stylus stands, mm.
_INSET = 30.0
# The thinnest blade of a feeler gauge that is used, mm.
_BLADE = 0.02


@dataclass(frozen=True)
class Expected:
    """One reading: lasting id, tool, place in words and in bolster axes (mm), how it is taken, and what is predicted.

    x, y: None where it is not taken at a point; unit: of the prediction.
    """

    id: str
    tool: str
    place: str
    x: float | None
    y: float | None
    how: str
    predicted: Interval
    unit: str


@lru_cache(maxsize=4)
def readings(analysis: Analysis) -> tuple[Expected, ...]:
    """The readings that this case allows, at most six; ranges over both corners of the inputs."""
    solved = (analysis.solution, *at_corners(analysis.case))
    return (
        *_table(analysis, solved),
        *_feeler(analysis, solved),
        _witness(analysis, solved),
        *_shift(analysis),
    )[:MOST]


def as_rows(told: tuple[Expected, ...]) -> list[Plain]:
    """The readings as plain data."""
    return [
        {
            "id": one.id,
            "tool": one.tool,
            "place": one.place,
            "table_x_mm": one.x,
            "table_y_mm": one.y,
            "how": one.how,
            "unit": one.unit,
            "predicted": interval(one.predicted),
        }
        for one in told
    ]


def _range(solved: tuple[Solution, ...], read: Callable[[Solution], float]) -> Interval:
    """A reading at the usual values, and over the corners of the ranges."""
    values = [read(one) for one in solved]
    return Interval(min(values), values[0], max(values))


def _table(analysis: Analysis, solved: tuple[Solution, ...]) -> Iterator[Expected]:
    """How the table moves at its middle, at one end and at one edge."""
    press = analysis.case.press
    bolster, x, y = press.bolster, press.bed.opening.x, press.bed.opening.y
    for name, tool, place, at, how in (
        (
            "middle",
            "dial of 0.001 mm with a trailing pointer, or read from afar",
            "below the middle of the bolster",
            (x, y),
            "From inside the bed, drive locked out while it is set: foot on the bed's floor, stylus up against the "
            "bolster's underside; beside the cushion where there is one.",
        ),
        (
            "left-end",
            "dial of 0.001 mm on a stand",
            "left end of the bolster, on its top",
            (_INSET - bolster.length / 2, y),
            "Foot on the press's foundation, clear of the bolster.",
        ),
        (
            "front-edge",
            "dial of 0.001 mm on a stand",
            "front edge of the bolster, on its top",
            (x, _INSET - bolster.width / 2),
            "Foot on the press's foundation, clear of the bolster.",
        ),
    ):
        if any(_lies_in(at, hole) for hole in bolster.openings):
            continue
        yield Expected(
            id=f"table-{name}",
            tool=tool,
            place=place,
            x=at[0],
            y=at[1],
            how=f"{how} Zero with the slide up, read at full force; down counts as plus.",
            predicted=_range(solved, partial(down_at, place=at)),
            unit="mm",
        )


def _lies_in(place: tuple[float, float], hole: Rectangle) -> bool:
    return abs(place[0] - hole.x) <= hole.length / 2 and abs(place[1] - hole.y) <= hole.width / 2


def _feeler(analysis: Analysis, solved: tuple[Solution, ...]) -> Iterator[Expected]:
    """What goes in below the rim of the base, where the gap along the rim is greatest."""
    case = analysis.case
    usual, place = rim_gap(analysis.solution)
    greatest, there = max(rim_gap(one) for one in solved)
    if usual < _BLADE <= greatest:
        place = there
    x, y = (float(part) for part in to_table(case.die.placing, np.array([place]))[0])
    where = f"rim of the base, {wording.place(*place, case.die.base.plan)}"
    if greatest < _BLADE:
        where = "all round the rim of the base"
    yield Expected(
        id="feeler-rim",
        tool="feeler gauge, blades from 0.02 mm on",
        place=where,
        x=None if greatest < _BLADE else x,
        y=None if greatest < _BLADE else y,
        how="Hold the force at the bottom of the stroke, hands outside the die. Note the thickest blade that goes in "
        f"below the base by 20 mm; where less than {_BLADE:g} mm is expected, none goes in.",
        predicted=_range(solved, partial(gap_at, place=place)),
        unit="mm",
    )


def _witness(analysis: Analysis, solved: tuple[Solution, ...]) -> Expected:
    """The share of the underside that carries marks."""
    spread = analysis.spread.contact_share
    corners = _range(solved, lambda one: one.contact_share)
    both = Interval(min(corners.low, spread.low), spread.nominal, max(corners.high, spread.high))
    return Expected(
        id="witness-marks",
        tool="marking blue, and a grid of 100 mm squares in chalk",
        place="underside of the base, as far as it bears",
        x=None,
        y=None,
        how="Blue the table with a film of 0.02 mm, set and clamp the die, give it ten strokes at the force, "
        "lift it, and count the squares that carry marks. "
        "Nobody goes below a raised half: it is turned, or stood on blocks, first.",
        predicted=scaled(both, 100.0),
        unit="%",
    )


def _shift(analysis: Analysis) -> Iterator[Expected]:
    """How far the die goes sideways in a hundred strokes."""
    held = analysis.held
    if analysis.creep.held:
        if held is None or held.march.slides:
            return
        x, y, _ = strokes.places_after(held.march, np.array([float(COUNTED)]))[0]
        usual = math.hypot(float(x), float(y))
        plays = [one.play for one in holders_of(analysis.case) if one.kind in ("key", "cone")]
        told = Interval(0.0, usual, max([usual, *(2 * play for play in plays)]))
        how = f"{wording.opening(held_by(analysis))} hold the die: it comes to rest somewhere within their play."
    else:
        pace = analysis.spread.creep
        if not math.isfinite(pace.high) or strokes.slides_somewhere(analysis):
            return
        told = pace.scaled(float(COUNTED))
        way = heading(analysis)
        how = f"It is expected {way}. " if way else ""
        how += "This is the free die; a clamped one goes less far."
    yield Expected(
        id="shift",
        tool="two dials of 0.001 mm on magnetic feet",
        place="left and front side of the base, low, feet on the bolster",
        x=None,
        y=None,
        how=f"Note both dials with the slide up, give {COUNTED} strokes at the force, and note them again; the shift "
        f"is √(left² + front²). {how}",
        predicted=told,
        unit="mm",
    )

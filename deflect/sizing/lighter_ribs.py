"""Lighter patterns of ribs in the cast base of either half: what they save, and what they cost, solved anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import lru_cache

from deflect.findings import Analysis, Lighter
from deflect.mechanics.analysis import analyse_without_creep
from deflect.mechanics.closure import Closure, closure_of
from deflect.model.case import Case
from deflect.model.die import DieBase
from deflect.model.ribs import RibPattern, Ribs

# Ribs are drawn in whole steps of this many mm, pitches in steps of the second (common practice, no source).
THICKNESS_STEP, PITCH_STEP = 5.0, 10.0
# The wider pitch that is tried, and the widest that a skin of the usual thickness spans, mm (common practice).
WIDER, WIDEST = 1.25, 500.0


def lighter_ribs(analysis: Analysis) -> tuple[Lighter, ...]:
    """The base as it is, then each lighter pattern at the usual values; empty where it has no ribs."""
    base = analysis.case.die.base
    if base.ribs is None:
        return ()
    rows = [_row("as it is", analysis)]
    for told, pattern in _patterns(base, base.ribs):
        changed = analysis.case.with_base(replace(base, ribs=pattern))
        rows.append(_row(told, analyse_without_creep(changed, analysis)))
    return tuple(rows)


@lru_cache(maxsize=4)
def lighter_upper_ribs(case: Case) -> tuple[Lighter, ...]:
    """The same of the upper base, closed anew: gap above it, camber that the faces lack, and its bending stress; empty
    where it has no ribs, or slide and upper half are not described."""
    base = case.die.upper.base
    now = None if base is None or base.ribs is None else closure_of(case)
    if base is None or base.ribs is None or now is None:
        return ()
    rows = [_closed_row("as it is", base, now)]
    for told, pattern in _patterns(base, base.ribs):
        other = replace(base, ribs=pattern)
        upper = replace(case.die.upper, base=other, mass=case.die.upper.mass + other.mass - base.mass)
        found = closure_of(replace(case, die=replace(case.die, upper=upper)))
        if found is not None:
            rows.append(_closed_row(told, other, found))
    return tuple(rows)


def _closed_row(told: str, base: DieBase, closure: Closure) -> Lighter:
    return Lighter(told, base.mass, closure.upper_gap, closure.camber_range, closure.upper_stress)


def _row(told: str, analysis: Analysis) -> Lighter:
    solution = analysis.solution
    return Lighter(
        told, analysis.case.die.base.mass, solution.greatest_gap, analysis.face.error_range, solution.base_stress
    )


def _patterns(base: DieBase, now: RibPattern) -> Iterator[tuple[str, RibPattern]]:
    thin = _with(now, lambda row: replace(row, thickness=min(row.thickness, _up(now.thinnest))))
    wide = _with(now, lambda row: replace(row, pitch=min(_down(WIDER * row.pitch), max(row.pitch, WIDEST))))
    both = _with(thin, lambda row: replace(row, pitch=min(_down(WIDER * row.pitch), max(row.pitch, WIDEST))))
    for told, pattern in (
        (f"ribs as thin as the foundry casts them, {_up(now.thinnest):g} mm", thin),
        ("ribs a quarter farther apart", wide),
        ("both", both),
    ):
        lighter = replace(base, ribs=pattern).mass < base.mass - 1.0
        if pattern != now and lighter and (told != "both" or pattern not in (thin, wide)):
            yield told, pattern


def _with(now: RibPattern, change: Callable[[Ribs], Ribs]) -> RibPattern:
    rows = [None if row is None else change(row) for row in (now.along_x, now.along_y)]
    return replace(now, along_x=rows[0], along_y=rows[1])


def _up(thinnest: float) -> float:
    return THICKNESS_STEP * -(-thinnest // THICKNESS_STEP)


def _down(pitch: float) -> float:
    return PITCH_STEP * (pitch // PITCH_STEP)

"""Table and die cut open: heights exaggerated by a stated round factor, thicknesses not to scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from deflect.findings import Analysis
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.footprint import from_table
from deflect.mechanics.solution import Section
from deflect.report.pen import Pen
from deflect.report.wording import bare

_ROUND = (1.0, 2.0, 5.0)
# Width over height of a panel that is as wide as the page, and of one that is half as wide.
_WIDE, _NARROW = 3.4, 1.75
# A cut this close to the line on which the sag is measured shows it, mm.
_SAME_LINE = 25.0
# Drawn thickness of bolster and die base as shares of the drawn height: they are not to scale.
_BODY = 0.2


@dataclass(frozen=True)
class _View:
    """Limits of a panel, mm: half width along the cut, and heights."""

    half: float
    low: float
    high: float

    @property
    def height(self) -> float:
        return self.high - self.low


def both(figure: Any, pen: Pen, analysis: Analysis) -> None:
    """The cut along x above the cut along y, at one scale."""
    half = _half(analysis, "x", "y")
    factor = exaggeration(analysis, half, _WIDE, "x", "y")
    for ax, along in zip(figure.subplots(2, 1), ("x", "y"), strict=True):
        _cut(ax, pen, analysis, along, factor, half, _WIDE)


def one(ax: Any, pen: Pen, analysis: Analysis, along: str) -> None:
    """One cut alone."""
    half = _half(analysis, along)
    _cut(ax, pen, analysis, along, exaggeration(analysis, half, _NARROW, along), half, _NARROW)


def exaggeration(analysis: Analysis, half: float, aspect: float, *along: str) -> float:
    """A round factor by which heights can be exaggerated in a panel of this width over height."""
    spans = [_content(_section(analysis, way)) for way in along]
    room = 2 * half / aspect * (1 - 3.2 * _BODY)
    most = room / max(max(high - low for low, high in spans), 1e-6)
    power = 10.0 ** np.floor(np.log10(most))
    return float(max(step * power for step in _ROUND if step * power <= most))


def _half(analysis: Analysis, *along: str) -> float:
    bolster = analysis.case.press.bolster
    return 0.53 * max({"x": bolster.length, "y": bolster.width}[way] for way in along)


def _section(analysis: Analysis, along: str) -> Section:
    return analysis.solution.sections[0 if along == "x" else 1]


def _bears(analysis: Analysis, section: Section) -> Flags:
    """Where along the cut the base has bearing (m,); between, its underside is hollow."""
    placing, base = analysis.case.die.placing, analysis.case.die.base
    axis = 0 if section.along == "x" else 1
    points = np.tile([placing.x, placing.y], (section.place.size, 1)).astype(float)
    points[:, axis] = section.place
    x, y = from_table(placing, points).T
    bears = np.zeros(section.place.size, dtype=bool)
    for area in base.bearing or (base.plan,):
        bears |= (np.abs(x - area.x) <= area.length / 2 + 1e-6) & (np.abs(y - area.y) <= area.width / 2 + 1e-6)
    return np.asarray(bears & np.isfinite(section.underside))


def _content(section: Section) -> tuple[float, float]:
    heights = np.concatenate([section.table, section.underside])
    return float(np.nanmin(heights)), float(np.nanmax(heights))


def _cut(ax: Any, pen: Pen, analysis: Analysis, along: str, factor: float, half: float, aspect: float) -> None:
    section = _section(analysis, along)
    bears = _bears(analysis, section)
    low, high = _content(section)
    spare = (2 * half / aspect / factor - (high - low)) / 2
    view = _View(half, low - spare, high + spare)
    body = _BODY * view.height
    _bed(ax, pen, analysis, along, section, view, body)
    _bodies(ax, pen, section, bears, body)
    _gap_numbers(ax, pen, section, bears, body)
    told = _sag(ax, pen, analysis, along, section)
    ax.set_xlim(-view.half, view.half)
    ax.set_ylim(view.low, view.high)
    ax.set_aspect(factor)
    ax.locator_params(axis="x", nbins=7)
    ends = ("left", "right") if along == "x" else ("front", "rear")
    ax.set_xlabel(f"{ends[0]}  ←  {along}, mm  →  {ends[1]}")
    ax.set_ylabel("height, mm")
    ax.set_title(f"Cut along {along} through the die's middle, heights × {factor:.0f}\n{told}", fontsize=10)


def _bed(ax: Any, pen: Pen, analysis: Analysis, along: str, section: Section, view: _View, body: float) -> None:
    """The land on both sides of the bed opening, as blocks that the bolster lies on or lifts from."""
    opening, plan = analysis.case.press.bed.opening, analysis.case.press.bolster.plan
    sides = (plan.left, opening.left, opening.right, plan.right) if along == "x" else (
        plan.front, opening.front, opening.back, plan.back)  # fmt: skip
    for a, b in ((sides[0], sides[1]), (sides[2], sides[3])):
        on = (section.place >= a) & (section.place <= b) & np.isfinite(section.table)
        if on.any():
            top = float(np.min(section.table[on])) - body
            ax.fill([a, b, b, a], [view.low, view.low, top, top], facecolor=pen.soft, edgecolor=pen.dim, lw=0.8,
                    hatch="////", zorder=1)  # fmt: skip
    ax.text((sides[1] + sides[2]) / 2, view.low + 0.03 * view.height, "bed opening", ha="center", va="bottom",
            fontsize=8, color=pen.dim)  # fmt: skip


def _bodies(ax: Any, pen: Pen, section: Section, bears: Flags, body: float) -> None:
    x = section.place
    # Where it does not bear, the base is drawn hollow up to half its height.
    underside = np.where(bears, section.underside, section.underside + body / 2)
    ax.fill_between(x, section.table - body, section.table, color=pen.dim, alpha=0.35, lw=0, zorder=2)
    ax.plot(x, section.table, color=pen.ink, lw=1.6, zorder=4)
    ax.plot(x, section.table - body, color=pen.dim, lw=0.8, zorder=3)
    ax.fill_between(x, underside, section.underside + body, color=pen.accent, alpha=0.3, lw=0, zorder=2)
    ax.plot(x, underside, color=pen.accent, lw=1.6, zorder=4)
    ax.plot(x, section.underside + body, color=pen.accent, lw=0.8, zorder=3)
    parted = bears & (section.underside > section.table)
    ax.fill_between(x, section.table, section.underside, where=parted, color=pen.alarm, alpha=0.5, lw=0, zorder=3)
    under = np.flatnonzero(np.isfinite(section.underside))
    if under.size:
        at = under[under.size // 4]
        ax.text(x[at], section.underside[at] + 0.75 * body, "die base", ha="center", va="center", fontsize=8, zorder=5)
    on = np.flatnonzero(np.isfinite(section.table))
    at = on[on.size // 14]
    ax.text(x[at], section.table[at] - body / 2, "bolster", ha="center", va="center", fontsize=8, zorder=5)


def _gap_numbers(ax: Any, pen: Pen, section: Section, bears: Flags, body: float) -> None:
    """The gap at both ends of the base and in the middle, where it bears there, above the base."""
    gap = section.underside - section.table
    under = np.flatnonzero(np.isfinite(gap))
    if not under.size:
        return
    places = (under[0], under[under.size // 2], under[-1])
    height = float(np.nanmax(section.underside)) + 1.15 * body
    for at, side in zip(places, ("left", "center", "right"), strict=True):
        told = f"gap {max(gap[at], 0.0):.3f}" if bears[at] else "hollow"
        ax.text(section.place[at], height, told, ha=side, va="bottom", fontsize=8.5, color=pen.ink, zorder=6)


def _sag(ax: Any, pen: Pen, analysis: Analysis, along: str, section: Section) -> str:
    """The chord between the ends of the reference length; the sag below it, in words."""
    sag, opening = analysis.solution.sag, analysis.case.press.bed.opening
    length, depth, middle = (
        (sag.reference_length, sag.along_x, opening.x)
        if along == "x"
        else (sag.reference_width, sag.along_y, opening.y)
    )
    told = f"table sag along {along} {bare(depth, 'mm')} mm over {length:.0f} mm"
    placing = analysis.case.die.placing
    aside = placing.y - opening.y if along == "x" else placing.x - opening.x
    if abs(aside) > _SAME_LINE:
        return f"{told} (not on this cut)"
    on = np.isfinite(section.table)
    ends = np.clip([middle - length / 2, middle + length / 2], section.place[on][0], section.place[on][-1])
    heights: Floats = np.interp(ends, section.place[on], section.table[on])
    ax.plot(ends, heights, color=pen.alarm, lw=1.0, ls=(0, (4, 2)), marker="|", ms=9, zorder=6)
    return f"{told} (dashed)"

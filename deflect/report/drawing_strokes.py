"""Creep over the strokes, and where the die goes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from deflect.findings import Analysis
from deflect.mechanics.arrays import Floats
from deflect.mechanics.march import Creep
from deflect.mechanics.meeting import farthest
from deflect.report import plan
from deflect.report.headlines import NOTHING
from deflect.report.pen import Pen
from deflect.report.strokes import TOLD_STROKES, places_after, turn_told
from deflect.report.wording import figure

# The picture ends at so many tolerances, should the die go farther.
_HIGHEST = 3.0
_HEADROOM = 1.25
# Length of the arrow, and how far the drawn turn moves a corner, as shares of the base's longer side.
_ARROW, _TURN = 0.3, 0.06


def creep(drawing: Any, pen: Pen, analysis: Analysis, tolerance: float) -> None:
    """Left: the first strokes, free and held, against the tolerance (mm); right: where the die goes, in plan."""
    left, right = drawing.subplots(1, 2, gridspec_kw={"width_ratios": (1.5, 1)})
    _strokes(left, pen, analysis, tolerance)
    _heading(right, pen, analysis)


def _strokes(ax: Any, pen: Pen, analysis: Analysis, tolerance: float) -> None:
    strokes = np.arange(TOLD_STROKES + 1.0)
    march, spread = analysis.creep.march, analysis.spread.creep
    highest = tolerance
    if march.slides:
        ax.text(0.5, 0.5, "friction does not hold it: it slides away", transform=ax.transAxes, ha="center")
    else:
        free = _shift(analysis, march, strokes)
        highest = max(highest, float(free[-1]))
        # The force shifts as much more than the die's middle at either end of the range as at the usual values.
        gain = free[-1] / max(float(np.hypot(*places_after(march, strokes)[-1, :2])), 1e-300)
        ends = (min(spread.low, spread.nominal) * gain * strokes, spread.high * gain * strokes)
        ax.fill_between(strokes, *ends, color=pen.accent, alpha=0.2, lw=0, label="free: range")
        ax.plot(strokes, free, color=pen.accent, lw=1.8, label="free: usual")
    if analysis.held is not None and not analysis.held.march.slides:
        kept = _shift(analysis, analysis.held.march, strokes)
        highest = max(highest, float(kept.max()))
        ax.plot(strokes, kept, color=pen.ink, lw=1.6, ls=(0, (1, 1)), label="as it is held")
    ax.axhline(tolerance, color=pen.alarm, lw=1.4, ls=(0, (5, 3)), label=f"tolerance {tolerance:.3f} mm")
    ax.set_xlim(0, TOLD_STROKES)
    ax.set_ylim(0, _HEADROOM * min(highest, _HIGHEST * tolerance))
    ax.set_xlabel("strokes")
    ax.set_ylabel("shift, mm")
    ax.set_title(f"Shift of the die, first {TOLD_STROKES} strokes", fontsize=10)
    ax.grid(alpha=0.3, lw=0.5)
    ax.legend(loc="best", fontsize=8, framealpha=0.6, facecolor=pen.paper)


def _shift(analysis: Analysis, march: Creep, strokes: Floats) -> Floats:
    """How far the place of the force that shifts most has gone after some strokes, mm."""
    return np.array([farthest(analysis.case, place) for place in places_after(march, strokes)])


def _heading(ax: Any, pen: Pen, analysis: Analysis) -> None:
    case, shift = analysis.case, analysis.creep.march.shift
    outline = plan.base_outline(case) - [case.die.placing.x, case.die.placing.y]
    long = max(case.die.base.length, case.die.base.width)
    corner = math.hypot(case.die.base.length, case.die.base.width) / 2
    size = float(np.hypot(*shift[:2]))
    ax.plot(*outline.T, color=pen.accent, lw=2.0)
    told = "no creep"
    if size > NOTHING:
        way = shift[:2] / size * _ARROW * long
        turned = turn_told(analysis)
        angle = math.copysign(_TURN * long / corner, shift[2]) if turned else 0.0
        c, s = math.cos(angle), math.sin(angle)
        ax.plot(*(outline @ np.array([[c, s], [-s, c]]) + way).T, color=pen.ink, lw=1.0, ls=(0, (4, 3)))
        ax.annotate("", way, (0, 0), arrowprops={"arrowstyle": "-|>", "color": pen.ink, "lw": 1.8})
        told = "slides away" if analysis.creep.march.slides else f"{figure(size * 1e3, 'um')} a stroke"
        told += f"\nturns {turned}" if turned else ""
    ax.set_aspect("equal")
    ax.margins(0.12)
    ax.set_title("Where the free die goes (not to scale)", fontsize=10)
    ax.set_xlabel(f"left  ←    →  right\n{told}")
    ax.set_ylabel("front  ←    →  rear")
    ax.set_xticks([])
    ax.set_yticks([])

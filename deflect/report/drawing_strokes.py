"""Creep over strokes."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from deflect.findings import Analysis
from deflect.report.headlines import NOTHING, strokes_until
from deflect.report.pen import Pen
from deflect.report.wording import bare


def creep(figure: Any, pen: Pen, analysis: Analysis, tolerance: float) -> None:
    """The first strokes as marched, and the straight run from there to the tolerance (mm), with its range."""
    left, right = figure.subplots(1, 2, gridspec_kw={"width_ratios": (1, 1.7)})
    _first(left, pen, analysis)
    _run(right, pen, analysis, tolerance)


def _first(ax: Any, pen: Pen, analysis: Analysis) -> None:
    result = analysis.creep
    heading = np.array([math.cos(result.direction), math.sin(result.direction)])
    shift = result.march.path[:, :2] @ heading * 1e3
    ax.plot(np.arange(len(shift)), shift, "o-", color=pen.accent, lw=1.4, ms=4)
    ax.set_xlabel("stroke")
    ax.set_ylabel("shift, µm")
    ax.set_title("First strokes, as computed", fontsize=10)
    ax.grid(alpha=0.3, lw=0.5)
    ax.locator_params(axis="x", integer=True)
    if shift.max(initial=0.0) < NOTHING * 1e3:
        ax.set_ylim(-1, 1)


def _run(ax: Any, pen: Pen, analysis: Analysis, tolerance: float) -> None:
    spread = analysis.spread.creep
    strokes = strokes_until(tolerance, spread)
    end = 1.35 * next((n for n in (strokes.nominal, strokes.low) if math.isfinite(n)), 1e4 / 1.35)
    ends = np.array([0.0, end])
    ax.fill_between(ends, ends * spread.low, ends * spread.high, color=pen.accent, alpha=0.25, lw=0,
                    label="range")  # fmt: skip
    ax.plot(ends, ends * spread.nominal, color=pen.accent, lw=1.8, label="usual")
    ax.axhline(tolerance, color=pen.alarm, lw=1.4, ls=(0, (5, 3)), label=f"tolerance {tolerance:g} mm")
    if math.isfinite(strokes.nominal):
        crossing = tolerance / spread.nominal
        ax.plot([crossing], [tolerance], "o", color=pen.alarm, ms=5)
        ax.annotate(f"{bare(strokes.nominal, 'strokes')} strokes", (crossing, tolerance), (6, -12),
                    textcoords="offset points", fontsize=9)  # fmt: skip
    ax.set_xlim(0, end)
    ax.set_ylim(0, 1.6 * tolerance)
    ax.set_xlabel("strokes")
    ax.set_ylabel("shift, mm")
    ax.set_title("Shift of the die, were it free" if analysis.creep.held else "Shift of the die", fontsize=10)
    ax.grid(alpha=0.3, lw=0.5)
    ax.legend(loc="lower right", fontsize=8, framealpha=0.6, facecolor=pen.paper)

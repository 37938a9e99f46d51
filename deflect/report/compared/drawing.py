"""Maps of two presses side by side on one scale, both tables cut open, and the shim plan to print."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from deflect.compare.comparing import Solved
from deflect.mechanics.arrays import Floats
from deflect.mechanics.difference import Difference, Shape, difference
from deflect.model.die import Shim
from deflect.model.values import Rectangle
from deflect.report.pen import Pen

# Numbers written on a map: so many along and across.
_ALONG, _ACROSS = 3, 3
# Room around what is known, as a share of its extent.
_MARGIN = 0.06
_BOX = {"boxstyle": "round,pad=0.12", "facecolor": "#ffffff", "edgecolor": "none", "alpha": 0.85}
_LABEL = {"fontsize": 7.5, "color": "#111111", "ha": "center", "va": "center", "zorder": 6}
FACE, TABLE = "face", "table"


def three_maps(figure: Any, pen: Pen, first: Solved, second: Solved, told: Difference, what: str) -> None:
    """Production press, stand-in, and the difference, each after its best rigid fit, on one scale of colours."""
    fields = [_fitted(first.shape, what), _fitted(second.shape, what), told.values]
    known = np.concatenate([f[np.isfinite(f)] for f in fields])
    bands = pen.banded(known)
    axes = figure.subplots(1, 3, sharey=True)
    outline, grid = first.analysis.solution.outline, first.analysis.solution.grid
    shown = first.shape.points[np.isfinite(fields[2])]
    margin = _MARGIN * np.ptp(shown, axis=0)
    low, high = shown.min(axis=0) - margin, shown.max(axis=0) + margin
    drawn = None
    for ax, values, title in zip(axes, fields, ("production press", "stand-in", "difference"), strict=True):
        drawn = ax.pcolormesh(
            outline[..., 0], outline[..., 1], np.ma.masked_invalid(values.reshape(grid)), cmap=bands.colours,
            norm=bands.norm, edgecolors="face", lw=0.1,
        )  # fmt: skip
        _numbers(ax, first.shape.points, values)
        ax.set_title(title, fontsize=9.5)
        ax.set_aspect("equal")
        ax.set_xlim(low[0], high[0])
        ax.set_ylim(low[1], high[1])
        ax.locator_params(nbins=5)
        ax.set_xlabel("x, mm")
    x, y = told.at
    axes[2].plot([x], [y], "o", ms=5, mfc="#ffffff", mec="#111111", zorder=7)
    axes[0].set_ylabel("front  ←  y, mm  →  rear")
    bar = figure.colorbar(drawn, ax=list(axes), ticks=bands.edges, shrink=0.85, pad=0.01, fraction=0.03)
    bar.set_label("mm, + stands high")
    bar.outline.set_linewidth(0.5)


def _fitted(shape: Shape, what: str) -> Floats:
    if what == FACE:
        return difference(shape.points, shape.area, shape.face, shape.in_face).values
    return difference(shape.points, shape.area, shape.table, np.ones(shape.area.size, dtype=bool)).values


def _numbers(ax: Any, points: Floats, values: Floats) -> None:
    known = np.isfinite(values)
    if not known.any():
        return
    low, high = points[known].min(axis=0), points[known].max(axis=0)
    for x in np.linspace(low[0], high[0], _ALONG + 1)[:-1] + (high[0] - low[0]) / _ALONG / 2:
        for y in np.linspace(low[1], high[1], _ACROSS + 1)[:-1] + (high[1] - low[1]) / _ACROSS / 2:
            nearest = int(np.argmin(np.where(known, np.hypot(*(points - (x, y)).T), np.inf)))
            said = f"{values[nearest]:+.3f}".replace("-", "−") if values[nearest] else "0"
            ax.text(*points[nearest], said, bbox=_BOX, **_LABEL)


def both_tables(figure: Any, pen: Pen, first: Solved, second: Solved) -> None:
    """The top of both tables under force, and the die's underside on each, along x and along y."""
    for ax, k in zip(figure.subplots(2, 1), (0, 1), strict=True):
        for one, colour, line, name in (
            (first, pen.accent, "-", "production press"),
            (second, pen.alarm, (0, (5, 2)), "stand-in"),
        ):
            cut = one.analysis.solution.sections[k]
            ax.plot(cut.place, cut.table, color=colour, ls=line, lw=1.8, label=f"table, {name}")
            ax.plot(cut.place, cut.underside, color=colour, ls=line, lw=0.8, label=f"underside of the die, {name}")
        along = "x" if k == 0 else "y"
        ends = ("left", "right") if k == 0 else ("front", "rear")
        ax.set_xlabel(f"{ends[0]}  ←  {along}, mm  →  {ends[1]}")
        ax.set_ylabel("height, mm")
        ax.grid(True, lw=0.3, color=pen.dim, alpha=0.5)
        ax.set_title(f"Cut along {along} through the die's middle, heights not to scale", fontsize=9.5)
    figure.axes[0].legend(fontsize=8, frameon=False, ncols=2)


def shim_plan(ax: Any, pen: Pen, plan: Rectangle, fields: Sequence[Rectangle], shims: Sequence[Shim]) -> None:
    """The underside of the base from above, its fields, and the thickness of each shim, mm."""
    thick = {(s.area.x, s.area.y): s.thickness for s in shims}
    most = max(thick.values(), default=1.0)
    for field in fields:
        here = thick.get((field.x, field.y), 0.0)
        xs = [field.left, field.right, field.right, field.left]
        ys = [field.front, field.front, field.back, field.back]
        ax.fill(xs, ys, facecolor=pen.accent, alpha=0.55 * here / most if here else 0.0, lw=0)
        ax.fill(xs, ys, fill=False, edgecolor=pen.dim, lw=0.6)
        ax.text(
            field.x, field.y, f"{here:.2f}" if here else "–", ha="center", va="center", fontsize=9,
            color="#111111", bbox=_BOX if here else None,
        )  # fmt: skip
    ax.plot([plan.left, plan.right, plan.right, plan.left, plan.left],
            [plan.front, plan.front, plan.back, plan.back, plan.front], color=pen.ink, lw=1.6)  # fmt: skip
    lines_x = sorted({round(v, 3) for f in fields for v in (f.left, f.right)})
    lines_y = sorted({round(v, 3) for f in fields for v in (f.front, f.back)})
    ax.set_xticks(lines_x)
    ax.set_yticks(lines_y)
    ax.tick_params(labelsize=7.5)
    ax.set_aspect("equal")
    ax.set_xlabel("left  ←  x, mm from the die's middle  →  right")
    ax.set_ylabel("front  ←  y, mm  →  rear")
    ax.set_title("Shim plan, seen from above through the die; thickness in mm, – none", fontsize=10)

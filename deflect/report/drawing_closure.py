"""How the faces close, in plan: what a fitter would see, how the force spreads, what is to be milled."""

from __future__ import annotations

from typing import Any

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.closure import Closure
from deflect.report import plan
from deflect.report.pen import Pen

_BLUE, _BRIGHT, _BLANK = "#5b8fd6", "#1b3f7a", "#dfe3e6"
_NUMBER = {"fontsize": 7.5, "color": "#111111", "ha": "center", "va": "center", "zorder": 6}
_BOX = {"boxstyle": "round,pad=0.12", "facecolor": "#ffffff", "edgecolor": "none", "alpha": 0.85}
# Numbers written on a map, along and across the face: at most so many, and no nearer than such shares of the length of
# what is drawn, so that none covers its neighbour.
_ALONG, _ACROSS = 5, 3
_ROOM_ALONG, _ROOM_ACROSS = 0.115, 0.06


def closing(figure: Any, pen: Pen, closure: Closure) -> None:
    """Contact marks as spotting would show them, and the pressure against an even one."""
    left, right = figure.subplots(1, 2)
    colours = np.where(closure.hard, _BRIGHT, np.where(closure.marked, _BLUE, _BLANK))
    _ground(left, pen, closure)
    for outline, colour in zip(_outlines(closure), colours, strict=True):
        left.fill(*outline.T, facecolor=str(colour), edgecolor=pen.paper, lw=0.2)
    for name, colour in (("bears hard", _BRIGHT), ("takes blue", _BLUE), ("stays blank", _BLANK)):
        left.plot([], [], "s", color=colour, ms=7, label=name)
    left.legend(loc="upper center", bbox_to_anchor=(0.5, -0.2), ncols=3, fontsize=8, frameon=False)
    left.set_title("Marks that spotting would show", fontsize=10)
    _coloured(right, pen, closure, closure.pressure / closure.even, "pressure over an even one", ".2f", zero=0.0)
    right.set_title("How the force spreads", fontsize=10)


def camber(figure: Any, pen: Pen, closure: Closure) -> None:
    """What is to stand higher on each face."""
    for ax, name, error in zip(
        figure.subplots(1, 2), ("Lower", "Upper"), (closure.lower_error, closure.upper_error), strict=True
    ):
        _coloured(ax, pen, closure, error - error.min(), "to be left standing, mm", ".3f", zero=0.0)
        ax.set_title(f"{name} face, seen from above", fontsize=10)


def _outlines(closure: Closure) -> list[Floats]:
    """Each patch as it stands on the table (4, 2)."""
    patches = closure.faces.patches
    corners = np.array([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
    sizes = np.column_stack([patches.length, patches.width])
    return [
        plan.placed(closure.case, centre + corners * size) for centre, size in zip(patches.centre, sizes, strict=True)
    ]


def _coloured(ax: Any, pen: Pen, closure: Closure, values: Floats, label: str, form: str, zero: float) -> None:
    _ground(ax, pen, closure)
    bands = pen.banded(values, zero)
    for outline, value in zip(_outlines(closure), values, strict=True):
        ax.fill(*outline.T, facecolor=bands.colours(bands.norm(value)), lw=0)
    centres = plan.placed(closure.case, closure.faces.patches.centre)
    drawn = ax.scatter(*centres.T, c=values, cmap=bands.colours, norm=bands.norm, s=0)
    bar = ax.figure.colorbar(drawn, ax=ax, ticks=bands.edges, orientation="horizontal", pad=0.02, fraction=0.06)
    bar.set_label(label)
    bar.outline.set_linewidth(0.5)
    low, high = centres.min(axis=0), centres.max(axis=0)
    written: set[int] = set()
    drawn_length = float(np.ptp(plan.base_outline(closure.case)[:, 0]))
    for x in label_places(low[0], high[0], _ALONG, _ROOM_ALONG * drawn_length):
        for y in label_places(low[1], high[1], _ACROSS, _ROOM_ACROSS * drawn_length):
            nearest = int(np.argmin(np.hypot(centres[:, 0] - x, centres[:, 1] - y)))
            if nearest not in written:
                written.add(nearest)
                ax.text(*centres[nearest], format(values[nearest], form), bbox=_BOX, **_NUMBER)


def label_places(low: float, high: float, most: int, room: float) -> Floats:
    """Places of numbers from end to end, an odd count so that the middle has one, none nearer than ``room``."""
    fitting = int(min(most, (high - low) / room + 1))
    count = max(1, fitting - 1 + fitting % 2)
    return np.linspace(low, high, count) if count > 1 else np.array([(low + high) / 2])


def _ground(ax: Any, pen: Pen, closure: Closure) -> None:
    """Both die bases, and the slide's hanging points."""
    case = closure.case
    die = plan.base_outline(case)
    ax.plot(*die.T, color=pen.accent, lw=1.6)
    slide, upper = case.press.slide, case.die.upper.base
    if upper is not None:
        ax.plot(*plan.placed(case, plan.corners(upper.plan)).T, color=pen.ink, lw=0.9, ls="--")
    if slide is not None and slide.body is not None:
        ax.plot(*np.array(slide.body.points).T, "+", color=pen.alarm, ms=11, mew=1.8, zorder=7)
    ax.set_aspect("equal")
    ax.locator_params(nbins=6)
    ax.set_xlabel("left  ←  x, mm  →  right")

"""The balance of lift-off: arrows on the lower half, up and down."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from deflect.findings import Analysis
from deflect.mechanics.lift_off import Pull, lift_off
from deflect.report.pen import Pen
from deflect.report.wording import force
from deflect.units import show_force

# Half width and half height of the drawn half, and the length of the longest arrow, in units of the drawing.
_WIDE, _HIGH, _LONGEST = 4.6, 0.16, 1.0
# Arrows shorter than this are not told from none.
_SHORTEST = 0.03


def balance(ax: Any, pen: Pen, analysis: Analysis) -> None:
    """Each pull above the half and each hold below it: usual as a full arrow, the greatest as a dashed one."""
    found = lift_off(analysis.case)
    most = max(1.0, *(one.force.high for one in (*found.pulls, *found.holds)))
    ax.fill([-_WIDE, _WIDE, _WIDE, -_WIDE], [-_HIGH, -_HIGH, _HIGH, _HIGH], facecolor=pen.soft, edgecolor=pen.dim, lw=1)
    ax.text(0, 0, "lower half", ha="center", va="center", fontsize=9)
    _row(ax, pen, found.pulls, 1.0, most, pen.alarm)
    _row(ax, pen, found.holds, -1.0, most, pen.accent)
    ax.text(_WIDE + 0.2, 0.62, _sum("pulls", found.pull.nominal, found.pull.high), fontsize=9, va="center")
    ax.text(_WIDE + 0.2, -0.62, _sum("holds", found.holding.nominal, found.holding.low), fontsize=9, va="center")
    ax.set_xlim(-_WIDE - 0.2, _WIDE + 2.2)
    ax.set_ylim(-_HIGH - _LONGEST - 0.42, _HIGH + _LONGEST + 0.42)
    ax.set_axis_off()


def _sum(verb: str, usual: float, worst: float) -> str:
    at_worst = f"\nat worst {show_force(worst)}" if abs(worst - usual) > 0.5 else ""
    return f"{verb} {show_force(usual)}{at_worst}"


def _row(ax: Any, pen: Pen, parts: Sequence[Pull], way: float, most: float, colour: str) -> None:
    for place, one in enumerate(parts):
        x = -_WIDE + 2 * _WIDE * (place + 0.5) / len(parts)
        usual, high = (_LONGEST * size / most for size in (one.force.nominal, one.force.high))
        foot = way * _HIGH
        if high > max(usual, _SHORTEST) * 1.01:
            _arrow(ax, x, foot, way * high, colour, dashed=True)
        if usual > _SHORTEST:
            _arrow(ax, x, foot, way * usual, colour, dashed=False)
        tip = foot + way * max(high if high > _SHORTEST else 0.0, 0.05)
        told = force(one.force.nominal)
        if one.force.high > one.force.nominal:
            told += f", up to {show_force(one.force.high)}"
        ax.text(
            x, tip + way * 0.05, f"{one.source}\n{told}", ha="center", va="bottom" if way > 0 else "top", fontsize=8.5
        )


def _arrow(ax: Any, x: float, foot: float, length: float, colour: str, dashed: bool) -> None:
    style = {"arrowstyle": "-|>", "color": colour, "lw": 1.2 if dashed else 3.0, "shrinkA": 0, "shrinkB": 0}
    if dashed:
        style["linestyle"] = (0, (4, 3))
    ax.annotate("", xy=(x, foot + length), xytext=(x, foot), arrowprops=style)

"""The pressure around the blank holder, in plan, and what carries it."""

from __future__ import annotations

from typing import Any

import numpy as np

from deflect.mechanics.ring import Ring
from deflect.mechanics.ring_case import carriers
from deflect.model.case import Case
from deflect.report import plan
from deflect.report.pen import Pen

_NUMBER = {"fontsize": 7.5, "color": "#111111", "ha": "center", "va": "center", "zorder": 6}
_BOX = {"boxstyle": "round,pad=0.12", "facecolor": "#ffffff", "edgecolor": "none", "alpha": 0.85}


def ring_map(ax: Any, pen: Pen, case: Case, ring: Ring) -> None:
    """Pressure patch by patch; numbers: each station against what is wanted there."""
    body = ring.body
    bands = pen.banded(ring.pressure, 0.0)
    corners = np.array([(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)])
    sizes = np.column_stack([body.patches.length, body.patches.width])
    for centre, size, value in zip(body.patches.centre, sizes, ring.pressure, strict=True):
        ax.fill(*plan.placed(case, centre + corners * size).T, facecolor=bands.colours(bands.norm(value)), lw=0)
    drawn = ax.scatter(
        *plan.placed(case, body.patches.centre).T, c=ring.pressure, cmap=bands.colours, norm=bands.norm, s=0
    )
    bar = ax.figure.colorbar(drawn, ax=ax, ticks=bands.edges, shrink=0.8, pad=0.015, fraction=0.05)
    bar.set_label("pressure, MPa")
    bar.outline.set_linewidth(0.5)
    for place, share in zip(plan.placed(case, body.place), ring.share, strict=True):
        ax.text(*place, f"{100 * share:.0f} %", bbox=_BOX, **_NUMBER)
    ax.plot(*plan.placed(case, carriers(case.die)).T, "o", color=pen.alarm, ms=4, zorder=5, label="pins or springs")
    ax.plot(*plan.base_outline(case).T, color=pen.accent, lw=1.4, label="die base")
    ax.set_aspect("equal")
    ax.locator_params(nbins=7)
    ax.set_xlabel("left  ←  x, mm  →  right")
    ax.set_ylabel("front  ←  y, mm  →  rear")
    ax.set_title("Pressure of the blank holder; numbers: share of what is wanted", fontsize=10)
    ax.legend(loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=2, fontsize=8, frameon=False)

"""Plan views, in bolster axes: x left to right, y front to rear with the front at the bottom."""

from __future__ import annotations

from typing import Any

import numpy as np

from deflect.findings import Analysis
from deflect.mechanics.arrays import Floats
from deflect.mechanics.slipping import Slipping
from deflect.mechanics.solution import TOUCHING
from deflect.model.case import Case
from deflect.report import plan
from deflect.report.pen import Pen
from deflect.report.wording import name

STICKS_MOST = 0.5
"""A patch that sticks through more than this share of the stroke is marked."""
# Sliding below this, µm, is written to a tenth.
TELLS_TENTHS = 10.0
# Numbers written on a map: at most so many along the base's length and width.
_ALONG, _ACROSS = 5, 3
# Least distance between two of them, as shares of the bolster's length.
_ROOM_ALONG, _ROOM_ACROSS = 0.09, 0.045
# How far the outermost ones stand in from the ends, as a share of the extent.
_INSET = 0.05
_LABEL = {"fontsize": 8, "color": "#111111", "ha": "center", "va": "center", "zorder": 6}
_BOX = {"boxstyle": "round,pad=0.15", "facecolor": "#ffffff", "edgecolor": "none", "alpha": 0.85}
_MARKED = _BOX | {"edgecolor": "#111111", "alpha": 1.0}


def gap(ax: Any, pen: Pen, analysis: Analysis) -> None:
    """Gap under force: colour where it is open, plain where the base is in contact."""
    solution = analysis.solution
    bears = solution.bears
    opened = np.where(bears & (np.nan_to_num(solution.gap) >= TOUCHING), solution.gap, np.nan)
    _ground(ax, pen, analysis.case)
    _plain(ax, analysis, bears)
    _coloured(ax, pen, analysis, opened, "gap, mm", zero=0.0)
    x, y = solution.greatest_gap_at
    greatest = plan.placed(analysis.case, np.array([[x, y]]))[0]
    ax.plot(*greatest, "o", ms=5, mfc="#ffffff", mec="#111111", zorder=7)
    lift = 0.13 * analysis.case.die.base.width * (-1 if y > 0.3 * analysis.case.die.base.width else 1)
    above = greatest + np.array([0.0, lift])
    ax.text(*above, f"greatest {solution.greatest_gap:.3f} mm", bbox=_MARKED, **_LABEL)
    _numbers(ax, analysis, np.where(bears, np.where(np.isnan(opened), 0.0, opened), np.nan), ".3f", (greatest, above))
    ax.set_title("Gap below the die base under force; grey: in contact", fontsize=10)


def contact(ax: Any, pen: Pen, analysis: Analysis) -> None:
    """Contact pressure where the base carries."""
    solution = analysis.solution
    carries = solution.bears & (np.nan_to_num(solution.force) > 0)
    pressure = np.where(carries, solution.pressure, np.nan)
    _ground(ax, pen, analysis.case)
    ax.fill(*plan.base_outline(analysis.case).T, facecolor=pen.paper, edgecolor=pen.dim, hatch="....", lw=0, zorder=1)
    # Edge patches show a singular pressure: the colours end at the greatest one inside.
    ceiling = solution.pressure_inside if solution.pressure_inside > 0 else float(np.nanmax(pressure, initial=0.0))
    _coloured(ax, pen, analysis, np.minimum(pressure, ceiling), "pressure, MPa", zero=0.0)
    _numbers(ax, analysis, pressure, ".1f")
    ax.set_title("Contact pressure under force; dotted: no contact", fontsize=10)


def face(ax: Any, pen: Pen, analysis: Analysis) -> None:
    """Face error after the best rigid fit."""
    error = np.where(analysis.face.in_face, analysis.face.error, np.nan)
    _ground(ax, pen, analysis.case)
    _coloured(ax, pen, analysis, error, "face error, mm (+ stands high)")
    _numbers(ax, analysis, error, "+.3f")
    said = "Change of the face since bedding-in" if analysis.case.die.bedded else "Face error"
    ax.set_title(f"{said}, after the best rigid fit", fontsize=10)


def slip(ax: Any, pen: Pen, analysis: Analysis, slipping: Slipping) -> None:
    """How far each patch slides within one stroke; dots: it sticks through most of it; cross: it slides least."""
    analysis = analysis.on_usual_mesh
    case, bears = analysis.case, analysis.solution.bears
    slid = np.full(len(bears), np.nan)
    slid[bears] = slipping.slid * 1e3
    _ground(ax, pen, case)
    _coloured(ax, pen, analysis, slid, "sliding within a stroke, µm", zero=0.0)
    centre = np.array([case.die.placing.x, case.die.placing.y])
    sticking = slipping.places[slipping.sticks > STICKS_MOST] + centre
    marks = ax.plot(
        *sticking.T,
        "o",
        ms=3,
        mfc="#ffffff",
        mec="#111111",
        mew=0.6,
        zorder=6,
        ls="",
        label=f"sticks through most of the stroke ({len(sticking)} of {len(slipping.slid)} patches)",
    )
    marks += ax.plot(*(slipping.neutral + centre)[:, None], "X", ms=9, mfc="#ffffff", mec="#111111", zorder=7, ls="",
                     label="slides least")  # fmt: skip
    _numbers(ax, analysis, slid, ".1f" if np.nanmax(slid) < TELLS_TENTHS else ".0f")
    ax.set_title("How far each patch slides within one stroke of the free die", fontsize=10)
    ax.legend(handles=marks, loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=2, fontsize=8, frameon=False)


def forces(ax: Any, pen: Pen, analysis: Analysis) -> None:
    """Bolster with slots, holes and hold-downs; bed opening; die; where its force acts."""
    case = analysis.case
    bolster, bed = case.press.bolster, case.press.bed
    _ground(ax, pen, case)
    for line in plan.slot_lines(bolster):
        ax.plot(*line.T, color=pen.dim, lw=0.4, alpha=0.6)
    if bolster.pin_field is not None:
        ax.plot(*plan.corners(bolster.pin_field.region).T, color=pen.dim, lw=0.9, ls=":", label="cushion-pin holes")
    if bed.hold_downs:
        places = np.array([(h.x, h.y) for h in bed.hold_downs])
        known = "hold-downs" if bed.hold_downs_known else "hold-downs, assumed"
        ax.plot(*places.T, "s", color=pen.dim, ms=4, mfc="none", label=known)
    if case.die.placing.clamps:
        places = plan.placed(case, np.array([(c.x, c.y) for c in case.die.placing.clamps]))
        ax.plot(*places.T, "^", color=pen.ink, ms=6, label="clamps")
    for outline in plan.force_outlines(case):
        _force(ax, outline)
    for shim in case.die.placing.shims:
        ax.plot(*plan.placed(case, plan.corners(shim.area)).T, color=pen.accent, lw=1, ls="--")
    _centre(ax, pen, case)
    ax.set_title("Table, bed opening, die and where its force acts", fontsize=10)
    ax.legend(loc="upper center", bbox_to_anchor=(0.5, -0.14), ncols=4, fontsize=8, frameon=False)


def _force(ax: Any, outline: plan.Outline) -> None:
    colour = "#d1495b"
    points = np.concatenate(outline.lines)
    if outline.encloses:
        ax.fill(*points.T, color=colour, alpha=0.25, lw=0)
    for line in outline.lines:
        ax.plot(*line.T, color=colour, lw=1.0 if outline.encloses else 2.4)
    told = f"{name(outline.name)[:24]} " if outline.name else ""
    top = points[int(np.argmax(points[:, 1]))]
    middle = (points[:, 0].min() + points[:, 0].max()) / 2
    ax.text(middle, top[1], f"{told}{100 * outline.share:.0f} %", bbox=_BOX, **_LABEL)


def _centre(ax: Any, pen: Pen, case: Case) -> None:
    x, y = plan.centre_of_force(case)
    ax.plot([x], [y], "+", color="#d1495b", ms=13, mew=2.2, label="centre of force")
    if case.press.permitted_offset is not None:
        a, b = case.press.permitted_offset
        outline = np.array([(-a, -b), (a, -b), (a, b), (-a, b), (-a, -b)])
        ax.plot(*outline.T, color=pen.ink, lw=0.9, ls="-.", label="centre of force may lie here")


def _ground(ax: Any, pen: Pen, case: Case) -> None:
    """Bolster, bed opening and die outline, and the axes."""
    bolster = case.press.bolster
    edge = plan.corners(bolster.plan)
    ax.fill(*edge.T, color=pen.soft, lw=0, zorder=0)
    ax.plot(*edge.T, color=pen.ink, lw=1.2, label="bolster")
    for hole in bolster.openings:
        ax.fill(*plan.corners(hole).T, facecolor=pen.paper, edgecolor=pen.ink, lw=0.8)
    ax.plot(*plan.corners(case.press.bed.opening).T, color=pen.ink, lw=1.2, ls=(0, (5, 3)), label="bed opening",
            zorder=4)  # fmt: skip
    die = plan.base_outline(case)
    ax.plot(*die.T, color=pen.accent, lw=2.0, label="die base", zorder=5)
    ax.set_aspect("equal")
    margin = 0.03 * bolster.length
    everything = np.vstack([edge, die])
    ax.set_xlim(everything[:, 0].min() - margin, everything[:, 0].max() + margin)
    ax.set_ylim(everything[:, 1].min() - margin, everything[:, 1].max() + margin)
    ax.locator_params(nbins=7)
    ax.set_xlabel("left  ←  x, mm  →  right")
    ax.set_ylabel("front  ←  y, mm  →  rear")


def _grid(analysis: Analysis) -> tuple[Floats, Floats]:
    """Corners of the patches in bolster axes (nx + 1, ny + 1), x and y."""
    outline = analysis.solution.outline
    points = plan.placed(analysis.case, outline.reshape(-1, 2)).reshape(outline.shape)
    return points[..., 0], points[..., 1]


def _plain(ax: Any, analysis: Analysis, where: Any) -> None:
    """Patches ``where`` in one grey that stands out from colours and page."""
    x, y = _grid(analysis)
    values = np.where(where, 0.6, np.nan).reshape(analysis.solution.grid)
    ax.pcolormesh(x, y, np.ma.masked_invalid(values), cmap="gray", vmin=0, vmax=1, edgecolors="face", lw=0.1, zorder=1)


def _coloured(ax: Any, pen: Pen, analysis: Analysis, values: Floats, label: str, zero: float | None = None) -> None:
    x, y = _grid(analysis)
    if not np.isfinite(values).any():
        return
    bands = pen.banded(values, zero)
    drawn = ax.pcolormesh(
        x, y, np.ma.masked_invalid(values.reshape(analysis.solution.grid)),
        cmap=bands.colours, norm=bands.norm, edgecolors="face", lw=0.1, zorder=2,
    )  # fmt: skip
    bar = ax.figure.colorbar(drawn, ax=ax, ticks=bands.edges, shrink=0.8, pad=0.015, fraction=0.05)
    bar.set_label(label)
    bar.outline.set_linewidth(0.5)


def _numbers(ax: Any, analysis: Analysis, values: Floats, form: str, taken: tuple[Floats, ...] = ()) -> None:
    """Values written at places spread evenly over those that there are, none on a place that is ``taken``."""
    known = np.isfinite(values)
    if not known.any():
        return
    centres = analysis.solution.patches.centre
    low, high = centres[known].min(axis=0), centres[known].max(axis=0)
    low, high = low + _INSET * (high - low), high - _INSET * (high - low)
    written = list(taken)
    bolster = analysis.case.press.bolster
    room = np.array([_ROOM_ALONG * bolster.length, _ROOM_ACROSS * bolster.length])
    columns, rows = (int(n) for n in np.clip((high - low) / room + 1, 1, (_ALONG, _ACROSS)))
    for along in _spread(low[0], high[0], columns):
        for across in _spread(low[1], high[1], rows):
            distance = np.where(known, np.hypot(*(centres - (along, across)).T), np.inf)
            nearest = int(np.argmin(distance))
            if distance[nearest] > room[0]:
                continue
            place = plan.placed(analysis.case, centres[nearest][None, :])[0]
            if any(np.all(np.abs(place - other) < room) for other in written):
                continue
            written.append(place)
            ax.text(*place, _told(values[nearest], form), bbox=_BOX, **_LABEL)


def _spread(low: float, high: float, count: int) -> Floats:
    """So many places from end to end; the middle if one."""
    return np.linspace(low, high, count) if count > 1 else np.array([(low + high) / 2])


def _told(value: float, form: str) -> str:
    shown = format(value, form)
    if float(shown) == 0:
        return "0" if value == 0 else shown.lstrip("+-")
    return shown.replace("-", "−")

"""The lesson computed ahead on a grid of settings, for a page that has no solver behind it.

Between the grid's points the page draws a parabola through the three levels of each slider; how far that is off is
measured at the middles of the grid's cells and told in the page.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from deflect.desk.lesson.states import COARSER, SHARES, Plain, solved, walked
from deflect.desk.lesson.teaching import SLIDERS, Setting

Levels = Mapping[str, tuple[float, ...]]
FULL: Levels = {
    "bolster": (140.0, 210.0, 280.0),
    "opening": (1600.0, 2000.0, 2400.0),
    "base": (150.0, 300.0, 450.0),
    "spread": (0.40, 0.65, 0.90),
}
"""The settings that are computed; every lesson asks at these."""
# Every so many of the cells' middles is solved to measure the interpolation.
_MEASURED_EVERY = 2
# Heights and gaps in the file are whole tenths of a micrometre.
TENTHS = 1e4
_NUMBERS = ("greatest", "contact", "sag", "face", "breathing")
_ERRORS = ("greatest", "sag", "creep")

Progress = Callable[[str], None]


@dataclass(frozen=True)
class Misses:
    """Interpolated against solved at the middles of cells, full force: greatest and mean difference of each number
    (mm, creep in µm per stroke), at how many points; and the lesson's mesh against the usual one, gap in mm."""

    greatest: Mapping[str, float]
    mean: Mapping[str, float]
    points: int
    mesh: float


def ends(levels: Levels) -> Levels:
    """The outermost levels alone."""
    return {key: (values[0], values[-1]) for key, values in levels.items()}


def nodes(levels: Levels) -> Iterator[tuple[str, Setting]]:
    """Every point of the grid, with its name: places in the levels, joined by commas."""
    keys = [slider.key for slider in SLIDERS]
    for places in itertools.product(*(range(len(levels[key])) for key in keys)):
        values = {key: levels[key][place] for key, place in zip(keys, places, strict=True)}
        yield ",".join(map(str, places)), _setting(values)


def _setting(values: Mapping[str, float]) -> Setting:
    return Setting(values["bolster"], values["opening"], values["base"], values["spread"])


def computed(progress: Progress = lambda _: None, levels: Levels = FULL, coarser: float = COARSER) -> Plain:
    """The whole lesson as JSON values: every setting of the grid, and what lies between them is off by."""
    outer = ends(levels)
    inner_nodes, outer_nodes = list(nodes(levels)), list(nodes(outer))
    total, done = len(inner_nodes) + 3 * len(outer_nodes), itertools.count(1)
    free: Plain = {}
    posts: Plain = {}
    held: dict[str, Plain] = {"key": {}, "cones": {}}
    frame: Plain = {}
    for name, setting in inner_nodes:
        told = solved(setting, coarser=coarser)
        frame = frame or _frame(told)
        free[name] = _packed(told)
        progress(f"{next(done)} of {total} settings")
    for name, setting in outer_nodes:
        posts[name] = _packed(solved(replace(setting, switch="posts"), coarser=coarser))
        progress(f"{next(done)} of {total} settings")
        for switch, found in held.items():
            found[name] = walked(replace(setting, switch=switch), coarser=coarser)
            progress(f"{next(done)} of {total} settings")
    progress("measuring what lies between the settings")
    told = {
        "frame": frame,
        "shares": list(SHARES),
        "levels": {key: list(values) for key, values in levels.items()},
        "outer": {key: list(values) for key, values in outer.items()},
        "none": free,
        "posts": posts,
        "held": held,
    }
    return told | {"misses": _as_plain(_misses(told, levels, coarser))}


def _frame(told: Plain) -> Plain:
    return {key: told[key] for key in ("bolster", "die", "x", "y", "place", "half", "force")}


def _packed(told: Plain) -> Plain:
    """A setting without what all share; heights and gaps as whole tenths of a micrometre."""
    return {
        "states": [
            {
                "table": _tenths(state["table"]),
                "under": _tenths(state["under"]),
                "gap": _tenths(state["gap"]),
                "at": state["at"],
            }
            | {key: state[key] for key in _NUMBERS}
            for state in told["states"]
        ],
        "walk": told.get("walk"),
        "posts": told["posts"],
    }


def _tenths(values: Sequence[float | None]) -> list[int | None]:
    return [None if value is None else round(value * TENTHS) for value in values]


def _misses(told: Plain, levels: Levels, coarser: float) -> Misses:
    keys = [slider.key for slider in SLIDERS]
    split = {key: len(levels[key]) > 1 for key in keys}
    cells = list(itertools.product(*(range(max(len(levels[key]) - 1, 1)) for key in keys)))[::_MEASURED_EVERY]
    off: dict[str, list[float]] = {key: [] for key in _ERRORS}
    for place in cells:
        middle = {k: (levels[k][p] + levels[k][p + split[k]]) / 2 for k, p in zip(keys, place, strict=True)}
        exact = solved(_setting(middle), coarser=coarser)
        counts = {name: _count(middle, setting, levels) for name, setting in nodes(levels)}
        for key in _ERRORS:
            between = sum(count * _number(told["none"][name], key) for name, count in counts.items())
            off[key].append(abs(between - _number(exact, key)))
    usual = solved(_setting(middle), with_walk=False, coarser=1.0)
    finer = abs(_number(usual, "greatest") - _number(exact, "greatest"))
    return Misses(
        {k: max(v) for k, v in off.items()}, {k: float(np.mean(v)) for k, v in off.items()}, len(cells), finer
    )


def _count(wanted: Mapping[str, float], setting: Setting, levels: Levels) -> float:
    """What a computed setting counts at a wanted one: Lagrange's polynomial along each slider."""
    count = 1.0
    for key, value in wanted.items():
        own = float(getattr(setting, key))
        for other in levels[key]:
            if other != own:
                count *= (value - other) / (own - other)
    return count


def _number(told: Plain, key: str) -> float:
    return float(told["walk"]["creep"] if key == "creep" else told["states"][-1][key])


def _as_plain(misses: Misses) -> dict[str, Any]:
    return {
        "greatest": {key: round(value, 4) for key, value in misses.greatest.items()},
        "mean": {key: round(value, 4) for key, value in misses.mean.items()},
        "points": misses.points,
        "mesh": round(misses.mesh, 4),
    }

"""A solved state as plain numbers for the drawings in the browser; lengths in mm, rounded to a nanometre."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.footprint import from_table
from deflect.mechanics.holders import holders_of
from deflect.mechanics.solution import Section, Solution
from deflect.model.case import Case
from deflect.model.values import Rectangle
from deflect.report import plan

Plain = dict[str, Any]
_DIGITS = 6
# Arrows of force over a section.
_ARROWS = 9


def picture(solution: Solution) -> Plain:
    """Plan and both sections of a solution, as ``stage.js`` draws them."""
    case = solution.case
    outline = solution.outline
    return {
        "bolster": {"length": case.press.bolster.length, "width": case.press.bolster.width},
        "holes": [_box(hole) for hole in case.press.bolster.openings],
        "opening": _box(case.press.bed.opening),
        "die": _die(case),
        "x": _rounded(outline[:, 0, 0]),
        "y": _rounded(outline[0, :, 1]),
        "gap": _rounded(solution.gap),
        "greatest": round(solution.greatest_gap, _DIGITS),
        "at": [round(v, 1) for v in solution.greatest_gap_at],
        "forces": [_points(line) for outline in plan.force_outlines(case) for line in outline.lines],
        "clamps": [_points(plan.placed(case, np.array([(c.x, c.y)])))[0] for c in case.die.placing.clamps],
        "posts": [[post.x, post.y] for post in case.press.bed.posts],
        "keys": _located(case),
        "shims": [_box(shim.area) for shim in case.die.placing.shims],
        "cuts": {section.along: cut(case, section) for section in solution.sections},
    }


def cut(case: Case, section: Section) -> Plain:
    """One section: heights of table and underside over the plane of an unworn, unloaded table."""
    bolster, opening = case.press.bolster.plan, case.press.bed.opening
    along_x = section.along == "x"
    lands = (
        [[bolster.left, opening.left], [opening.right, bolster.right]]
        if along_x
        else [[bolster.front, opening.front], [opening.back, bolster.back]]
    )
    half = (case.press.bolster.length if along_x else case.press.bolster.width) / 2
    return {
        "along": section.along,
        "half": half,
        "place": _rounded(section.place),
        "table": _rounded(section.table),
        "under": _rounded(section.underside),
        "bears": [bool(b) for b in _bears(case, section)],
        "lands": lands,
        "arrows": arrows(case, section.along),
    }


def arrows(case: Case, along: str) -> list[float]:
    """Places along a section, bolster axes, over which the force acts."""
    axis = 0 if along == "x" else 1
    points = np.concatenate([line for outline in plan.force_outlines(case) for line in outline.lines])
    low, high = points[:, axis].min(), points[:, axis].max()
    return _rounded(np.linspace(low, high, _ARROWS))


def _bears(case: Case, section: Section) -> Floats:
    """Where along the cut the base has bearing; between, its underside is hollow."""
    placing, base = case.die.placing, case.die.base
    points = np.tile([placing.x, placing.y], (section.place.size, 1)).astype(float)
    points[:, 0 if section.along == "x" else 1] = section.place
    x, y = from_table(placing, points).T
    bears = np.zeros(section.place.size, dtype=bool)
    slack = 1e-6
    for area in base.bearing or (base.plan,):
        bears |= (np.abs(x - area.x) <= area.length / 2 + slack) & (np.abs(y - area.y) <= area.width / 2 + slack)
    return np.asarray(bears & np.isfinite(section.underside))


def _die(case: Case) -> Plain:
    placing, base = case.die.placing, case.die.base
    return {"x": placing.x, "y": placing.y, "turn": placing.rotation, "length": base.length, "width": base.width}


def _located(case: Case) -> list[list[Any]]:
    """Keys and cones: place in bolster axes, and name."""
    placing = case.die.placing
    return [
        [placing.x + holder.place[0], placing.y + holder.place[1], holder.kind]
        for holder in holders_of(case)
        if holder.kind in ("key", "cone")
    ]


def _box(area: Rectangle) -> Plain:
    return {"x": area.x, "y": area.y, "length": area.length, "width": area.width}


def _points(line: Floats) -> list[list[float]]:
    return [[round(float(x), 1), round(float(y), 1)] for x, y in line]


def _rounded(values: Floats) -> list[Any]:
    return [round(v, _DIGITS) if math.isfinite(v) else None for v in np.ravel(values).tolist()]

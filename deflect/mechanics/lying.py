"""How the bolster lies on its bed: where it lifts, what its land and its hold-downs carry, how far walls sink."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.standing import Standing, State

CORNERS = ("front left", "front right", "back left", "back right")


@dataclass(frozen=True)
class Lying:
    """Lengths in mm, forces in N, pressure in MPa.

    at_rest, under_force: gap between bolster and land at its four corners, in the order of ``CORNERS``; None where
    there is no land.  pressure: greatest of a land patch.  wall_sinking: greatest of walls that span between columns;
    None: there are none.  hold_down: greatest pull of one under force, None: none acts; preload: of that one.
    """

    at_rest: tuple[float | None, ...]
    under_force: tuple[float | None, ...]
    pressure: float
    wall_sinking: float | None
    hold_down: float | None
    preload: float | None


def lying(standing: Standing, rest: State, full: State) -> Lying:
    """Read it off the state at rest and the state under force."""
    near = _corner_patches(standing)
    holds = standing.case.press.bed.hold_downs if full.assumptions.hold_downs else ()
    first, below = standing.contacts + standing.lands, None
    if standing.walls is not None:
        on_walls = full.force[standing.contacts : standing.contacts + len(standing.walls)]
        below = float((standing.walls[: standing.lands] @ on_walls).max())
    pull = full.force[first : first + len(holds)]
    most = int(np.argmax(pull)) if holds else 0
    return Lying(
        at_rest=_at(rest.land_gap, near),
        under_force=_at(full.land_gap, near),
        pressure=float((full.land_force / standing.table.land.area).max()),
        wall_sinking=below,
        hold_down=float(pull[most]) if holds else None,
        preload=holds[most].preload if holds else None,
    )


def _corner_patches(standing: Standing) -> tuple[int | None, ...]:
    """The land patch at each corner of the bolster."""
    land, plan = standing.table.land, standing.table.bolster.plan
    reach = 0.15 * min(plan.length, plan.width)
    found: list[int | None] = []
    for y in (plan.front, plan.back):
        for x in (plan.left, plan.right):
            away = np.hypot(land.centre[:, 0] - x, land.centre[:, 1] - y)
            nearest = int(np.argmin(away))
            found.append(nearest if away[nearest] < reach else None)
    return tuple(found)


def _at(values: Floats, places: tuple[int | None, ...]) -> tuple[float | None, ...]:
    return tuple(None if place is None else float(max(values[place], 0.0)) for place in places)

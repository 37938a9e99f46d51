"""Walls of the bed that span between columns: Timoshenko beams below the land, columns on corner feet.

The columns hold the ends of the walls up, not their slope, which is the careful side: walls that are built in sag less.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from deflect.mechanics.arrays import Floats, Integers
from deflect.model.bed_walls import SpanningWalls
from deflect.model.press import HoldDown

# Shear coefficient of a rectangular section (Reissner 1945; Timoshenko 1921 has about 2/3, Cowper 1966 about 0.85).
_SHEAR_SHARE = 5.0 / 6.0


def beam_answer(place: Floats, force_at: Floats, span: float, bending: float, shear: float) -> Floats:
    """Deflection (n, m) at ``place`` (n,) of a beam on two supports under unit forces at ``force_at`` (m,), mm/N.

    Places from the left support, mm; bending: EI, N mm2; shear: k G A, N.  S. Timoshenko, Strength of Materials,
    part I (forces on a simply supported beam) and Phil. Mag. 41 (1921) 744 (shear).
    """
    x, a = place[:, None], force_at[None, :]
    left, right = np.minimum(x, a), np.maximum(x, a)
    b = span - right
    return np.asarray(left * b * (span**2 - b**2 - left**2) / (6 * span * bending) + left * b / (span * shear))


def wall_answer(walls: SpanningWalls, centre: Floats) -> Floats:
    """Sinking (n, n) of the walls below patches of land at ``centre`` (n, 2) under unit forces on them, mm/N.

    Each patch stands on the nearest wall; one beyond the columns on the column.  A wall bends, the columns at its
    ends sink on their feet.
    """
    wall, along = _nearest(walls, centre)
    modulus, shear_modulus = walls.material.youngs_modulus, walls.material.shear_modulus
    answer = np.zeros((len(centre), len(centre)))
    feet = np.zeros((len(centre), 4))
    for k, (thickness, span, ends) in enumerate(_walls(walls)):
        here = np.flatnonzero(wall == k)
        if not here.size:
            continue
        bending = modulus * thickness * walls.height**3 / 12
        shear = _SHEAR_SHARE * shear_modulus * thickness * walls.height
        place = along[here]
        answer[np.ix_(here, here)] += beam_answer(place, place, span, bending, shear)
        feet[here, ends[0]] = 1 - place / span
        feet[here, ends[1]] = place / span
    return np.asarray((answer + feet @ feet.T / walls.foot_stiffness) / walls.stiffness.nominal)


def bed_answer(walls: SpanningWalls | None, land: Floats, hold_downs: Sequence[HoldDown]) -> Floats | None:
    """What walls add between the ports of land (n_l) and hold-downs (n_h), mm/N; None where nothing spans.

    A hold-down is fast on the wall below it: it goes down with the wall, and its pull lifts it.
    """
    if walls is None:
        return None
    places = np.vstack([land, np.array([(h.x, h.y) for h in hold_downs], dtype=float).reshape(-1, 2)])
    sign = np.append(np.ones(len(land)), -np.ones(len(hold_downs)))
    return np.asarray(wall_answer(walls, places) * np.outer(sign, sign))


def _walls(walls: SpanningWalls) -> list[tuple[float, float, tuple[int, int]]]:
    """Thickness, span and columns of front, back, left and right wall; columns: front left, front right, back left,
    back right."""
    x, y = walls.columns.length, walls.columns.width
    return [
        (walls.along_x, x, (0, 1)),
        (walls.along_x, x, (2, 3)),
        (walls.along_y, y, (0, 2)),
        (walls.along_y, y, (1, 3)),
    ]


def _nearest(walls: SpanningWalls, centre: Floats) -> tuple[Integers, Floats]:
    """Which wall each patch stands on (n,), and how far from the wall's first column (n,), mm."""
    columns = walls.columns
    x = np.clip(centre[:, 0], columns.left, columns.right)
    y = np.clip(centre[:, 1], columns.front, columns.back)
    away = np.column_stack(
        [
            np.hypot(centre[:, 0] - x, centre[:, 1] - columns.front),
            np.hypot(centre[:, 0] - x, centre[:, 1] - columns.back),
            np.hypot(centre[:, 0] - columns.left, centre[:, 1] - y),
            np.hypot(centre[:, 0] - columns.right, centre[:, 1] - y),
        ]
    )
    there = np.array([thickness > 0 for thickness, _, _ in _walls(walls)])
    wall = np.argmin(np.where(there, away, np.inf), axis=1)
    along = np.where(wall < 2, x - columns.left, y - columns.front)
    return wall, np.asarray(along)

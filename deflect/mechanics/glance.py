"""A case at the usual values only: what a picture needs at once, and a force that rises from nothing.

The same numbers as in ``analyse``, without creep over the ranges and without the ranges.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from deflect.mechanics.drag import Drag
from deflect.mechanics.draws import USUAL
from deflect.mechanics.footprint import Mesh
from deflect.mechanics.ground import Ground
from deflect.mechanics.solution import Face, Solution, solve, solve_like
from deflect.model.case import Case


@dataclass(frozen=True, eq=False)
class Glance:
    """A case at the usual values, at rest and under force; face: the one to judge."""

    solution: Solution
    face: Face


@dataclass(frozen=True, eq=False)
class Pressed:
    """A case under a share of its forces; breathing: how far the die's underside moves over the bolster's top from
    rest to this share at the place where it moves most, mm, friction left out."""

    share: float
    solution: Solution
    breathing: float


@dataclass(frozen=True)
class Walk:
    """What becomes of the die stroke after stroke: creep of the free die, mm per stroke along x and y; holds: of each
    key and cone name, place (bolster axes about the die's centre, mm) and the force at every stroke, N."""

    creep: tuple[float, float]
    holds: tuple[tuple[str, tuple[float, float], float], ...]


def glance(case: Case, like: Solution | None = None, coarser: float = 1.0) -> Glance:
    """Solve a case at rest and under force, from a like one where there is one.

    coarser: factor on the mesh's sizes; above 1 it is quicker, and off by about what ``MeshError`` says.
    """
    ground = Ground.of(case, _mesh(case, coarser))
    assumptions = ground.sample(USUAL).assumptions
    standing = ground.standing
    solved = solve(standing, assumptions) if like is None else solve_like(standing, assumptions, like)
    solution = replace(solved, case=case)
    return Glance(solution, ground.judged_face(solution.face, ground.sample(USUAL)))


def rise(case: Case, shares: Sequence[float], coarser: float = 1.0) -> tuple[Pressed, ...]:
    """The case under each of some shares of its forces, in order."""
    ground = Ground.of(case, _mesh(case, coarser))
    assumptions, standing = ground.sample(USUAL).assumptions, ground.standing
    drag = Drag.of(standing)
    rest = standing.solve(0.0, assumptions)
    at_rest = drag.breathing(rest)
    pressed, before = [], rest
    for share in shares:
        state = standing.solve(share, assumptions, before.closed)
        solution = replace(solve(standing, assumptions, rest, state), case=case)
        moved = drag.breathing(state) - at_rest
        pressed.append(Pressed(share, solution, float(np.hypot(*moved.T).max())))
        before = state
    return tuple(pressed)


def walk(case: Case, coarser: float = 1.0) -> Walk:
    """Creep of the free die along its stated thrust (+x where none is stated), and what keys and cones take."""
    ground = Ground.of(case, _mesh(case, coarser))
    direction = case.die.thrust_direction or 0.0
    solved = ground.solve(USUAL, (direction,))
    held = solved.hold(case, (direction,)) if case.die.placing.held else None
    forces = () if held is None else held.forces
    x, y = solved.creep.march.shift[:2]
    holds = tuple((f.holder.name, f.holder.place, f.force.nominal) for f in forces)
    return Walk((float(x), float(y)), holds)


def _mesh(case: Case, coarser: float) -> Mesh | None:
    return None if coarser == 1.0 else Mesh.suited(case, coarser)

"""What becomes of a case if its open ribbed base twists less than its plate does.

A hollow body that is open below resists twist by its thin ribs and its skin alone, and a plate of it knows nothing of
the corners in which walls and ribs hold each other: bodies of solid elements twist less.  The case is solved anew with
as much twisting stiffness as those bodies have at most.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from deflect.mechanics.analysis import Analysis
from deflect.mechanics.body import condense_base
from deflect.mechanics.draws import USUAL
from deflect.mechanics.footprint import Mesh, footprint_of
from deflect.mechanics.ground import Ground
from deflect.mechanics.loads import pattern_forces
from deflect.mechanics.solution import solve_like
from deflect.mechanics.standing import Standing, stand_on
from deflect.model.die import DieBase

# Twist of a plate over that of the solid body, less 1, times the bays across the shorter side: ours, solid elements,
# open bodies of 2 to 6 bays across (tests/mechanics/rib_body.py).
SOFTER_BY_BAYS = 1.4


@dataclass(frozen=True)
class OpenTwist:
    """How much softer in twist a base is taken than it may be, as a share, and by how much greatest gap and face error
    are other with the stiffer one, mm."""

    softer: float
    gap: float
    face: float


def softer_in_twist(base: DieBase) -> float:
    """By how much more a base twists here than a solid model of it at most, as a share; 0: it is closed, or solid."""
    ribs = base.ribs
    if ribs is None or not ribs.is_open:
        return 0.0
    rows = ((ribs.along_x, base.width), (ribs.along_y, base.length))
    bays = [1 if row is None else row.bays(across, ribs.walls) for row, across in rows]
    return SOFTER_BY_BAYS / min(bays)


def open_twist(analysis: Analysis) -> OpenTwist | None:
    """The usual values with a base that twists as little as it may; None: its base is solid, or closed below."""
    case = analysis.case
    softer = softer_in_twist(case.die.base)
    if softer == 0.0:
        return None
    ground = Ground.of(case)
    stiffer = replace(
        ground,
        standing=_twisting(ground.standing, 1 + softer),
        bedded=None if ground.bedded is None else _twisting(ground.bedded, 1 + softer),
    )
    sample, usual = ground.sample(USUAL), analysis.on_usual_mesh.solution
    found = solve_like(stiffer.standing, sample.assumptions, usual)
    before, after = ground.judged_face(usual.face, sample), stiffer.judged_face(found.face, sample)
    return OpenTwist(softer, abs(found.greatest_gap - usual.greatest_gap), abs(after.error_range - before.error_range))


def _twisting(standing: Standing, times: float) -> Standing:
    """The same die on the same table, its base so many times stiffer in twist."""
    case = standing.case
    mesh = Mesh.suited(case)
    base = condense_base(case.die.base, mesh.element, mesh.patch, mesh.narrow_rim, times)
    return stand_on(case, footprint_of(case, mesh), base, lambda patterns: pattern_forces(patterns, case.base_force))

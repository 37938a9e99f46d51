"""A die condensed for screening: its base at its patches, in die axes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.sparse as sparse

from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import GRAVITY, PATCH_POINTS, PATCH_SIZE, condense_base
from deflect.mechanics.drag import FAR_SPREAD, SPREAD, away
from deflect.mechanics.footprint import LONGEST_BASE, USUAL_BASE
from deflect.mechanics.loading import downward, mean_pressure
from deflect.mechanics.loads import PointForces, pattern_forces, rectangle_points
from deflect.mechanics.support import FAR_FACE_GIVE
from deflect.mechanics.thrust import one_sided
from deflect.model.die import Die


@dataclass(frozen=True, eq=False)
class CondensedDie:
    """n patches, c corners of patches.  lines_x, lines_y: of the patches, mm; points (n q, 2): q in each, with their
    shares (q,) of it; bearing (n,) share; squeeze (n,) mm/MPa.

    own (n, n) mm/N: rise of the underside by forces on it; modes (n, 3): by rigid motions; constant (n,), working
    (n,): by weight and clamps, and by 1 N of force; their resultants (3,).  The same at the corners: corner_own
    (c, n), corner_modes, corner_constant, corner_working.  breathing_own (2, n, n), breathing_modes (2, n, 3),
    breathing_working (2, n): movement of the underside along x and y, die axes; spread (2, n, n):
    what a sheet at the interface spreads by unit pressures, for the table's share.  leaning (4, 2): what of its force
    is one-sided, see ``Leanings``: unbalanced, the same on the return, centre and cut, die axes.
    """

    lines_x: Floats
    lines_y: Floats
    points: Floats
    point_share: Floats
    bearing: Floats
    squeeze: Floats
    own: Floats
    modes: Floats
    constant: Floats
    working: Floats
    constant_resultant: Floats
    working_resultant: Floats
    corner_own: Floats
    corner_modes: Floats
    corner_constant: Floats
    corner_working: Floats
    breathing_own: Floats
    breathing_modes: Floats
    breathing_working: Floats
    spread: Floats
    leaning: Floats

    @property
    def corners(self) -> Floats:
        """Corners of the patches (c, 2), die axes, mm."""
        gx, gy = np.meshgrid(self.lines_x, self.lines_y, indexing="ij")
        return np.column_stack([gx.ravel(), gy.ravel()])


def patch_size(die: Die) -> float:
    """Size of the patches below a die, mm, as a check has it."""
    base = die.base
    area, extent = base.length * base.width, max(base.length, base.width)
    return PATCH_SIZE * max(1.0, float(np.sqrt(area / USUAL_BASE)), extent / LONGEST_BASE)


def die_content(die: Die) -> str:
    """All that a condensed die depends on, as text: neither its place nor its force."""
    clamps = tuple((c.x, c.y, c.force) for c in die.placing.clamps)
    return f"die {patch_size(die):g} {(die.base, die.patterns, die.operation, die.lower.mass, clamps)!r}"


def condense_die(die: Die) -> CondensedDie:
    """Condense the base of a die with its weight, its clamps and its force patterns."""
    base = condense_base(die.base, patch_size=patch_size(die))
    points, average = base.patches.quadrature(PATCH_POINTS)
    rows, answer = base.contact_rows, base.contact_answer
    plan, weight = rectangle_points(die.base.plan)
    load = downward(base, PointForces(plan, weight * (die.lower.mass * GRAVITY / weight.sum())))
    if die.placing.clamps:
        places = np.array([(c.x, c.y) for c in die.placing.clamps])
        load = load + base.top(places).deflection.T @ -np.array([c.force for c in die.placing.clamps])
    forces = pattern_forces(die.patterns, 1.0)
    pressure = mean_pressure(base, forces)
    push = downward(base, forces)
    constant, working = (base.respond(sparse.csr_array(one[None, :]))[:, 0] for one in (load, push))
    gx, gy = np.meshgrid(*base.lines, indexing="ij")
    corner = base.underside(np.column_stack([gx.ravel(), gy.ravel()])).surface
    along = base.breathing(base.patches.centre)
    ratio, modulus = die.base.material.poisson_ratio, die.base.material.youngs_modulus
    of_base = 0.0 if die.base.ribs is not None else (1 + ratio) * ratio / modulus
    n = base.patches.area.size
    field = away(base.patches.centre, base.patches.centre).reshape(n, 2, n).transpose(1, 0, 2)
    from_top = FAR_SPREAD * of_base * (field @ (base.patches.area * pressure))
    return CondensedDie(
        lines_x=base.lines[0], lines_y=base.lines[1], points=points, point_share=average[[0]].data,
        bearing=base.bearing, squeeze=base.squeeze_below,
        own=base.contact_compliance, modes=rows @ base.rigid,
        constant=rows @ constant, working=rows @ working + FAR_FACE_GIVE * base.squeeze_below * pressure,
        constant_resultant=base.rigid.T @ load, working_resultant=base.rigid.T @ push,
        corner_own=(corner @ answer).astype(np.float32), corner_modes=corner @ base.rigid,
        corner_constant=corner @ constant, corner_working=corner @ working,
        breathing_own=(np.stack([r @ answer for r in along]) + SPREAD * of_base * field).astype(np.float32),
        breathing_modes=np.stack([r @ base.rigid for r in along]),
        breathing_working=np.stack([r @ working for r in along]) + from_top,
        spread=(-SPREAD * field).astype(np.float32), leaning=np.stack(one_sided(die)),
    )  # fmt: skip

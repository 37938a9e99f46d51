"""The cases of ``cross_cases`` put to the production mechanics; figures by the labels of the frozen ones."""

from __future__ import annotations

import numpy as np
import scipy.sparse as sparse

from deflect.checks.bench.cross_cases import BEDDED, OPENED, STACKED, Bedded, Slab
from deflect.checks.bench.grounded import ground
from deflect.checks.bench.plates import bend, even_pressure, held, patch_force, sinking
from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import PATCH_POINTS, condense_table
from deflect.mechanics.footprint import Mesh
from deflect.mechanics.loading import Loads
from deflect.mechanics.loads import rectangle_points
from deflect.mechanics.mesh import PlanMesh, graded_lines
from deflect.mechanics.plate import Plate
from deflect.mechanics.sections import solid_section
from deflect.mechanics.standing import Assumptions, Standing, stand
from deflect.model.case import Case
from deflect.model.die import Die, DieBase, Half, Limits, Operation, Placing
from deflect.model.force import Patch
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster, Land, Press
from deflect.model.values import Interval

# Elements of the plate with an opening, mm, and next to its corners; of plates that lie on others, and patches there.
_ELEMENT, _CORNER, _PATCH = 100.0, 12.5, 50.0


def _material(slab: Slab) -> Material:
    return Material("check", slab.youngs_modulus, slab.poisson, 1e-6, 100.0)


def _key(place: tuple[float, float], what: str = "w") -> str:
    return f"{what} at {place[0]:g}, {place[1]:g}"


def opened() -> dict[str, float]:
    """Deflection downwards at each place, mm."""
    plan, hole = OPENED.slab.plan, OPENED.opening
    edges_x, edges_y = (hole.left, hole.right), (hole.front, hole.back)
    x = graded_lines((plan.left, plan.right, *edges_x), _ELEMENT, edges_x, _CORNER)
    y = graded_lines((plan.front, plan.back, *edges_y), _ELEMENT, edges_y, _CORNER)
    section = solid_section(OPENED.slab.thickness, _material(OPENED.slab))
    plate = Plate.uniform(PlanMesh.with_openings(x, y, (hole,)), section)
    motion = bend(plate, even_pressure(plate, OPENED.pressure), held(plate, "soft", ("left", "right")))
    return {_key(place): sinking(plate, motion, *place) for place in OPENED.places}


def _bolster(case: Bedded) -> Bolster:
    plan = case.slab.plan
    return Bolster(plan.length, plan.width, case.slab.thickness, 0.0, _material(case.slab))


def bedded() -> dict[str, float]:
    """Deflection downwards at each place, mm, and the share of the land that carries: the production bolster and land,
    without the thickening of a plate that bends."""
    table = condense_table(_bolster(BEDDED), BEDDED.bare, _ELEMENT)
    points, average = table.land.quadrature(PATCH_POINTS)
    rows = (average @ table.plate.at(points).deflection).tocsr()
    area = table.land.area
    load = patch_force(table.plate, BEDDED.loaded, BEDDED.force, _ELEMENT / 4)
    none = np.zeros(area.size)
    state = ground(table.plate, rows, load, 1 / (BEDDED.springs * area), none, none > 0)
    carries = float(area[state.solved.force > 0].sum() / area.sum())
    figures = {_key(place): sinking(table.plate, state.motion, *place) for place in BEDDED.places}
    return figures | {"share of the land that carries": carries}


def _standing() -> Standing:
    """The two plates as a die on a press, without weight."""
    case, upper = STACKED.below, STACKED.upper
    base = DieBase(upper.plan.length, upper.plan.width, upper.thickness, _material(upper))
    none = Interval.exactly(0.0)
    bed = Bed(case.bare, Land(Interval.exactly(case.springs), "springs"))
    press = Press("check", case.force, _bolster(case), bed, None, None, none, none, None)
    half, pattern = Half(base.thickness, 0.0, False), Patch(1.0, case.loaded)
    die = Die("check", Operation.FORM, base, half, half, case.force, 0.0, (pattern,), Placing(),
              Limits(1.0, 1.0, 1.0), none)  # fmt: skip
    return stand(Case(press, die), Mesh(_ELEMENT, _PATCH))


def _pressed(standing: Standing) -> Floats:
    """Load of the force on the base's top; its squeeze, which the solver's plates do not know, is left out."""
    points, weight = rectangle_points(STACKED.below.loaded)
    force = weight * (STACKED.below.force / weight.sum())
    return np.asarray(standing.base.top(points).deflection.T @ -force)


def stacked() -> dict[str, float]:
    """Deflections downwards of the lower plate, gaps between the plates, mm, and the share of the upper one in contact:
    the production bodies and contact."""
    standing = _standing()
    squeeze = standing.contact_squeeze
    # The springs between the plates are the whole of the contact layer.
    give = Assumptions(STACKED.below.springs, land_give=0.0, contact_give=1 / (STACKED.between * float(squeeze.mean())))
    loads = Loads(np.zeros(standing.table.motions), _pressed(standing))
    state = standing.solve_under(standing.response(loads), give)

    def down(rows: sparse.csr_array, motion: Floats) -> float:
        return -float((rows @ motion)[0])

    def table(place: tuple[float, float]) -> float:
        return down(standing.table.top(np.array([place])).deflection, state.table_motion)

    def gap(place: tuple[float, float]) -> float:
        return table(place) - down(standing.base.underside(np.array([place])).deflection, state.base_motion)

    area = standing.contact_area
    figures = {_key(place): table(place) for place in STACKED.below.places}
    figures |= {_key(place, "gap"): gap(place) for place in STACKED.gaps}
    return figures | {"share of the upper plate in contact": float(area[state.contact_force > 0].sum() / area.sum())}

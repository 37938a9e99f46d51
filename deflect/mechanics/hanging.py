"""The upper half below its slide, seen in a mirror: the slide is the table, hung from points, the upper die its base.

In the mirror z counts down and x and y stay, so that everything that holds of a die standing on a table holds here.
Weight pulls away from the slide: masses count negative.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import scipy.sparse as sparse

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Sparse
from deflect.mechanics.body import ELEMENT_SIZE, PATCH_SIZE, Table, condense_base
from deflect.mechanics.contract import TableBody
from deflect.mechanics.footprint import Footprint, lay_footprint
from deflect.mechanics.layout import bolster_layout
from deflect.mechanics.loads import Patches, pattern_forces
from deflect.mechanics.mesh import PlanMesh, graded_lines
from deflect.mechanics.plate import Plate
from deflect.mechanics.standing import Assumptions, Standing, stand_on
from deflect.mechanics.support import CONTACT_GIVE, LAND_GIVE
from deflect.model.case import Case
from deflect.model.die import DieBase, Placing
from deflect.model.press import Bed, Bolster, Land, Slide, TSlots
from deflect.model.slide import SlideBody
from deflect.model.values import EVEN, Interval, Rectangle

# Up to these plan areas (mm2) the usual sizes hold; beyond them they grow with the square root (ours).
_USUAL_SLIDE, _USUAL_UPPER = 14e6, 4e6
_NO_OPENING = Rectangle(0.0, 0.0, 0.0, 0.0)


def missing_above(case: Case) -> dict[str, object]:
    """What the upper half's mechanics asks for, by its key; None: it is not stated."""
    slide = case.press.slide
    return {
        "press.slide.length": None if slide is None else slide.length,
        "press.slide.width": None if slide is None else slide.width,
        "press.slide.body": None if slide is None else slide.body,
        "die.upper.base": case.die.upper.base,
    }


def described_above(case: Case) -> bool:
    """Whether slide and upper die are described, so that they can be solved."""
    return all(value is not None for value in missing_above(case).values())


@dataclass(frozen=True, eq=False)
class Hanging:
    """The upper half below its slide: in the mirror, nothing solved.

    guide_rows (g, N_t): sideways movement of a guide's end as the slide tilts, mm, along x and y; guide_give (g,):
    mm/N.  points: hanging points, the last ports of standing.
    """

    standing: Standing
    slide: SlideBody
    guide_rows: Sparse
    guide_give: Floats

    @property
    def points(self) -> int:
        return self.standing.lands

    def assumptions(self, stiffness: float, contact_give: float = CONTACT_GIVE[1]) -> Assumptions:
        """What one solution takes; stiffness: of one hanging point, N/mm."""
        return Assumptions(
            bed_stiffness=stiffness / self.slide.seat**2,
            land_pulls=True,
            land_give=LAND_GIVE[1],
            contact_give=contact_give,
        )


def hang(case: Case) -> Hanging:
    """Hang the upper half of ``case`` below its slide.  Raises MechanicsFailed where one is not described."""
    if not described_above(case):
        raise MechanicsFailed("slide and upper die are not described")
    assert case.press.slide is not None
    return _hang(mirrored(case), case.press.slide)


@lru_cache(maxsize=4)
def _hang(mirror: Case, slide: Slide) -> Hanging:
    """The same, kept: most of what changes below the sheet changes nothing here."""
    base, body = mirror.die.base, slide.body
    assert slide.plan is not None
    assert body is not None
    mesh = _mesh(slide.plan, base.plan)
    place = replace(mirror.die.placing, clamps=())
    bare = replace(
        slide, t_slots=_weakening(slide), permitted_mass=None, body=replace(body, stiffness=Interval.exactly(1.0))
    )
    foot = _footprint(bare, base, place, mesh)
    standing = stand_on(
        mirror, foot, condense_base(base, *mesh), lambda patterns: pattern_forces(patterns, mirror.base_force)
    )
    return Hanging(standing, body, *_guides(foot.table, body))


def mirrored(case: Case) -> Case:
    """Slide and upper half as bolster and lower half, in the mirror; described ones only."""
    slide, upper = case.press.slide, case.die.upper
    assert slide is not None
    assert upper.base is not None
    bed = Bed(_NO_OPENING, Land(None, "hanging points of the slide"))
    press = replace(case.press, bolster=as_table(slide), bed=bed, cushion=None)
    placing = case.die.placing
    die = replace(
        case.die,
        base=upper.base,
        lower=replace(upper, mass=-upper.mass),
        placing=Placing(placing.x, placing.y, placing.rotation, clamps=upper.clamps),
        bedded=None,
        warmth=EVEN,
        guides=(),
        guide_offset=(0.0, 0.0),
    )
    return Case(press, die)


def as_table(slide: Slide) -> Bolster:
    """The slide as a bolster in the mirror: its face is the top, its weight pulls up."""
    body = slide.body
    assert body is not None
    assert slide.length is not None
    assert slide.width is not None
    ribs = body.ribs
    if ribs is not None:
        ribs = replace(ribs, top=ribs.bottom, bottom=ribs.top)
    return Bolster(
        slide.length, slide.width, body.thickness, -body.mass, body.material, ribs=ribs, t_slots=_weakening(slide)
    )


def _weakening(slide: Slide) -> TSlots | None:
    """T-slots of stated depth; others weaken nothing."""
    return slide.t_slots if slide.t_slots is not None and slide.t_slots.depth else None


@lru_cache(maxsize=8)
def condense_slide(slide: Slide, element_size: float = ELEMENT_SIZE) -> Table:
    """Mesh and factorise a slide, with ports at its hanging points."""
    assert slide.body is not None
    bolster = as_table(slide)
    layout = bolster_layout(bolster)
    x, y = (graded_lines(lines, element_size) for lines in layout.lines(bolster.plan))
    mesh = PlanMesh.with_openings(x, y, ())
    seats = np.full(len(slide.body.points), slide.body.seat)
    plate = Plate(mesh, layout.sections, layout.kinds(mesh))
    return Table(plate, bolster, _NO_OPENING, Patches(np.array(slide.body.points), seats, seats))


@lru_cache(maxsize=4)
def _footprint(slide: Slide, base: DieBase, placing: Placing, mesh: tuple[float, float]) -> Footprint:
    return lay_footprint(condense_slide(slide, mesh[0]), condense_base(base, *mesh), placing)


def _mesh(slide: Rectangle, base: Rectangle) -> tuple[float, float]:
    """Element and patch size, mm."""
    grown = max(1.0, float(np.sqrt(slide.area / _USUAL_SLIDE)))
    return grown * ELEMENT_SIZE, max(1.0, float(np.sqrt(base.area / _USUAL_UPPER))) * PATCH_SIZE


def _guides(table: TableBody, body: SlideBody) -> tuple[Sparse, Floats]:
    """Rows and compliances of the guides: tilt times half their length, along x and along y.

    They push and pull: a loaded guide has no clearance left, and what it has adds a free tilt of its own.
    """
    guides = body.guides
    if guides is None:
        return sparse.csr_array((0, table.motions)), np.zeros(0)
    plan = table.bolster.plan
    corners = np.array([(x, y) for x in (plan.left, plan.right) for y in (plan.front, plan.back)])
    read = table.top(corners)
    mean = sparse.csr_array(np.full((1, len(corners)), guides.length / 2 / len(corners)))
    rows = sparse.vstack([mean @ read.rotation_x, mean @ read.rotation_y]).tocsr()
    return rows, np.full(2, 1 / (guides.number * guides.stiffness))

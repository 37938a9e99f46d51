"""Bolster and die base as three-dimensional solids: the reference for a case, by the contract of ``contract.py``.

What a plate takes from theory, a solid has in itself: shear, thickening, the squeeze through the thickness and
below a narrow strip of contact.  No local give is added at the land or at the contact: it would count twice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Sparse, symmetric
from deflect.mechanics.body import GRAVITY, PATCH_POINTS, coarse_between, land_patches
from deflect.mechanics.footprint import fasten, lay_footprint
from deflect.mechanics.loads import Patches, PointForces, patch_grid, pattern_forces
from deflect.mechanics.mesh import PlanMesh, graded_lines, inside
from deflect.mechanics.sections import perforated_section, slot_constants
from deflect.mechanics.solid import FaceRows, Matter, Orthotropy, Solid, elastic_law, solid_matter
from deflect.mechanics.standing import Standing, stand_on
from deflect.model.case import Case
from deflect.model.die import DieBase, Placing
from deflect.model.force import Line, Pattern
from deflect.model.press import Bolster
from deflect.model.values import Rectangle

# A line of force has no width of its own: it spreads through the die above, to this share of the base's thickness.
LINE_SPREAD = 0.5
# Patches of land along the opening's edges, as a share of the element size: twice as long ones raise the sag of a
# ring-loaded block by 1 % (ours).
LAND_PATCH = 0.5
# Patches of land away from the opening, as a multiple of the element size.
_FAR_LAND = 2.0
# Elements of the base, whose patches of contact they bound, as a share of those of the bolster.
BASE_SIZE = 2 / 3
# Points a side that a force of a line is spread on.
_LINE_POINTS = 4
# Edges of the die nearer than this share of the finest element to another line of the table's mesh are not meshed.
_CROWDED = 0.8

Progress = Callable[[str], None]


@dataclass(frozen=True)
class SolidMesh:
    """How finely solids are meshed: elements no longer than ``size`` in plan, ``edge`` at the edges of the bed
    opening, ``fine`` at those of the die, mm; layers: heights of the element layers of bolster and base, as shares
    of the thickness, from below."""

    size: float = 150.0
    edge: float = 5.0
    fine: float = 30.0
    table_layers: tuple[float, ...] = (0.0, 0.15, 1.0)
    base_layers: tuple[float, ...] = (0.0, 0.5, 1.0)


@dataclass(frozen=True, eq=False)
class _SolidBody:
    """A solid as a body."""

    solid: Solid

    @property
    def unknowns(self) -> int:
        return self.solid.unknowns

    @property
    def factor_entries(self) -> int:
        return int(self.solid.factor.nnz)

    @property
    def motions(self) -> int:
        return self.solid.motions

    @property
    def rigid(self) -> Floats:
        return self.solid.rigid

    def respond(self, rows: Sparse) -> Floats:
        return self.solid.respond(rows)

    def top(self, points: Floats) -> FaceRows:
        return self.solid.top(points)

    def underside(self, points: Floats) -> FaceRows:
        return self.solid.underside(points)

    def stress(self, motion: Floats, points: Floats) -> float:
        return self.solid.face_stress(motion, points)


@dataclass(frozen=True, eq=False)
class SolidTable(_SolidBody):
    """The bolster as a free solid, with ports on the land below it."""

    bolster: Bolster
    opening: Rectangle
    land: Patches

    @property
    def plan(self) -> PlanMesh:
        return self.solid.mesh

    @property
    def land_squeeze(self) -> float:
        return 0.0

    def squeeze_at(self, points: Floats) -> Floats:
        return np.zeros(len(points))

    def breathing(self, points: Floats) -> tuple[Sparse, Sparse]:
        x, y = self.solid.top(points).along
        return -x, -y

    @cached_property
    def land_rows(self) -> Sparse:
        points, average = self.land.quadrature(PATCH_POINTS)
        return (average @ self.underside(points).surface).tocsr()

    @cached_property
    def land_answer(self) -> Floats:
        return self.respond(self.land_rows)

    @cached_property
    def weight_load(self) -> Floats:
        plain = self.solid.own_weight()
        return np.asarray(plain * (self.bolster.mass * GRAVITY / -(plain @ self.rigid[:, 0])))


@dataclass(frozen=True, eq=False)
class SolidBase(_SolidBody):
    """The die base as a free solid in die axes; every patch is the foot of one column of elements."""

    base: DieBase
    bearing: Floats

    @property
    def lines(self) -> tuple[Floats, Floats]:
        return self.solid.mesh.x, self.solid.mesh.y

    @property
    def grid(self) -> tuple[int, int]:
        return self.lines[0].size - 1, self.lines[1].size - 1

    @cached_property
    def patches(self) -> Patches:
        return patch_grid(*self.lines)

    @property
    def squeeze(self) -> Floats:
        return np.zeros(self.patches.area.size)

    @property
    def squeeze_below(self) -> Floats:
        return np.zeros(self.patches.area.size)

    def breathing(self, points: Floats) -> tuple[Sparse, Sparse]:
        return self.solid.underside(points).along

    @cached_property
    def contact_rows(self) -> Sparse:
        points, average = self.patches.quadrature(PATCH_POINTS)
        return (average @ self.underside(points).surface).tocsr()

    @cached_property
    def contact_answer(self) -> Floats:
        return self.respond(self.contact_rows)

    @cached_property
    def contact_compliance(self) -> Floats:
        return symmetric(self.contact_rows @ self.contact_answer)


def stand_solid(case: Case, mesh: SolidMesh | None = None, progress: Progress = lambda _: None) -> Standing:
    """Stand the die of ``case`` on its press, both as solids.

    Raises MechanicsFailed where one of them is no plain block: see ``refuse_shapes``.
    """
    mesh = mesh or SolidMesh()
    refuse_shapes(case.press.bolster, case.die.base)
    die, placing = case.die, case.die.placing
    table = solid_table(case.press.bolster.as_plate, case.press.bed.opening, mesh, die_edges(die.base, placing))
    base = solid_base(die.base, mesh)
    progress(f"solids: factorising the die base, {base.unknowns} unknowns")
    _ = base.solid.factor
    progress(f"solids: answers of the die base to {base.patches.area.size} patches")
    _ = base.contact_answer
    progress(f"solids: factorising the bolster, {table.unknowns} unknowns")
    _ = table.solid.factor
    progress(f"solids: answers of the bolster to {base.patches.area.size + table.land.area.size} patches")
    # The footprint is handed over, not kept: its answers are large, and coupling adds to them.
    return stand_on(
        case,
        fasten(lay_footprint(table, base, placing), case.press.bed),
        base,
        lambda patterns: solid_forces(patterns, case.base_force, die.base),
    )


def refuse_shapes(bolster: Bolster, base: DieBase | None = None) -> None:
    """Raise MechanicsFailed, naming the inputs, where a body is no plain block: a solid has neither stack, ribs,
    T-slots nor steps."""
    slots = bolster.as_plate.t_slots
    given = {
        "press.bolster.sub_plate": bolster.sub_plate is not None,
        "press.bolster.ribs": bolster.ribs is not None,
        "press.bolster.t_slots.depth": slots is not None,
        "die.base.ribs": base is not None and base.ribs is not None,
        "die.base.steps": base is not None and bool(base.steps),
    }
    named = [key for key, is_given in given.items() if is_given]
    if named:
        raise MechanicsFailed(
            f"solid bodies are plain blocks, which {', '.join(named)} would not be: leave out --bodies solid"
        )


def die_edges(base: DieBase, placing: Placing) -> tuple[tuple[float, float], tuple[float, float]] | None:
    """Where the base's edges run on the table, along x and along y; None where it stands askew."""
    turns = placing.rotation / (np.pi / 2)
    if abs(turns - round(turns)) > 1e-9:
        return None
    half = (base.length / 2, base.width / 2) if round(turns) % 2 == 0 else (base.width / 2, base.length / 2)
    return (placing.x - half[0], placing.x + half[0]), (placing.y - half[1], placing.y + half[1])


def solid_table(
    bolster: Bolster,
    opening: Rectangle,
    mesh: SolidMesh,
    die: tuple[tuple[float, float], tuple[float, float]] | None = None,
) -> SolidTable:
    """A bolster over a bed opening as a solid; ``die``: lines along x and y at which the mesh is fine, too."""
    refuse_shapes(bolster)
    plan = bolster.plan
    areas = [opening, *bolster.openings]
    if bolster.pin_field is not None:
        areas.append(bolster.pin_field.region)
    edges_x = [edge for area in areas for edge in (area.left, area.right)]
    edges_y = [edge for area in areas for edge in (area.front, area.back)]
    die_x, die_y = ((), ()) if die is None else die
    x = _lines((plan.left, plan.right), edges_x, (opening.left, opening.right), die_x, mesh)
    y = _lines((plan.front, plan.back), edges_y, (opening.front, opening.back), die_y, mesh)
    cells = PlanMesh.with_openings(x, y, bolster.openings)
    matter = [solid_matter(bolster.material)]
    kind = np.zeros(int(cells.filled.sum()), dtype=np.int64)
    if bolster.pin_field is not None:
        left, front, length, width = cells.cells
        matter.append(perforated_matter(bolster))
        kind[inside(bolster.pin_field.region, left + length / 2, front + width / 2)] = 1
    layers = bolster.thickness * (np.array(mesh.table_layers) - 1.0)
    # The pressure on the land is steep at the opening's edge alone: along it patches are even and longer, away from
    # it they may span elements, and the edges of the die, above, do not concern them.
    wide = replace(mesh, size=_FAR_LAND * mesh.size)
    land_x = _lines((plan.left, plan.right), edges_x, (opening.left, opening.right), (), wide)
    land_y = _lines((plan.front, plan.back), edges_y, (opening.front, opening.back), (), wide)
    land_x = coarse_between(land_x, (opening.left, opening.right), LAND_PATCH * mesh.size)
    land_y = coarse_between(land_y, (opening.front, opening.back), LAND_PATCH * mesh.size)
    land = land_patches(PlanMesh.with_openings(land_x, land_y, (*bolster.openings, opening)))
    return SolidTable(Solid(cells, layers, tuple(matter), kind), bolster, opening, land)


def perforated_matter(bolster: Bolster) -> Matter:
    """A bolster's material with its pin holes, smeared by the same published constants as the plate's section."""
    field, material = bolster.pin_field, bolster.material
    if field is None:
        return solid_matter(material)
    section = perforated_section(1.0, material, field.pitch, field.diameter)
    modulus, poisson, shear = slot_constants(section.ligament)
    area = section.mass / material.density
    # The table of constants holds for a Poisson's ratio of 0.3; other ratios scale it.
    holes = Orthotropy(modulus, shear, area, poisson * material.poisson_ratio / 0.3)
    return Matter(elastic_law(material, holes), material.density * area, section.ligament)


def solid_base(base: DieBase, mesh: SolidMesh) -> SolidBase:
    """A die base as a solid, fine along its edges."""
    plan = base.plan
    ends_x, ends_y = (plan.left, plan.right), (plan.front, plan.back)
    inner_x = [v for area in base.bearing for v in (area.left, area.right) if plan.left < v < plan.right]
    inner_y = [v for area in base.bearing for v in (area.front, area.back) if plan.front < v < plan.back]
    size = BASE_SIZE * mesh.size
    x = graded_lines((*ends_x, *inner_x), size, ends_x, mesh.fine)
    y = graded_lines((*ends_y, *inner_y), size, ends_y, mesh.fine)
    cells = PlanMesh.with_openings(x, y, ())
    kind = np.zeros(int(cells.filled.sum()), dtype=np.int64)
    layers = base.thickness * np.array(mesh.base_layers)
    solid = Solid(cells, layers, (solid_matter(base.material),), kind)
    patches = patch_grid(x, y)
    bearing = np.ones(patches.area.size)
    if base.bearing:
        bearing = np.minimum(sum(patches.overlap(area) for area in base.bearing), 1.0)
    return SolidBase(solid, base, bearing)


def _lines(
    ends: tuple[float, float], edges: Sequence[float], opening: Sequence[float], die: Sequence[float], mesh: SolidMesh
) -> Floats:
    """Grid lines along one axis: through all edges, fine at those of opening and die."""
    low, high = ends
    fixed = [low, high, *(min(max(edge, low), high) for edge in edges)]
    own = [edge for edge in die if min(abs(edge - line) for line in fixed) > _CROWDED * mesh.fine]
    own = [edge for edge in own if low < edge < high]
    fixed += own
    offsets = mesh.edge * (2.0 ** np.arange(1, 1 + np.log2(mesh.size / mesh.edge)) - 1)
    near = [edge + side * offset for edge in opening for offset in offsets for side in (-1, 1)]
    near = [line for line in near if low < line < high and min(abs(line - f) for f in fixed) > mesh.edge / 2]
    return graded_lines([*fixed, *near], mesh.size, own, mesh.fine)


def solid_forces(patterns: Sequence[Pattern], total: float, base: DieBase) -> PointForces:
    """The force patterns on the base's top; a line of force, which would cut into a solid, as the strip that it
    spreads to, as far as that lies on the base."""
    lines = tuple(p for p in patterns if isinstance(p, Line))
    areas = tuple(p for p in patterns if not isinstance(p, Line))
    laid = [pattern_forces((p,), total) for p in areas] + [
        _spread(pattern_forces((p,), total), LINE_SPREAD * base.thickness, base.plan) for p in lines
    ]
    return PointForces(np.concatenate([f.points for f in laid]), np.concatenate([f.force for f in laid]))


def _spread(forces: PointForces, width: float, plan: Rectangle) -> PointForces:
    """Every force spread evenly over a square of ``width`` around it, less what would pass the plan's edges."""
    low = np.maximum(forces.points - width / 2, [plan.left, plan.front])
    high = np.minimum(forces.points + width / 2, [plan.right, plan.back])
    # A square that is cut at an edge is cut on the other side as well: the force stays where it is.
    half = np.minimum(forces.points - low, high - forces.points)
    step = (np.arange(_LINE_POINTS) + 0.5) / _LINE_POINTS * 2 - 1
    gx, gy = (g.ravel() for g in np.meshgrid(step, step, indexing="ij"))
    points = forces.points[:, None, :] + half[:, None, :] * np.column_stack([gx, gy])
    force = np.repeat(forces.force / gx.size, gx.size)
    return PointForces(points.reshape(-1, 2), force)

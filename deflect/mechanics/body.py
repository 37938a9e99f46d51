"""Condensed bodies: the bolster on its bed, and the die base, each factorised once.

Plates, by the contract of ``contract.py``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np
import scipy.sparse as sparse

from deflect.mechanics.arrays import Flags, Floats, Sparse, symmetric
from deflect.mechanics.contract import TableBody
from deflect.mechanics.layout import base_layout, bolster_layout, bolster_section, rib_bearing
from deflect.mechanics.loads import Patches, patch_grid
from deflect.mechanics.mesh import PlanMesh, graded_lines, inside
from deflect.mechanics.plate import Plate, PointRows, bending_stress
from deflect.model.die import DieBase
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster
from deflect.model.values import Rectangle

# Element size, mm: twice the patch, since the element has a node at mid-side.
ELEMENT_SIZE = 200.0
PATCH_SIZE = 100.0
# First element at the edge of the bed opening, and first land patch there, as shares of the element
# size: the pressure on the land dies away within about (D/k)^(1/4), some 50 mm for a slab on a stiff
# bed.  The deflection is smooth over that length, the pressure is not.
EDGE_ELEMENT = 1.0 / 2.0
EDGE_PATCH = 1.0 / 16.0
# Land patches are no smaller than those of an element of this size, mm: 6 mm at the edge is an eighth of the length
# within which the pressure dies away, and each patch is a port that is answered for.
LEAST_LAND = 100.0
# First contact patch at the base's edges as a share of the patch size: a die that bridges a sagging table
# stands on its edges, and how far inside them it stands decides the gap.
EDGE_STRIP = 1.0 / 4.0
# Where the rim is to be narrow, patches are halved within so many patch sizes of the base's edges.
RIM = 2.0
# Gauss points a side that average a surface over a patch.
PATCH_POINTS = 3
GRAVITY = 9.80665  # m/s2, standard acceleration of gravity (3rd CGPM, 1901)


@dataclass(frozen=True, eq=False)
class _PlateBody:
    """A plate as a body: both faces move with its mean deflection and its thickening."""

    plate: Plate

    @property
    def unknowns(self) -> int:
        return int(self.plate.basis.N)

    @property
    def factor_entries(self) -> int:
        return self.plate.factor.entries

    @property
    def motions(self) -> int:
        return self.unknowns

    @property
    def rigid(self) -> Floats:
        return self.plate.rigid

    def respond(self, rows: Sparse) -> Floats:
        return self.plate.respond(rows)

    def top(self, points: Floats) -> PointRows:
        return self.plate.at(points)

    def underside(self, points: Floats) -> PointRows:
        return self.plate.at(points)

    def stress(self, motion: Floats, points: Floats) -> float:
        return bending_stress(self.plate, motion, points)


@dataclass(frozen=True, eq=False)
class Table(_PlateBody):
    """The bolster as a free plate, with ports on the land and at hold-downs.

    land: patches on the land; land_rows (n_land, N) their mean surface deflection;
    land_answer (N, n_land) the bolster's response to unit forces there.
    """

    bolster: Bolster
    opening: Rectangle
    land: Patches

    @property
    def plan(self) -> PlanMesh:
        return self.plate.mesh

    @property
    def land_squeeze(self) -> float:
        section = bolster_section(self.bolster)
        return section.squeeze_below / section.bearing_share

    def squeeze_at(self, points: Floats) -> Floats:
        return self.plate.section_at(points, lambda s: s.squeeze)

    def breathing(self, points: Floats) -> tuple[Sparse, Sparse]:
        read = self.plate.at(points)
        lever = sparse.diags_array(self.plate.section_at(points, lambda s: s.to_top))
        return (lever @ read.face_x).tocsr(), (lever @ read.face_y).tocsr()

    @cached_property
    def land_rows(self) -> Sparse:
        points, average = self.land.quadrature(PATCH_POINTS)
        return (average @ self.plate.at(points).surface).tocsr()

    @cached_property
    def land_answer(self) -> Floats:
        return self.plate.respond(self.land_rows)

    @cached_property
    def weight_load(self) -> Floats:
        """Load vector (N,) of the bolster's weight, N."""
        plain = self.plate.own_weight()
        return np.asarray(plain * (self.bolster.mass * GRAVITY / -plain[self.plate.component == 0].sum()))


@dataclass(frozen=True, eq=False)
class Base(_PlateBody):
    """The die base as a free plate in die axes, with patches below.

    lines: of the patches along x (nx + 1,) and y (ny + 1,), mm; patches: over the whole underside;
    bearing (n,): share of each patch that bears.
    """

    base: DieBase
    lines: tuple[Floats, Floats]
    patches: Patches
    bearing: Floats

    @property
    def grid(self) -> tuple[int, int]:
        """Number of patches along x and along y."""
        return self.lines[0].size - 1, self.lines[1].size - 1

    def breathing(self, points: Floats) -> tuple[Sparse, Sparse]:
        read = self.plate.at(points)
        lever = sparse.diags_array(self.plate.section_at(points, lambda s: s.to_underside))
        return (lever @ read.face_x).tocsr(), (lever @ read.face_y).tocsr()

    @cached_property
    def contact_rows(self) -> Sparse:
        points, average = self.patches.quadrature(PATCH_POINTS)
        return (average @ self.plate.at(points).surface).tocsr()

    @cached_property
    def squeeze(self) -> Floats:
        return self.plate.section_at(self.patches.centre, lambda s: s.squeeze)

    @cached_property
    def squeeze_below(self) -> Floats:
        return self.plate.section_at(self.patches.centre, lambda s: s.squeeze_below)

    @cached_property
    def contact_answer(self) -> Floats:
        return self.plate.respond(self.contact_rows)

    @cached_property
    def contact_compliance(self) -> Floats:
        return symmetric(self.contact_rows @ self.contact_answer)


@lru_cache(maxsize=32)
def condense_table(bolster: Bolster, bed_opening: Rectangle, element_size: float = ELEMENT_SIZE) -> Table:
    """Mesh and factorise a bolster over a bed opening."""
    layout = bolster_layout(bolster)
    fixed_x, fixed_y = layout.lines(bolster.plan)
    for area in (*bolster.openings, bed_opening):
        fixed_x += [max(area.left, bolster.plan.left), min(area.right, bolster.plan.right)]
        fixed_y += [max(area.front, bolster.plan.front), min(area.back, bolster.plan.back)]
    edges_x, edges_y = (bed_opening.left, bed_opening.right), (bed_opening.front, bed_opening.back)
    fine = element_size * EDGE_ELEMENT
    x = graded_lines(fixed_x, element_size, edges_x, fine)
    y = graded_lines(fixed_y, element_size, edges_y, fine)
    mesh = PlanMesh.with_openings(x, y, bolster.openings)
    patch = max(element_size, LEAST_LAND)
    fine = patch * EDGE_PATCH
    x = graded_lines(fixed_x, patch, edges_x, fine)
    y = graded_lines(fixed_y, patch, edges_y, fine)
    land = land_patches(
        PlanMesh.with_openings(
            coarse_between(x, edges_x, patch),
            coarse_between(y, edges_y, patch),
            (*bolster.openings, bed_opening),
        )
    )
    return Table(Plate(mesh, layout.sections, layout.kinds(mesh)), bolster, bed_opening, land)


def land_patches(mesh: PlanMesh) -> Patches:
    """Every cell of a mesh that leaves out the bed opening, as a patch of land."""
    left, front, length, width = mesh.cells
    return Patches(np.column_stack([left + length / 2, front + width / 2]), length, width)


def coarse_between(lines: Floats, edges: tuple[float, float], size: float) -> Floats:
    """The same lines, but evenly ``size`` apart between the two edges of the opening."""
    low, high = edges
    between = graded_lines(edges, size)
    return np.concatenate([lines[lines < low - 1e-6], between, lines[lines > high + 1e-6]])


def halved_at(lines: Floats, reach: float) -> Floats:
    """The same lines, the widest intervals that end within ``reach`` of either end cut in half."""
    middle, width = 0.5 * (lines[1:] + lines[:-1]), np.diff(lines)
    near = np.minimum(middle - lines[0], lines[-1] - middle) < reach
    wide = near & (width > 0.5 * width.max())
    return np.asarray(np.sort(np.append(lines, middle[wide])))


@lru_cache(maxsize=64)
def condense_base(
    base: DieBase,
    element_size: float = ELEMENT_SIZE,
    patch_size: float = PATCH_SIZE,
    narrow_rim: bool = False,
) -> Base:
    """Mesh and factorise a die base, with patches of about ``patch_size`` below, half as wide along its edges where
    the rim is to be narrow."""
    plan = base.plan
    layout = base_layout(base)
    x, y = (graded_lines(lines, element_size) for lines in layout.lines(plan))
    mesh = PlanMesh.with_openings(x, y, ())
    plate = Plate(mesh, layout.sections, layout.kinds(mesh))
    edges_x, edges_y = [plan.left, plan.right], [plan.front, plan.back]
    # Ribs are too many for lines of their own: they count by the share of each patch that they take up.
    open_below = base.ribs is not None and base.ribs.is_open
    drawn = (*base.bearing, *(base.ribs.pads if base.ribs is not None and open_below else ()))
    inner_x = [v for area in drawn for v in (area.left, area.right) if plan.left < v < plan.right]
    inner_y = [v for area in drawn for v in (area.front, area.back) if plan.front < v < plan.back]
    fine = patch_size * EDGE_STRIP
    lines = (
        graded_lines(edges_x + inner_x, patch_size, edges_x, fine),
        graded_lines(edges_y + inner_y, patch_size, edges_y, fine),
    )
    if narrow_rim:
        lines = (halved_at(lines[0], RIM * patch_size), halved_at(lines[1], RIM * patch_size))
    patches = patch_grid(*lines)
    bearing = np.ones(patches.area.size)
    if base.bearing:
        bearing = np.minimum(sum(patches.overlap(area) for area in base.bearing), 1.0)
    if base.ribs is not None and open_below:
        bearing = bearing * rib_bearing(base.ribs, plan, patches)
    return Base(plate, base, lines, patches, bearing)


def underside(base: DieBase, material: Material) -> DieBase:
    """A stand-in, 1 mm thick, that bears on the same areas: all that a footprint asks of a base."""
    ribs = None if base.ribs is None or not base.ribs.is_open else replace(base.ribs, top=0.5)
    return replace(base, thickness=1.0, material=material, ribs=ribs, steps=())


def on_material(table: TableBody, points: Floats) -> Flags:
    """Which points (m, 2) lie on the bolster and not over its own cut-outs (m,)."""
    plan = table.bolster.plan
    x, y = points.T
    on = (np.abs(x) <= plan.right + 1e-6) & (np.abs(y) <= plan.back + 1e-6)
    for hole in table.bolster.openings:
        on &= ~((x > hole.left) & (x < hole.right) & (y > hole.front) & (y < hole.back))
    return np.asarray(on)


def carries(table: TableBody, points: Floats) -> Flags:
    """Which points (m, 2) have something below them that a die can stand on (m,): the sub-plate where one is."""
    on = on_material(table, points)
    plate = table.bolster.sub_plate
    return on if plate is None else on & inside(plate.area, points[:, 0], points[:, 1])


def post_rows(table: TableBody, bed: Bed) -> Sparse:
    """Rows (posts, N) that read the bolster's mean deflection over the heads of the support posts."""
    if not bed.posts:
        return sparse.csr_array((0, table.motions))
    heads = np.array([p.head for p in bed.posts])
    points, average = Patches(np.array([(p.x, p.y) for p in bed.posts]), heads, heads).quadrature(PATCH_POINTS)
    return (average @ table.underside(points).surface).tocsr()


def hold_down_rows(table: TableBody, bed: Bed) -> Sparse:
    """Rows (holds, N) that read the bolster's deflection at its hold-downs."""
    if not bed.hold_downs:
        return sparse.csr_array((0, table.motions))
    return table.top(np.array([(h.x, h.y) for h in bed.hold_downs])).deflection

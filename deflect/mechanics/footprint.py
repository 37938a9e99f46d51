"""Where a die base stands on a table: what stays the same whatever stands there, however thick or loaded."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
import scipy.sparse as sparse

from deflect.faults import MechanicsFailed
from deflect.mechanics.answers import Answers
from deflect.mechanics.arrays import Flags, Floats, Sparse, symmetric
from deflect.mechanics.body import (
    ELEMENT_SIZE,
    PATCH_POINTS,
    PATCH_SIZE,
    carries,
    condense_base,
    condense_table,
    hold_down_rows,
    post_rows,
    underside,
)
from deflect.mechanics.contract import BaseBody, TableBody
from deflect.model.case import Case
from deflect.model.die import DieBase, Placing
from deflect.model.material import Material
from deflect.model.press import Bed, Bolster
from deflect.model.values import Rectangle

# Up to these plan areas (mm2) and this length (mm) the usual sizes hold; beyond them they grow (ours).
USUAL_TABLE, USUAL_BASE, LONGEST_BASE = 14e6, 4e6, 6e3
# A patch that bears with less than this share of its area is no contact.
SLIVER = 1e-6
# A footprint is a matter of plan alone; its base is condensed with this stand-in (thickness 1 mm).
FOOTPRINT_MATERIAL = Material("any", 1.0, 0.3, 0.0, 1.0)


@dataclass(frozen=True)
class Mesh:
    """How finely the bodies are meshed, mm; narrow_rim: patches of half that size along the base's edges."""

    element: float = ELEMENT_SIZE
    patch: float = PATCH_SIZE
    narrow_rim: bool = False

    @staticmethod
    def suited(case: Case, coarser: float = 1.0) -> Mesh:
        """The usual sizes, or greater ones for a table or die of unusual size, so that the work stays bounded."""
        bolster, base = case.press.bolster, case.die.base
        grown = max(1.0, np.sqrt(bolster.length * bolster.width / USUAL_TABLE))
        patch = max(1.0, np.sqrt(base.length * base.width / USUAL_BASE), max(base.length, base.width) / LONGEST_BASE)
        return Mesh(coarser * grown * ELEMENT_SIZE, coarser * patch * PATCH_SIZE)


@dataclass(frozen=True, eq=False)
class Footprint:
    """A base's underside on a table: what stays the same whatever stands in it, however thick or loaded.

    on_table (q, 2): quadrature points in bolster axes; average (patches, q); pick (n_c,): patches that bear;
    rows and breathing: of the table under each; answer (N_t, n): the table's response to unit forces on all
    ports, with the ports' signs; signed_rows (n, N_t); compliance (n, n): the table's part of it.
    """

    table: TableBody
    on_table: Floats
    average: Sparse
    bears: Flags
    area: Floats
    rows: Sparse
    breathing: tuple[Sparse, Sparse]
    answer: Answers
    signed_rows: Sparse
    compliance: Floats
    squeeze: Floats


def footprint_of(case: Case, mesh: Mesh) -> Footprint:
    """Where the die of ``case`` stands on its press's table, held down and propped up as the bed does."""
    press, die = case.press, case.die
    place = Placing(die.placing.x, die.placing.y, die.placing.rotation)
    # The base's thickness does not matter to the footprint.
    plan = underside(die.base, FOOTPRINT_MATERIAL)
    return with_fastenings(footprint(press.bolster.as_plate, press.bed.opening, plan, place, mesh), press.bed)


@lru_cache(maxsize=8)
def footprint(bolster: Bolster, opening: Rectangle, base: DieBase, placing: Placing, mesh: Mesh) -> Footprint:
    """Where a base stands on a table.  ``base`` and ``placing`` count only by plan, bearing and place."""
    return lay_footprint(
        condense_table(bolster, opening, mesh.element),
        condense_base(base, mesh.element, mesh.patch, mesh.narrow_rim),
        placing,
    )


def lay_footprint(table: TableBody, flat: BaseBody, placing: Placing) -> Footprint:
    """Where a base stands on a table; of the base only patches and bearing count."""
    points, average = flat.patches.quadrature(PATCH_POINTS)
    on_table = to_table(placing, points)
    supported = carries(table, on_table).astype(float)
    support_share = average @ supported
    share = flat.bearing * support_share
    bears = share > SLIVER
    pick = np.flatnonzero(bears)
    # Points over a cut-out carry nothing: average over the supported ones only.
    weights = (average @ sparse.diags_array(supported)).tocsr()[pick]
    weights = sparse.diags_array(1.0 / support_share[pick]) @ weights
    if not (supported > 0.5).any():
        raise MechanicsFailed("next to nothing of the base stands on the bolster: check its place and the cut-outs")
    inner = on_table.copy()
    inner[supported < 0.5] = on_table[supported > 0.5][0]
    rows = (weights @ table.top(inner).surface).tocsr()
    along_x, along_y = table.breathing(inner)
    answer = Answers((table.respond(-rows), table.land_answer))
    signed_rows = sparse.vstack([-rows, table.land_rows]).tocsr()
    return Footprint(
        table=table,
        on_table=on_table,
        average=average,
        bears=bears,
        area=(flat.patches.area * share)[pick],
        rows=rows,
        breathing=((weights @ along_x).tocsr(), (weights @ along_y).tocsr()),
        answer=answer,
        signed_rows=signed_rows,
        compliance=symmetric(answer.read(signed_rows)),
        squeeze=weights @ table.squeeze_at(inner),
    )


def with_fastenings(foot: Footprint, bed: Bed) -> Footprint:
    """The same footprint with ports at the bed's hold-downs and support posts."""
    if not (bed.hold_downs or bed.posts):
        return foot
    # Only their places count here: how they are set does not.
    holds = tuple(replace(h, preload=0.0, stiffness=1.0) for h in bed.hold_downs)
    posts = tuple(replace(p, stiffness=1.0, gap=0.0) for p in bed.posts)
    return _fastened(foot, replace(bed, hold_downs=holds, posts=posts))


@lru_cache(maxsize=4)
def _fastened(foot: Footprint, bed: Bed) -> Footprint:
    return fasten(foot, bed)


def fasten(foot: Footprint, bed: Bed) -> Footprint:
    """The same, made anew at each call: what is made once only, and large, need not be kept."""
    more = sparse.vstack([-hold_down_rows(foot.table, bed), post_rows(foot.table, bed)]).tocsr()
    answer = foot.table.respond(more)
    across, own = foot.signed_rows @ answer, more @ answer
    return replace(
        foot,
        answer=Answers((*foot.answer.parts, answer)),
        signed_rows=sparse.vstack([foot.signed_rows, more]).tocsr(),
        compliance=np.block([[foot.compliance, across], [across.T, symmetric(own)]]),
    )


def to_table(placing: Placing, points: Floats) -> Floats:
    """Points (m, 2) from die axes to bolster axes."""
    return np.asarray(turned(placing, points) + np.array([placing.x, placing.y]))


def turned(placing: Placing, vectors: Floats) -> Floats:
    """Vectors (m, 2), or places about the die's middle, from die axes to bolster axes."""
    c, s = np.cos(placing.rotation), np.sin(placing.rotation)
    return np.asarray(vectors @ np.array([[c, s], [-s, c]]))


def from_table(placing: Placing, points: Floats) -> Floats:
    """Points (m, 2) from bolster axes to die axes."""
    c, s = np.cos(placing.rotation), np.sin(placing.rotation)
    return np.asarray((points - np.array([placing.x, placing.y])) @ np.array([[c, -s], [s, c]]))


def initial_gap(case: Case, base: BaseBody, on_table: Floats, average: Sparse) -> Floats:
    """Gap (patches,) before any force, mm: the table's dish less the shims, and less the dirt below the base."""
    gap = np.asarray(average @ dish_depth(case.press.bolster, on_table))
    for shim in (*case.die.placing.shims, *case.die.placing.dirt):
        gap = gap - shim.thickness * base.patches.overlap(shim.area)
    return gap


def dish_depth(bolster: Bolster, points: Floats) -> Floats:
    """How far the worn top lies below its edges (m,), mm: deepest in the middle, nothing at all four edges."""
    x, y = points.T
    return np.asarray(bolster.dish * (1.0 - (2 * x / bolster.length) ** 2) * (1.0 - (2 * y / bolster.width) ** 2))

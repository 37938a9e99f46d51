"""Loads on a die and its table, and what they do before contact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import scipy.sparse as sparse

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Sparse
from deflect.mechanics.body import GRAVITY, on_material
from deflect.mechanics.contract import BaseBody, TableBody
from deflect.mechanics.footprint import to_table
from deflect.mechanics.loads import PointForces, rectangle_points
from deflect.mechanics.warmth import bowed, free_curvature
from deflect.model.case import Case
from deflect.model.values import EVEN

# A force on the die's face reaches the base spread over at least this share of the base's thickness.
_SPREAD_SHARE = 0.5


@dataclass(frozen=True, eq=False)
class Loads:
    """Loads on both bodies that grow together: load vectors of table (N_t,) and base (N_d,), in N."""

    table: Floats
    base: Floats


@dataclass(frozen=True, eq=False)
class Response:
    """What loads do before contact: displacements of table (N_t,) and base (N_d,), port movements (n,), resultant
    (6,), and the pressure (patches,) on the base's top, MPa.  Responses add up and scale."""

    table: Floats
    base: Floats
    ports: Floats
    resultant: Floats
    face_pressure: Floats

    def __add__(self, other: Response) -> Response:
        return Response(
            self.table + other.table,
            self.base + other.base,
            self.ports + other.ports,
            self.resultant + other.resultant,
            self.face_pressure + other.face_pressure,
        )

    def __mul__(self, factor: float) -> Response:
        return Response(
            factor * self.table,
            factor * self.base,
            factor * self.ports,
            factor * self.resultant,
            factor * self.face_pressure,
        )


def warm_responses(
    case: Case, table: TableBody, base: BaseBody, signed_rows: Sparse, base_rows: Sparse
) -> tuple[Response, Response]:
    """What each body does by itself where its top is warmer than its underside by 1 K; nothing where none is."""
    bolster, die = case.press.bolster, case.die
    on_table, on_base = np.zeros(table.motions), np.zeros(base.motions)
    if bolster.warmth != EVEN:
        on_table = bowed(table, free_curvature(bolster.material.expansion, bolster.thickness))
    if die.warmth != EVEN:
        on_base = bowed(base, free_curvature(die.base.material.expansion, die.base.thickness))
    ports = signed_rows @ on_table
    below = np.zeros(ports.size)
    below[: base_rows.shape[0]] = base_rows @ on_base
    none, pressure = np.zeros(6), np.zeros(base.patches.area.size)
    return (
        Response(on_table, 0.0 * on_base, ports, none, pressure),
        Response(0.0 * on_table, on_base, below, none, pressure),
    )


def respond(table: TableBody, base: BaseBody, signed_rows: Sparse, base_rows: Sparse, loads: Loads) -> Response:
    """What loads on the two bodies do to their ports before contact; none of it presses on the base's top."""
    return respond_to_each(table, base, signed_rows, base_rows, [loads])[0]


def respond_to_each(
    table: TableBody, base: BaseBody, signed_rows: Sparse, base_rows: Sparse, loads: Sequence[Loads]
) -> list[Response]:
    """The same for several loads at once: a body answers many together much faster than one by one."""
    on_table, on_base = (np.stack(rows) for rows in zip(*((one.table, one.base) for one in loads), strict=True))
    table_motion, base_motion = table.respond(sparse.csr_array(on_table)), base.respond(sparse.csr_array(on_base))
    ports = signed_rows @ table_motion
    ports[: base_rows.shape[0]] += base_rows @ base_motion
    resultant = np.vstack([table.rigid.T @ on_table.T, base.rigid.T @ on_base.T])
    none = np.zeros(base.patches.area.size)
    answers = (table_motion, base_motion, ports, resultant)
    on_table, on_base, at_ports, left = (np.ascontiguousarray(answer.T) for answer in answers)
    return [Response(on_table[k], on_base[k], at_ports[k], left[k], none) for k in range(len(loads))]


def constant_loads(case: Case, table: TableBody, base: BaseBody) -> Loads:
    """Weight of bolster and lower die half, and the clamps, which pull the bolster up as they press the die down."""
    die = case.die
    on_table = table.weight_load.copy()
    plan, weight = rectangle_points(die.base.plan)
    on_base = downward(base, PointForces(plan, weight * (die.lower.mass * GRAVITY / weight.sum())))
    if die.placing.clamps:
        places = np.array([(c.x, c.y) for c in die.placing.clamps])
        forces = np.array([c.force for c in die.placing.clamps])
        on_base = on_base + base.top(places).deflection.T @ -forces
        on_table = on_table + table.top(to_table(die.placing, places)).deflection.T @ forces
    return Loads(on_table, on_base)


def mean_pressure(base: BaseBody, forces: PointForces) -> Floats:
    """Pressure (patches,) of downward forces on the base's top, MPa, spread over a window of half its thickness.

    A line of force has no pressure of its own: it spreads through the die on its way to the base.
    """
    window = _SPREAD_SHARE * base.base.thickness
    plan = base.base.plan
    # Patches stand in rows and columns: whatever is near a column and near a row is near the patch where they cross.
    sides = zip(base.patches.centre.T, forces.points.T, ((plan.left, plan.right), (plan.front, plan.back)), strict=True)
    near, spread, place = [], [], []
    for centre, points, (low, high) in sides:
        lines, at = np.unique(centre, return_inverse=True)
        near.append((np.abs(points - lines[:, None]) <= window / 2).astype(float))
        spread.append(np.minimum(lines + window / 2, high) - np.maximum(lines - window / 2, low))
        place.append(at)
    pressed = (near[0] * forces.force) @ near[1].T / np.outer(*spread)
    return np.asarray(pressed[place[0], place[1]])


def working_loads(case: Case, table: TableBody, base: BaseBody, forces: PointForces) -> Loads:
    """The force patterns on the die, and the cushion's pull where it hangs on the bolster."""
    on_table = np.zeros(table.motions)
    if case.cushion_hangs and case.die.cushion_force > 0:
        # The pins lift the blank holder with the force that the hung cushion pulls the bolster down with.
        pulled = table.opening if table.bolster.pin_field is None else table.bolster.pin_field.region
        points, weight = rectangle_points(pulled)
        on = on_material(table, points)
        if not on.any():
            raise MechanicsFailed("the hung cushion has no bolster above it to hang from: check the cut-outs")
        force = weight[on] * (case.die.cushion_force / weight[on].sum())
        on_table = table.top(points[on]).surface.T @ -force
    return Loads(on_table, downward(base, forces))


def downward(base: BaseBody, forces: PointForces) -> Floats:
    """Load vector (N_d,) of downward forces on the die's top."""
    load: Floats = base.top(forces.points).surface.T @ -forces.force
    return load

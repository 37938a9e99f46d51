"""Friction drags at the two surfaces and so bends both bodies back.

Friction at the die's underside and the bolster's top acts at a distance from
both neutral planes, hence as couples: they lessen the bending that makes the
surfaces move over each other.  What friction bends is smooth, so that a few
modes carry it; local give at each patch is the tangential stiffness of
``friction.py``.  In-plane stretch of the bodies is left out: with it the slip
below a die block changes by a few parts in a thousand (ours).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import scipy.sparse as sparse

from deflect.mechanics.arrays import Floats, Sparse, symmetric
from deflect.mechanics.contact import respond_closed
from deflect.mechanics.footprint import turned
from deflect.mechanics.loading import Loads, Response
from deflect.mechanics.standing import Standing, State

# Friction that bends: polynomials over the base up to this degree, along x and along y each; with one degree more the
# creep changes by less than half a per cent (ours).
_DEGREE = 2
# A face spreads sideways under pressure on it by so much of nu p/E, and under pressure on the other face.  Derived:
# half of it evenly through the thickness; with the cubic transverse stress of a plate that carries p by shear,
# 12/10 of it as a strain that grows through the thickness, +-0.6 at the faces.
SPREAD, FAR_SPREAD = 1.1, -0.1
# Modes that bend next to nothing, as a share of the one that bends most, are kept from blowing up.
_NOTHING = 1e-9


@dataclass(frozen=True, eq=False)
class Drag:
    """A standing die's surfaces, n patches that bear, ready to be asked how they move over each other.

    table_rows (2 n, N_t), base_rows (2 n, N_d): x and y of each patch in turn, in bolster axes: breathing by the
    motions of both bodies, equally what friction on the die loads them with.  places (n, 2): bolster axes about the
    die's centre, mm.
    """

    standing: Standing
    table_rows: Sparse
    base_rows: Sparse
    places: Floats

    @staticmethod
    def of(standing: Standing) -> Drag:
        pick = np.flatnonzero(standing.bears)
        inside = standing.base.patches.centre[pick]
        placing = standing.case.die.placing
        c, s = np.cos(placing.rotation), np.sin(placing.rotation)
        x, y = standing.base.breathing(inside)
        on_table, on_base = standing.table_breathing, (c * x - s * y, s * x + c * y)
        return Drag(standing, _in_turn(on_table), _in_turn(on_base), turned(placing, inside))

    @cached_property
    def _of_ports(self) -> Floats:
        """Breathing by unit forces at the ports (2 n, ports)."""
        answer = self.standing.table_answer.read(self.table_rows)
        answer[:, : self.standing.contacts] += self.base_rows @ self.standing.base_answer
        return np.asarray(answer)

    @cached_property
    def _of_rigid(self) -> Floats:
        """Breathing by the rigid motions (2 n, 6): tilts move the surfaces too."""
        table, base = self.standing.table.rigid, self.standing.base.rigid
        return np.hstack([self.table_rows @ table, self.base_rows @ base])

    @cached_property
    def _tractions(self) -> Floats:
        """Friction of each mode on the patches (2 n, m), N."""
        scaled = self.places / np.maximum(np.abs(self.places).max(axis=0, initial=1.0), 1.0)
        x, y = scaled.T
        powers = [(i, j) for i in range(_DEGREE + 1) for j in range(_DEGREE + 1 - i)]
        area = self.standing.contact_area
        fields = np.column_stack([x**i * y**j * area / area.mean() for i, j in powers])
        return (
            np.kron(fields, np.eye(2))
            .reshape(len(fields), 2 * len(powers), 2)
            .transpose(0, 2, 1)
            .reshape(2 * len(fields), -1)
        )

    @cached_property
    def _modes(self) -> tuple[Floats, Floats, Floats]:
        """Of the modes before contact: breathing (2 n, m), port movements (ports, m), resultant (6, m)."""
        table, base = self.standing.table, self.standing.base
        on_table, on_base = self.table_rows.T @ self._tractions, self.base_rows.T @ self._tractions
        table_motion = table.respond(sparse.csr_array(on_table.T))
        base_motion = base.respond(sparse.csr_array(on_base.T))
        ports = self.standing.signed_rows @ table_motion
        ports[: self.standing.contacts] += self.standing.base_rows @ base_motion
        resultant = np.vstack([table.rigid.T @ on_table, base.rigid.T @ on_base])
        return self.table_rows @ table_motion + self.base_rows @ base_motion, ports, resultant

    def breathing(self, state: State) -> Floats:
        """How far bending moves the die's underside over the bolster's top (n, 2), mm."""
        moved = self._of_ports @ state.force + self._of_rigid @ state.solved.rigid
        moved += self.table_rows @ state.loads.table + self.base_rows @ state.loads.base
        by_contact, by_top = self._spreading
        moved += by_contact @ state.contact_force + by_top @ state.loads.face_pressure
        return np.asarray(moved.reshape(-1, 2))

    @cached_property
    def _spreading(self) -> tuple[Floats, Floats]:
        """How far the die's underside spreads over the table's top by unit forces on the contact (2 n, n), mm/N, and by
        pressure on the base's top (2 n, patches), mm/MPa.

        A sheet that wants to spread by e on an area A at a place is moved at a distance r by (1 + nu) e A/(2 pi r):
        the thermoelastic potential, J. N. Goodier, Phil. Mag. 23 (1937) 1017 (from memory).  Slabs alone: ribs are
        pressed along their height.
        """
        case, base = self.standing.case, self.standing.base
        slab_base, slab_table = case.die.base.ribs is None, case.press.bolster.ribs is None
        above, below = case.die.base.material, case.press.bolster.material
        of_base = slab_base * (1 + above.poisson_ratio) * above.poisson_ratio / above.youngs_modulus
        of_table = slab_table * (1 + below.poisson_ratio) * below.poisson_ratio / below.youngs_modulus
        from_patches = away(self.places, self.places)
        from_top = away(self.places, turned(case.die.placing, base.patches.centre)) * base.patches.area
        return SPREAD * (of_base - of_table) * from_patches, FAR_SPREAD * of_base * from_top

    def bends(self, state: State) -> Floats:
        """What friction bends at a state whose contacts stay as they are (2 n, m), see ``Footing.bends``.

        The compliance C of the breathing to friction is taken as Y M^-1 Y', with Y = C T for the tractions T of
        the modes and M = T'Y: exact for friction in their span, and never stiffer than the bodies are.
        """
        breathing, ports, resultant = self._modes
        system = self.standing.coupled(state.assumptions)
        index = system.index
        force, rigid = respond_closed(system.sets, state.solved.closed, ports[index], -resultant)
        moved = breathing + self._of_ports[:, index] @ force + self._of_rigid @ rigid
        energy = self._tractions.T @ moved
        values, vectors = np.linalg.eigh(symmetric(energy))
        root = vectors / np.sqrt(np.maximum(values, 0.0) + _NOTHING * values.max())
        # The symmetric root varies smoothly from one state to the next.
        return np.asarray(moved @ (root @ vectors.T))

    def couples(self, friction: Sequence[Floats]) -> list[Response]:
        """What friction on the die, (n, 2) N at each of some moments, does to both bodies before contact."""
        along = [one.ravel() for one in friction]
        return self.standing.responses([Loads(self.table_rows.T @ a, self.base_rows.T @ a) for a in along])


def away(points: Floats, sources: Floats) -> Floats:
    """d/(2 pi r^2) from each source (k, 2) to each point (n, 2), x and y in turn (2 n, k), 1/mm; none at itself."""
    away = points[:, None] - sources[None]
    square = (away**2).sum(axis=2)
    apart = square > 1.0
    field = np.where(apart[..., None], away / np.where(apart, square, 1.0)[..., None], 0.0) / (2 * np.pi)
    return np.asarray(field.transpose(0, 2, 1).reshape(2 * len(points), len(sources)))


def _in_turn(rows: tuple[Sparse, Sparse]) -> Sparse:
    """Rows for x and rows for y (n, N) each, as rows for x and y of each patch in turn (2 n, N)."""
    n = rows[0].shape[0]
    order = np.arange(2 * n).reshape(2, n).T.ravel()
    return sparse.vstack(rows).tocsr()[order]

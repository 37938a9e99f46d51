"""What the mechanics asks of a body, whatever it is made of.

A body is its answer to loads on its faces, its rigid motions, and the rows that read its faces.  How a body holds
its motion inside is its own matter: only its own rows read it.  Plates (``body.py``) and solids
(``solid_body.py``) keep this contract, and everything above them knows no other.
"""

from __future__ import annotations

from typing import Protocol

from deflect.mechanics.arrays import Floats, Sparse
from deflect.mechanics.loads import Patches
from deflect.mechanics.mesh import PlanMesh
from deflect.model.die import DieBase
from deflect.model.press import Bolster
from deflect.model.values import Rectangle


class Rows(Protocol):
    """Sparse rows (points, motions) that read a body at points of one of its faces.

    surface: the face's rise, mm; deflection: what a force at a point moves, mm; rotation_x, rotation_y: of the
    section through the thickness, rad.
    """

    @property
    def surface(self) -> Sparse: ...
    @property
    def deflection(self) -> Sparse: ...
    @property
    def rotation_x(self) -> Sparse: ...
    @property
    def rotation_y(self) -> Sparse: ...


class Body(Protocol):
    """A slab that is free in space; a motion of it has N numbers."""

    @property
    def unknowns(self) -> int:
        """Unknowns that were solved for; no fewer than N."""

    @property
    def factor_entries(self) -> int:
        """Entries of the factor that its answers come from."""

    @property
    def rigid(self) -> Floats:
        """Rigid motions (N, 3): sinking by 1, tilt along x and along y by 1 rad about the origin."""

    @property
    def motions(self) -> int:
        """N."""

    def respond(self, rows: Sparse) -> Floats:
        """Motions (N, n) under unit loads on each of ``rows`` (n, N), the body held so that nothing else carries."""

    def top(self, points: Floats) -> Rows:
        """Rows that read the upper face at ``points`` (m, 2)."""

    def underside(self, points: Floats) -> Rows:
        """Rows that read the lower face at ``points`` (m, 2)."""

    def stress(self, motion: Floats, points: Floats) -> float:
        """Greatest von Mises stress of either face over ``points`` (m, 2), MPa."""

    def breathing(self, points: Floats) -> tuple[Sparse, Sparse]:
        """Rows (m, N) for the shortening of the face that meets the other body, along x and y, mm.

        Of a table's top the movement against x and y, of a base's underside that along them: what breathes is
        their sum.
        """


class TableBody(Body, Protocol):
    """The bolster, with ports on the land: patches, rows (n, N) that read them, answer (N, n) to unit forces."""

    @property
    def bolster(self) -> Bolster: ...
    @property
    def opening(self) -> Rectangle: ...
    @property
    def plan(self) -> PlanMesh: ...
    @property
    def land(self) -> Patches: ...
    @property
    def land_rows(self) -> Sparse: ...
    @property
    def land_answer(self) -> Floats: ...
    @property
    def weight_load(self) -> Floats:
        """Load (N,) of the bolster's weight, N."""

    @property
    def land_squeeze(self) -> float:
        """Shortening of its lower part under pressure on the land, mm/MPa, as far as the body leaves it out."""

    def squeeze_at(self, points: Floats) -> Floats:
        """Shortening of its upper part under pressure on the top (m,), mm/MPa, as far as the body leaves it out."""


class BaseBody(Body, Protocol):
    """The die base in die axes, with patches below.

    lines: of the patches along x and y, mm; bearing (n,): share of each patch that bears; contact_rows (n, N),
    contact_answer (N, n): as for the land; contact_compliance (n, n): movements of the patches under unit forces on
    them, mm/N.
    """

    @property
    def base(self) -> DieBase: ...
    @property
    def lines(self) -> tuple[Floats, Floats]: ...
    @property
    def grid(self) -> tuple[int, int]: ...
    @property
    def patches(self) -> Patches: ...
    @property
    def bearing(self) -> Floats: ...
    @property
    def contact_rows(self) -> Sparse: ...
    @property
    def contact_answer(self) -> Floats: ...
    @property
    def contact_compliance(self) -> Floats: ...
    @property
    def squeeze(self) -> Floats:
        """Shortening of its upper part under pressure on the top (patches,), mm/MPa, as far as the body leaves it
        out."""

    @property
    def squeeze_below(self) -> Floats:
        """Shortening of its lower part under pressure on what bears (patches,), mm/MPa, as far as the body leaves
        it out."""

"""Plates that sag onto a flat, and plates that lie on each other, in unilateral contact."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache, partial

import numpy as np
import scipy.sparse as sparse

from deflect.checks.bench.grounded import held_contact
from deflect.checks.bench.meshes import FreePlate, sector
from deflect.checks.bench.plates import SIDE, even_pressure, held, rectangle, rigidity, sinking, slab
from deflect.checks.check import Check, Row
from deflect.checks.exact.axisymmetric import annulus
from deflect.mechanics.arrays import Floats
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.loads import patch_grid
from deflect.mechanics.plate import factorise
from deflect.sources import Source, Tag

ORDER, HEADING = 90, "Plates that touch"
_CONTACT = "deflect.mechanics.contact.solve_contact"
_RADIUS, _THIN = 500.0, 0.5
# The disc has a hole so small that it lies within the contact, where a flat plate does not bend.
_HOLE, _ACROSS, _AROUND = 0.04, 24, 4


@lru_cache(maxsize=2)
def _disc_compliance(edge: str) -> tuple[FreePlate, np.ndarray, Floats, Floats]:
    """A quarter of a thin disc held at its rim: deflection unknowns off the rim, their compliance, the sag by 1 MPa."""
    plate = FreePlate(sector(_HOLE * _RADIUS, _RADIUS, _ACROSS, _AROUND, even=True), slab(_THIN))
    x, y = plate.basis.doflocs
    near, component = 1e-6 * _RADIUS, plate.component
    rim = np.abs(np.hypot(x, y) - _RADIUS) < near
    fixed = ((np.abs(y) < near) & (component == 2)) | ((np.abs(x) < near) & (component == 1))
    fixed |= rim & ((component == 0) | (edge == "clamped"))
    free = np.flatnonzero(~fixed)
    ports = np.flatnonzero((component == 0) & ~rim)
    factor, motion = factorise(plate.stiffness, free), np.zeros(plate.basis.N)
    unit = np.zeros((plate.basis.N, ports.size))
    unit[ports, np.arange(ports.size)] = 1.0
    answer = factor.solve(unit[free])
    motion[free] = factor.solve(plate.pressure()[free])
    compliance = answer[np.searchsorted(free, ports)]
    return plate, ports, (compliance + compliance.T) / 2, motion


def _on_flat(edge: str, radius: float) -> Sequence[Row]:
    """The pressure at which the contact reaches ``radius``; the rim's force there and the contact's radius."""
    exact = annulus(radius, edge, "lifting", pressure=1.0)
    gap = 1.0
    pressure = gap / exact.read("w", radius) * rigidity(_THIN) / _RADIUS**4
    plate, ports, compliance, sag = _disc_compliance(edge)
    area = np.pi / 4 * _RADIUS**2
    force = held_contact(compliance, gap + pressure * sag[ports], pressure * area * (1 - _HOLE**2)).force
    place = np.hypot(*plate.basis.doflocs[:, ports])
    spacing = (1 - _HOLE) / (2 * _ACROSS)
    return (
        Row("force of the rim over all of the load", 2 * exact.read("v", 1.0), force[-1] / (pressure * area), 5e-3),
        Row("contact radius over a", radius, place[force[:-1] > 0].max() / _RADIUS, 1.05 * spacing, absolute=True),
    )


@dataclass(frozen=True, eq=False)
class _Stack:
    """Deflection of the lower plate's centre and gap there, P a^2/D2; the contact; patches' share on the edge."""

    lower: float
    gap: float
    solved: ContactSolution
    on_edge: np.ndarray


_BELOW, _UPPER = 0.1, 0.5
# Patches narrow towards the edges by this power: the outermost is less than a millimetre wide.
_GRADING = 2.8


@lru_cache(maxsize=8)
def _stacked(thickness: float, force: float = 1.0, cells: int = 16) -> _Stack:
    """A free square of half the side, evenly pressed by ``force`` (N), on a hard-supported one."""
    lower = rectangle(slab(_BELOW * SIDE), SIDE, SIDE, 16, 16)
    upper = rectangle(slab(thickness * SIDE), _UPPER * SIDE, _UPPER * SIDE, 8, 8)
    # Narrow patches along the edges, on which a stiff upper plate stands.
    share = np.linspace(-1, 1, cells + 1)
    line = _UPPER * SIDE / 2 * np.sign(share) * (1 - (1 - np.abs(share)) ** _GRADING)
    patches = patch_grid(line, line)
    points, average = patches.quadrature(2)
    below, above = ((average @ plate.at(points).deflection).tocsr() for plate in (lower, upper))
    free = np.setdiff1d(np.arange(lower.basis.N), held(lower, "hard"))
    answer = np.zeros((lower.basis.N, patches.area.size))
    answer[free] = factorise(lower.stiffness, free).solve(np.ascontiguousarray(below[:, free].toarray().T))
    load = even_pressure(upper, force / (_UPPER * SIDE) ** 2)
    unheld = upper.respond(sparse.csr_array(load[None, :]))[:, 0]
    lift = upper.respond(above)
    compliance = below @ answer + above @ lift
    layer = 1e-7 * SIDE**2 / rigidity(_BELOW * SIDE)
    compliance = (compliance + compliance.T) / 2 + np.diag(layer * patches.area.mean() / patches.area)
    solved = solve_contact(compliance, above @ upper.rigid, above @ unheld, -(upper.rigid.T @ load))
    unit = force * SIDE**2 / rigidity(_BELOW * SIDE)
    sag = sinking(lower, -(answer @ solved.force))
    gap = sag - sinking(upper, lift @ solved.force + unheld + upper.rigid @ solved.rigid)
    outermost = np.isclose(np.abs(patches.centre).max(axis=1), np.abs(patches.centre).max())
    return _Stack(sag / unit, gap / unit, solved, outermost)


def _two_plates(thickness: float, lower: float, gap: float, on_edge: float) -> Sequence[Row]:
    stack = _stacked(thickness)
    along_edge = float(stack.solved.force[stack.on_edge].sum())
    return (
        Row("lower plate at mid, P a^2/D2", lower, stack.lower, 5e-3),
        Row("gap at mid, P a^2/D2", gap, stack.gap, max(0.05 * gap, 5e-6), absolute=True),
        Row("force along the edge over all", on_edge, along_edge, 0.02),
    )


def _scaled(share: float) -> Sequence[Row]:
    full, part = _stacked(0.1), _stacked(0.1, share)
    change = np.abs(part.solved.force / share - full.solved.force).max() / full.solved.force.max()
    return (
        Row("contacts that open or close", 0.0, float((part.solved.closed != full.solved.closed).sum()), 0.0,
            absolute=True),
        Row("greatest change of a force over the scale", 0.0, float(change), 1e-6, absolute=True),
        Row("gap at mid over the scale", full.gap, part.gap, 1e-6),
    )  # fmt: skip


def _conditions(thickness: float) -> Sequence[Row]:
    solved = _stacked(thickness).solved
    force, gap = solved.force, solved.gap
    size = force.max() * max(float(gap.max()), 1e-12)
    return (
        Row("least force over the greatest", 0.0, min(float(force.min() / force.max()), 0.0), 1e-12, absolute=True),
        Row("least gap over the greatest", 0.0, min(float(gap.min() / gap.max()), 0.0), 1e-9, absolute=True),
        Row("greatest force times gap", 0.0, float(np.abs(force * gap).max() / size), 1e-9, absolute=True),
        Row("sum of the forces over the load", 1.0, float(force.sum()), 1e-9),
    )


_FLAT = Source(
    "derived: the differential equation of the annulus between rim and contact, flat and without moment at its "
    "inner edge",
    Tag.DERIVED,
)
_RIM = "Ports stand 1/50 of the radius apart: the contact's end is known to one of them, the rim's force to 0.5 %."

CHECKS = (
    Check(
        "U07",
        "A supported disc that sags onto a flat: it lies down at once, without a stage of point contact.",
        _FLAT,
        _CONTACT,
        _RIM,
        {f"b/a = {b:g}": partial(_on_flat, "supported", b) for b in (0.2, 0.3, 0.4, 0.5, 0.6)},
    ),
    Check(
        "U08",
        "A clamped disc that sags onto a flat.",
        _FLAT,
        _CONTACT,
        _RIM,
        {f"b/a = {b:g}": partial(_on_flat, "clamped", b) for b in (0.2, 0.3, 0.4, 0.5, 0.6)},
    ),
    Check(
        "U11",
        "A free square plate pressed onto a supported one twice its size stands on its edges and bridges a gap.",
        Source("ours: another finite element program, sixteen to sixty-four elements a side", Tag.OURS),
        _CONTACT,
        "0.5 % in the deflection, 5 % in the gap, 2 % in forces: the other program's own spread over its meshes.",
        {
            f"h1/a = {h:g}": partial(_two_plates, h, lower, gap, on_edge)
            for h, lower, gap, on_edge in (
                (0.1, 0.006679, 1.84e-4, 1.0),
                (0.2, 0.005786, 1.210e-3, 1.0),
                (0.05, 0.008479, 0.0, 0.5),
            )
        },
    ),
    Check(
        "U12",
        "Receding contact is proportional to force: the same contacts under a thousandth or ten times of it.",
        Source(
            "J. Dundurs, in: The Mechanics of the Contact between Deformable Bodies (1975); L. M. Keer, J. Dundurs, "
            "K. C. Tsai, J. Appl. Mech. 39 (1972) 1115",
            Tag.MEMORY,
        ),
        _CONTACT,
        "Exact but for round-off.",
        {f"force times {share:g}": partial(_scaled, share) for share in (1e-3, 10.0)},
    ),
    Check(
        "U14",
        "Nothing pulls, nothing overlaps, only what touches carries, and the forces add up to the load.",
        Source("the conditions of Karush, Kuhn and Tucker; statics", Tag.DERIVED),
        _CONTACT,
        "Exact but for round-off.",
        {f"h1/a = {h:g}": partial(_conditions, h) for h in (0.05, 0.1, 0.2)},
    ),
)

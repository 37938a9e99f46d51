"""Discs and annular plates, on meshes that are no grids: a square grid pulled onto the disc, a curved quarter."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from deflect.checks.bench.meshes import FreePlate, disc, everywhere, sector
from deflect.checks.bench.plates import rigidity, slab
from deflect.checks.check import Check, Row
from deflect.checks.exact.axisymmetric import annulus
from deflect.checks.exact.rectangles import NU, shear_stiffness
from deflect.mechanics.arrays import Flags, Floats
from deflect.sources import Source, Tag

ORDER, HEADING = 30, "Discs and annular plates"
_ELEMENT = "deflect.mechanics.plate.assemble_stiffness"
RADIUS = 500.0
_ACROSS, _AROUND, _AROUND_DISC = 24, 8, 32
_BOOK = "S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959"
_HANDBOOK = "handbook case of circular plates (Roark, table 11.2); exact figures from the differential equation"
_THIN, _MODERATE = 1e-3, 0.1


def _disc(thickness: float, kind: str) -> tuple[FreePlate, Flags]:
    plate = FreePlate(disc(RADIUS, _AROUND_DISC), slab(thickness * RADIUS))
    rim = plate.rim(everywhere)
    return plate, rim if kind == "clamped" else rim & (plate.component == 0)


def _pressed(kind: str, thickness: float) -> Sequence[Row]:
    plate, fixed = _disc(thickness, kind)
    motion = plate.bend(plate.pressure(), fixed)
    bent = 1 / 64 if kind == "clamped" else (5 + NU) / (64 * (1 + NU))
    exact = bent + 1 / (4 * shear_stiffness(thickness))
    return (_at_centre(plate, motion, thickness, exact, 4),)


def _pointed(kind: str) -> Sequence[Row]:
    """Read away from the force, below which a plate with shear has no limit."""
    plate, fixed = _disc(_MODERATE, kind)
    load = np.zeros(plate.basis.N)
    load[plate.nearest(0, 0)] = -1.0
    motion, rows = plate.bend(load, fixed), []
    for wanted in (0.25, 0.5):
        at = plate.nearest(wanted * RADIUS, 0)
        r = float(np.hypot(*plate.basis.doflocs[:, at])) / RADIUS
        lift = 1.0 if kind == "clamped" else (3 + NU) / (1 + NU)
        exact = (lift * (1 - r**2) + 2 * r**2 * np.log(r)) / (16 * np.pi)
        exact -= np.log(r) / (2 * np.pi * shear_stiffness(_MODERATE))
        computed = -float(motion[at]) * rigidity(_MODERATE * RADIUS) / RADIUS**2
        rows.append(Row(f"w D/(P a^2) at r/a = {wanted:g}", exact, computed, 2e-3))
    return rows


def _at_centre(plate: FreePlate, motion: Floats, thickness: float, exact: float, power: int) -> Row:
    scale = rigidity(thickness * RADIUS) / RADIUS**power
    name = "w D/(q a^4)" if power == 4 else "w D/(P a^2)"
    return Row(name, exact, -float(motion[plate.nearest(0, 0)]) * scale, 2e-3)


def _ring(radius: float) -> Sequence[Row]:
    """The ring's force on the disc as 360 point forces, each spread by the element's own deflections."""
    plate, fixed = _disc(_MODERATE, "supported")
    finder, load = plate.mesh.element_finder(), np.zeros(plate.basis.N)
    angle = (np.arange(360) + 0.5) * 2 * np.pi / 360
    points = radius * RADIUS * np.stack([np.cos(angle), np.sin(angle)])
    cells = finder(*points)
    local = plate.mesh.mapping().invF(points[:, :, None], cells)[:, :, 0]
    for node in range(9):
        share = plate.basis.elem._scalar.lbasis(local, node)[0]
        np.add.at(load, plate.basis.dofs.element_dofs[3 * node, cells], -share / angle.size)
    bent = ((3 + NU) * (1 - radius**2) / (2 * (1 + NU)) + radius**2 * np.log(radius)) / (8 * np.pi)
    sheared = -np.log(radius) / (2 * np.pi * shear_stiffness(_MODERATE))
    return (_at_centre(plate, plate.bend(load, fixed), _MODERATE, bent + sheared, 2),)


def _annular(inner: float, at_outer: str, at_inner: str, line: bool = False, thickness: float = _THIN) -> Sequence[Row]:
    plate = FreePlate(sector(inner * RADIUS, RADIUS, _ACROSS, _AROUND), slab(thickness * RADIUS))
    x, y = plate.basis.doflocs
    radius, component = np.hypot(x, y), plate.component
    near = 1e-6 * RADIUS
    fixed = ((np.abs(y) < near) & (component == 2)) | ((np.abs(x) < near) & (component == 1))
    for place, edge in ((RADIUS, at_outer), (inner * RADIUS, at_inner)):
        held = {"supported": (0,), "clamped": (0, 1, 2), "guided": (1, 2), "free": ()}[edge]
        fixed |= (np.abs(radius - place) < near) & np.isin(component, held)
    load = _line_force(plate, inner * RADIUS) if line else plate.pressure()
    motion = plate.bend(load, fixed)
    exact = annulus(inner, at_outer, at_inner, float(not line), float(line), shear_stiffness(thickness))
    read_at = 1.0 if at_outer == "free" else inner
    d = rigidity(thickness * RADIUS)
    w_scale, m_scale = (d / RADIUS**3, 1 / RADIUS) if line else (d / RADIUS**4, 1 / RADIUS**2)
    unit, moment_unit = ("Q a^3/D", "Q a") if line else ("q a^4/D", "q a^2")
    edge = "outer" if at_outer == "free" else "inner"
    mr_at, mt_at = (inner, 1.0) if at_inner == "clamped" else (1.0, inner)
    rows = [
        Row(f"w at the {edge} edge, {unit}", exact.read("w", read_at),
            -float(motion[plate.nearest(read_at * RADIUS, 0)]) * w_scale, 2e-4)
    ]  # fmt: skip
    if at_inner == "clamped" or at_outer == "clamped":
        computed = plate.moments(motion, mr_at * RADIUS, 0)[0] * m_scale
        rows.append(Row(f"Mr at the clamped edge, {moment_unit}", exact.read("mr", mr_at), computed, 1e-2))
    if "free" in (at_inner, at_outer):
        computed = plate.moments(motion, mt_at * RADIUS, 0)[1] * m_scale
        rows.append(Row(f"Mt at the free edge, {moment_unit}", exact.read("mt", mt_at), computed, 1e-2))
    return rows


def _line_force(plate: FreePlate, radius: float) -> Floats:
    """A downward line force of 1 N/mm along an arc, by Simpson's rule over its elements."""
    x, y = plate.basis.doflocs
    on = np.flatnonzero((np.abs(np.hypot(x, y) - radius) < 1e-6 * RADIUS) & (plate.component == 0))
    on = on[np.argsort(np.arctan2(y[on], x[on]))]
    weight = np.full(on.size, 2.0)
    weight[1::2], weight[[0, -1]] = 4.0, 1.0
    load = np.zeros(plate.basis.N)
    load[on] = -weight / weight.sum() * radius * np.pi / 2
    return load


_POLYGON = "0.14 % is left at 32 elements across: the rim is a polygon inside the circle."
_CURVED = "Discretisation of a curved mesh: 0.01 % in w, 0.8 % in moments, which are read at an edge."

CHECKS = (
    Check(
        "C01",
        "Discs under even pressure, clamped and supported, thin and thick.",
        Source(f"{_BOOK}, sections 16 and 17, with q a^2/(4 kappa G h) by shear", Tag.MEMORY),
        _ELEMENT,
        _POLYGON,
        {
            f"{words}, h/a = {h:g}": partial(_pressed, words, h)
            for words, thicknesses in (("clamped", (0.01, 0.1, 0.2)), ("supported", (0.1, 0.2)))
            for h in thicknesses
        },
    ),
    Check(
        "C02",
        "Discs under a central point force, read away from it: thin plate and shear.",
        Source(f"{_BOOK}, section 19", Tag.MEMORY),
        _ELEMENT,
        _POLYGON,
        {words: partial(_pointed, words) for words in ("clamped", "supported")},
    ),
    Check(
        "C03",
        "Annular plates with a supported outer and a free inner edge under even pressure.",
        Source(f"{_BOOK}, table 3; {_HANDBOOK}", Tag.MEMORY),
        _ELEMENT,
        _CURVED,
        {f"b/a = {b:g}": partial(_annular, b, "supported", "free") for b in (0.1, 0.3, 0.5, 0.7)},
        "At b/a = 0.5 the book's deflection, as remembered, is 2.6 % below the differential equation's.",
    ),
    Check(
        "C04",
        "Annular plates with a clamped outer and a free inner edge under even pressure.",
        Source(_HANDBOOK, Tag.MEMORY),
        _ELEMENT,
        _CURVED,
        {f"b/a = {b:g}": partial(_annular, b, "clamped", "free") for b in (0.1, 0.3, 0.5, 0.7)},
    ),
    Check(
        "C05",
        "Annular plates whose inner edge is guided, so that it moves down and does not turn.",
        Source(_HANDBOOK, Tag.MEMORY),
        _ELEMENT,
        _CURVED,
        {
            f"outer {o}, b/a = {b:g}": partial(_annular, b, o, "guided")
            for o in ("supported", "clamped") for b in (0.3, 0.5)
        },
    ),
    Check(
        "C06",
        "Annular plates that are clamped inside and free outside under even pressure.",
        Source(_HANDBOOK, Tag.MEMORY),
        _ELEMENT,
        _CURVED,
        {f"b/a = {b:g}": partial(_annular, b, "free", "clamped") for b in (0.3, 0.5)},
    ),
    Check(
        "C07",
        "Annular plates with a supported outer edge under a line force along the free inner one.",
        Source(_HANDBOOK, Tag.MEMORY),
        _ELEMENT,
        _CURVED,
        {f"b/a = {b:g}": partial(_annular, b, "supported", "free", line=True) for b in (0.3, 0.5)},
    ),
    Check(
        "C08",
        "A supported disc under a ring of force: thin plate and shear.",
        Source(f"{_BOOK}, section 17", Tag.MEMORY),
        _ELEMENT,
        _POLYGON,
        {f"b/a = {b:g}": partial(_ring, b) for b in (0.25, 0.5, 0.75)},
    ),
    Check(
        "C09",
        "Thick annular plates: the general solution with shear.",
        Source("derived: the differential equation of the thin plate, with w' = psi - V/(kappa G h)", Tag.DERIVED),
        _ELEMENT,
        _CURVED,
        {
            f"outer {o}, b/a = {b:g}, h/a = {h:g}": partial(_annular, b, o, "free", thickness=h)
            for o in ("supported", "clamped") for b in (0.3, 0.5) for h in (0.1, 0.2)
        },
    ),
)  # fmt: skip

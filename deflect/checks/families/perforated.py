"""Plates with openings and with patterns of holes."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from deflect.checks.bench.meshes import FreePlate
from deflect.checks.bench.plates import SIDE, YOUNG, bend, even_pressure, held, rectangle, rigidity, sinking, slab
from deflect.checks.check import Check, Row
from deflect.checks.exact.cell import bent_cell_modulus, cell_constants, quarter_cell, thick_cell_compliance
from deflect.checks.exact.orthotropic import Orthotropic
from deflect.checks.exact.rectangles import NU
from deflect.mechanics.arrays import Flags, Floats
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.plate import Plate
from deflect.mechanics.sections import perforated_section, slot_constants
from deflect.mechanics.solid_body import perforated_matter
from deflect.model.material import Material
from deflect.model.press import Bolster, PinField
from deflect.model.values import Rectangle
from deflect.sources import Source, Tag

ORDER, HEADING = 40, "Openings and patterns of holes"
_CONSTANTS = "deflect.mechanics.sections.slot_constants"
_SECTION = "deflect.mechanics.sections.perforated_section"
_PLATE = "deflect.mechanics.plate.Plate"
_SLOT = Source(
    "T. Slot, Stress Analysis of Thick Perforated Plates, 1972, table B.2 (plane stress, nu = 0.3); T. Slot, W. J. "
    "O'Donnell, J. Eng. Ind. 93 (1971) 935; exact figures: a unit cell of our own",
    Tag.PUBLISHED,
)
# Ligament efficiency; E*/E and nu* along the pitch, and G*/G, as the table prints them.
_TABLE = {
    0.1: ("0.1857", "0.0956", "0.0267"),
    0.2: ("0.3000", "0.1506", "0.0886"),
    0.3: ("0.4069", "0.1974", "0.1883"),
    0.4: ("0.5117", "0.2365", "0.3237"),
    0.5: ("0.6168", "0.2665", "0.4826"),
    0.7: ("0.8244", "0.2975", "0.7916"),
}
# E along the diagonal over E, same table.
_DIAGONAL = {0.1: "0.0373", 0.2: "0.1142", 0.3: "0.2253", 0.4: "0.3631", 0.5: "0.5151", 0.7: "0.8018"}
# ASME BPVC VIII-1, UHX-11, square pattern, thickness of twice the pitch or more: E*/E as a polynomial.
_ASME = (0.0372, 1.0314, -0.6402, 2.6201, -2.1929)
# E*/E along the pitch in generalised plane strain, same book; and what smearing by plane stress leaves out of it, a
# little more than it is.
_THICK = {0.1: "0.1943", 0.2: "0.3111", 0.3: "0.4197", 0.4: "0.5253", 0.5: "0.6300", 0.7: "0.8329"}
_LEFT_OUT = {0.1: 0.045, 0.2: 0.037, 0.3: 0.032, 0.4: 0.027, 0.5: 0.022, 0.7: 0.011}
_STEEL = Material("steel", YOUNG, NU, 7.85e-6, 120.0)
_PITCH = 150.0


def _table(efficiency: float) -> Sequence[Row]:
    names = ("E*/E along the pitch", "nu* along the pitch", "G*/G")
    figures = zip(names, cell_constants(efficiency), slot_constants(efficiency), _TABLE[efficiency], strict=True)
    return [Row(name, exact, computed, 2e-4, printed, absolute=True) for name, exact, computed, printed in figures]


def _between(efficiency: float) -> Sequence[Row]:
    names = ("E*/E along the pitch", "nu* along the pitch", "G*/G")
    figures = zip(names, cell_constants(efficiency), slot_constants(efficiency), strict=True)
    return [Row(name, exact, computed, 0.012) for name, exact, computed in figures]


def _diagonal_modulus(youngs: float, poisson: float, shear: float) -> float:
    """E along the diagonal over E, from constants along the pitch (turned compliance)."""
    return 4 / (2 * (1 - poisson) / youngs + 2 * (1 + NU) / shear)


def _diagonal(efficiency: float) -> Sequence[Row]:
    exact = _diagonal_modulus(*cell_constants(efficiency))
    return (Row("E45/E", exact, _diagonal_modulus(*slot_constants(efficiency)), 5e-3, _DIAGONAL[efficiency]),)


def _isotropic(efficiency: float) -> Sequence[Row]:
    exact = sum(a * efficiency**k for k, a in enumerate(_ASME))
    constants = slot_constants(efficiency)
    return (Row("E*/E", exact, (constants[0] + _diagonal_modulus(*constants)) / 2, 0.15),)


def _flexibility(efficiency: float) -> Sequence[Row]:
    thickness = 2 * _PITCH
    section = perforated_section(thickness, _STEEL, _PITCH, (1 - efficiency) * _PITCH)
    soft = np.linalg.inv(section.bending) * thickness**3 / 12 * YOUNG
    youngs, poisson, shear = cell_constants(efficiency)
    solid = 1 - np.pi / 4 * (1 - efficiency) ** 2
    return (
        Row("E*/E in bending along x", youngs, 1 / soft[0, 0], 2e-3),
        Row("E*/E in bending along y", youngs, 1 / soft[1, 1], 2e-3),
        Row("nu* in bending", poisson, -soft[0, 1] / soft[0, 0], 2e-3),
        Row("G*/G in twist", shear, 2 * (1 + NU) / soft[2, 2], 5e-3),
        Row("mass over that of a solid slab", solid, section.mass / (_STEEL.density * thickness), 1e-9),
    )


def _thick(efficiency: float) -> Sequence[Row]:
    """The law of a bolster of solids with pin holes, against a cell that is long along its hole."""
    field = PinField(_PITCH, (1 - efficiency) * _PITCH, Rectangle(0.0, 0.0, SIDE, SIDE))
    bolster = Bolster(SIDE, SIDE, 300.0, 0.0, _STEEL, pin_field=field)
    exact, law = thick_cell_compliance(efficiency), np.linalg.inv(perforated_matter(bolster).law) * YOUNG
    return (
        Row("E*/E along the pitch", 1 / exact[0, 0], 1 / law[0, 0], _LEFT_OUT[efficiency], _THICK[efficiency]),
        Row("E*/E along the holes", 1 / exact[2, 2], 1 / law[2, 2], 1e-6),
        Row("what a force along the holes stretches across, times E", exact[0, 2], law[0, 2], 1e-6),
    )


def _bent_cell(efficiency: float, thickness: float) -> float:
    """E*/E in bending of the quarter of a cell, meshed by the production element; thickness: over the pitch."""
    depth = thickness * 2.0
    plate = FreePlate(quarter_cell(1.0 - efficiency), slab(depth))
    x, y = plate.basis.doflocs

    def near(place: Floats, side: float) -> Flags:
        return np.asarray(np.abs(place - side) < 1e-9)

    of_x, of_y, corner = plate.component == 1, plate.component == 2, near(x, 1.0) & near(y, 1.0)
    fixed = (of_x & (near(x, 0.0) | near(x, 1.0))) | (of_y & (near(y, 0.0) | near(y, 1.0)))
    fixed |= (plate.component == 0) & corner

    def energy(turned: Floats) -> float:
        motion = turned + plate.bend(-(plate.stiffness @ turned), fixed)
        return float(motion @ (plate.stiffness @ motion))

    along, across = np.where(of_x & near(x, 1.0), 1.0, 0.0), np.where(of_y & near(y, 1.0), 1.0, 0.0)
    d11 = energy(along)
    nu = energy(along + across) / 2 / d11 - 1
    return d11 * (1 - nu**2) / (YOUNG * depth**3 / 12)


def _bent(efficiency: float, thickness: float, left_out: float) -> Sequence[Row]:
    exact = bent_cell_modulus(efficiency, thickness)
    section = perforated_section(thickness * _PITCH, _STEEL, _PITCH, (1 - efficiency) * _PITCH)
    smeared = 12 / (float(np.linalg.inv(section.bending)[0, 0]) * YOUNG * (thickness * _PITCH) ** 3)
    return (
        Row("E*/E of a meshed cell", exact, _bent_cell(efficiency, thickness), 5e-5),
        Row("E*/E of the smeared section", exact, smeared, left_out),
    )


def _perforated_plate(efficiency: float) -> Sequence[Row]:
    """A supported square with holes all over; thin against its side, so that shear is small but counted."""
    thickness = SIDE / 20
    section = perforated_section(thickness, _STEEL, _PITCH, (1 - efficiency) * _PITCH)
    plate = rectangle(section, SIDE, SIDE, 14, 14)
    computed = sinking(plate, bend(plate, even_pressure(plate), held(plate, "hard")))
    e, nu, g = cell_constants(efficiency)
    inertia = YOUNG * thickness**3 / 12
    d = e * inertia / (1 - nu**2)
    shear = 5 / 6 * YOUNG / (2 * (1 + NU)) * thickness * (1 - np.pi / 4 * (1 - efficiency) ** 2)
    law = Orthotropic(d, d, nu * d, g * inertia / (2 * (1 + NU)), shear)
    return (Row("w under 1 MPa over that of a solid thin plate", law.deflection(SIDE, SIDE) * rigidity(thickness)
                / SIDE**4, computed * rigidity(thickness) / SIDE**4, 3e-3),)  # fmt: skip


def _square_hole(hole: float, thickness: float, kind: str, mid_edge: float, corner: float) -> Sequence[Row]:
    elements = 20 if thickness > 0.05 else 40
    line = np.linspace(-SIDE / 2, SIDE / 2, elements + 1)
    opening = Rectangle(0.0, 0.0, hole * SIDE, hole * SIDE)
    plate = Plate.uniform(PlanMesh.with_openings(line, line, (opening,)), slab(thickness * SIDE))
    motion = bend(plate, even_pressure(plate), held(plate, kind))
    half, scale = hole * SIDE / 2, rigidity(thickness * SIDE) / SIDE**4
    tolerance = 0.01 if thickness > 0.05 else 0.015
    return (
        Row("w D/(q a^4), middle of the hole's edge", mid_edge, sinking(plate, motion, half, 0) * scale, tolerance),
        Row("w D/(q a^4), corner of the hole", corner, sinking(plate, motion, half, half) * scale, tolerance),
    )


CHECKS = (
    Check(
        "H01",
        "A supported square with a square opening, a tenth of the side thick.",
        Source("ours: two other finite element programs of higher order, graded to the hole's corners", Tag.OURS),
        _PLATE,
        "The hole's corners are singular and the mesh here is even: 1 %.",
        {
            f"c/a = {hole:g}": partial(_square_hole, hole, 0.1, "hard", mid, corner)
            for hole, mid, corner in ((0.2, 0.005018, 0.004640), (0.4, 0.004343, 0.003443), (0.5, 0.003436, 0.002456))
        },
    ),
    Check(
        "H03",
        "A thin square with a square opening of half its side, supported and clamped.",
        Source("ours: two other finite element programs of higher order, graded to the hole's corners", Tag.OURS),
        _PLATE,
        "The hole's corners are singular and the mesh here is even: 1.5 %.",
        {
            "supported": partial(_square_hole, 0.5, 0.01, "hard", 0.003217, 0.002316),
            "clamped": partial(_square_hole, 0.5, 0.01, "clamped", 0.000421, 0.000286),
        },
    ),
    Check(
        "H05",
        "Effective constants of a square pattern of round holes.",
        _SLOT,
        _CONSTANTS,
        "The printed digits, and the cell's own discretisation at the thinnest ligament.",
        {f"1 - d/p = {efficiency:g}": partial(_table, efficiency) for efficiency in _TABLE},
    ),
    Check(
        "H05b",
        "Between the rows of the table the constants follow the cell.",
        Source("derived: a unit cell of our own in plane stress", Tag.DERIVED),
        _CONSTANTS,
        "The spline's worst is 1.2 %, in the middle of the lowest interval; pin fields are not known better.",
        {f"1 - d/p = {eta:g}": partial(_between, eta) for eta in (0.15, 0.25, 0.35, 0.45, 0.6, 0.8, 0.9)},
    ),
    Check(
        "H05c",
        "Along the diagonal a square pattern is far softer than along the pitch.",
        _SLOT,
        _CONSTANTS,
        "G*/G carries four digits, three at the thinnest ligament, and the diagonal hangs on it.",
        {f"1 - d/p = {efficiency:g}": partial(_diagonal, efficiency) for efficiency in _DIAGONAL},
    ),
    Check(
        "H06",
        "A thick block with a square pattern of holes: what smearing it by the constants of plane stress leaves out.",
        Source(
            "T. Slot, Stress Analysis of Thick Perforated Plates, 1972, generalised plane strain, nu = 0.3; exact "
            "figures: a unit cell of our own whose ends stay plane",
            Tag.PUBLISHED,
        ),
        "deflect.mechanics.solid_body.perforated_matter",
        "Along the pitch the theory's own error, hardly more than it is; along the holes the law is exact.",
        {f"1 - d/p = {efficiency:g}": partial(_thick, efficiency) for efficiency in _THICK},
        "Along the pitch a long block is stiffer by 1 to 4 %; a bolster with pin holes sags by so much too much.",
    ),
    Check(
        "H07",
        "A bent cell with a round hole, meshed and smeared: the thinner the plate, the stiffer it is along the pitch.",
        Source(
            "Reissner-Mindlin theory; exact figures by a unit cell of our own, quadratic elements fully integrated",
            Tag.DERIVED,
        ),
        _SECTION,
        "Meshed: discretisation alone; smeared: the theory's own error, hardly more than it is.",
        {
            f"1 - d/p = {eta:g}, h/p = {thickness:g}": partial(_bent, eta, thickness, left_out)
            for eta, thickness, left_out in (
                (0.2, 0.1, 0.06),
                (0.2, 0.5, 0.0105),
                (0.2, 2.0, 0.002),
                (0.4, 0.1, 0.085),
                (0.4, 0.5, 0.023),
                (0.4, 2.0, 0.002),
            )
        },
        "Smeared constants hold from a thickness of about two pitches on.",
    ),
    Check(
        "H09",
        "Mean of pitch and diagonal against the one isotropic equivalent of the boiler code.",
        Source("ASME BPVC VIII-1, UHX-11, polynomial for square patterns, thickness >= 2 pitches", Tag.PUBLISHED),
        _CONSTANTS,
        "Consistency only: one isotropic figure cannot be a strongly orthotropic pattern's: 15 %.",
        {f"1 - d/p = {eta:g}": partial(_isotropic, eta) for eta in (0.2, 0.3, 0.4, 0.5)},
    ),
    Check(
        "H10",
        "The perforated section bends and twists as the cell does, and weighs what is left of it.",
        _SLOT,
        _SECTION,
        "The cell's own discretisation and the table's digits: 0.2 %, in G*/G 0.5 %.",
        {f"1 - d/p = {eta:g}": partial(_flexibility, eta) for eta in (0.2, 0.4, 0.7)},
    ),
    Check(
        "H11",
        "A supported square plate with holes all over, against Navier's series with the cell's constants.",
        Source("derived: Navier's series for an orthotropic plate with shear; constants of a unit cell", Tag.DERIVED),
        _PLATE,
        "The cell's constants differ from the table's by 0.1 %, discretisation by 0.01 %.",
        {f"1 - d/p = {eta:g}": partial(_perforated_plate, eta) for eta in (0.2, 0.4, 0.7)},
    ),
)

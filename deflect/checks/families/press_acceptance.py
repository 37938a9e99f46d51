"""Figures of a press's acceptance test, and of the bodies that it bends."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from deflect.checks.bench.grounded import strip
from deflect.checks.bench.plates import YOUNG, bend, even_pressure, held, sinking
from deflect.checks.check import Check, Row
from deflect.mechanics.acceptance import Sag, acceptance_sag
from deflect.mechanics.holding import bending_line_force
from deflect.mechanics.stroke_energy import lifting_energy
from deflect.model.die import BlankHolder
from deflect.model.material import Material
from deflect.model.press import Acceptance, Bed, Bolster, Land, Press
from deflect.model.values import Interval, Rectangle
from deflect.sources import Source, Tag
from deflect.units import SLOPE, parse

ORDER, HEADING = 120, "Press acceptance figures"
_SAG = "deflect.mechanics.acceptance.acceptance_sag"
SPAN, WIDTH = 4000.0, 800.0
# Standard acceleration of gravity, m/s2 (3rd CGPM, 1901).
_GRAVITY = 9.80665


def _sag(force: float, loaded: float, thickness: float, young: float) -> Sag:
    """A table with nu = 0 that overhangs its opening by 400 mm at both ends, on a rigid land left and right."""
    length = SPAN + 800.0
    bolster = Bolster(length, WIDTH, thickness, 0.0, Material("beam", young, 0.0, 7.85e-6, 100.0))
    bed = Bed(Rectangle(0.0, 0.0, SPAN, WIDTH), Land(Interval.exactly(np.inf), "rigid"))
    # The force is spread over a share of the bolster's length and width.
    acceptance = Acceptance(1 / 6000, loaded * SPAN / length, SPAN, WIDTH)
    exact = Interval.exactly(0.0)
    press = Press("beam", force, bolster, bed, acceptance, None, exact, exact, None)
    return acceptance_sag(press, np.inf, land_give=0.0)


def _beam(loaded: float) -> float:
    """Sag of a beam under 1 N over its middle share ``loaded``, L^3/EI: the moments' curvature integrated twice."""
    x = np.linspace(0.0, 0.5, 20_001)
    start = (1 - loaded) / 2
    moment = x / 2 - np.where(x > start, (x - start) ** 2 / (2 * loaded), 0.0)
    # By the unit force at mid: w = 2 * integral of M x/2.
    return float(np.trapezoid(moment * x, x))


def _partly_loaded(loaded: float) -> Sequence[Row]:
    thickness, young, force = 200.0, 200_000.0, 1e5
    sheared = (2 - loaded) / 8 * SPAN / (5 / 6 * young / 2 * WIDTH * thickness)
    exact = force * (_beam(loaded) * SPAN**3 / (young * WIDTH * thickness**3 / 12) + sheared)
    return (Row("sag, mm", exact, _sag(force, loaded, thickness, young).along_x, 0.01),)


def _allowance() -> Sequence[Row]:
    """20 MN over two thirds of 4 m: the EI at which 0.17 mm/m is just met, put into a table."""
    force, loaded, slope, thickness = 20e6, 2 / 3, 0.17e-3, 150.0
    stiffness = force * SPAN**3 * _beam(loaded) / (slope * SPAN)
    sag = _sag(force, loaded, thickness, stiffness * 12 / (WIDTH * thickness**3))
    return (
        Row("sag, mm", slope * SPAN, sag.along_x, 0.015),
        Row("sag over length, mm/m", 1e3 * slope, 1e3 * sag.slope, 0.015),
    )


def _thickness_law() -> Sequence[Row]:
    thin, thick = (_sag(1e5, 0.6, t, 200_000.0).along_x for t in (20.0, 40.0))
    return (Row("sag of a table over that of one twice as thick", 8.0, thin / thick, 2e-3),)


def _ring(length: float, thickness: float) -> Sequence[Row]:
    """The line force that the formula asks for, put onto a strip of the ring's section."""
    ring, sag = 150.0, 0.4
    holder = BlankHolder(length, 0.5 * length, ring, thickness, Material("ring", YOUNG, 0.0, 7e-6, 100.0))
    force = bending_line_force(holder, sag)
    plate = strip(length, ring, thickness, 20)
    motion = bend(plate, even_pressure(plate, force / ring), held(plate, "soft", ("left", "right")))
    # The strip shears as well: q L^2/(8 kappa G A).
    sheared = force * length**2 / (8 * 5 / 6 * YOUNG / 2 * ring * thickness)
    return (Row("sag of the ring's side, mm", sag + sheared, sinking(plate, motion), 1e-4),)


_BENDING = "elementary bending theory, the unit force theorem; shear: S. P. Timoshenko, Phil. Mag. 41 (1921) 744"


def _per_foot(thousandths: str, printed: str) -> Sequence[Row]:
    """Sag in thousandths of an inch per foot of table."""
    exact = float(thousandths) / 1000 / 12 * 1000
    return (Row("mm/m", exact, parse(f"0.00{thousandths.replace('.', '')} in/ft", SLOPE) * 1e3, 1e-12, printed),)


def _balanced(mass: float, stroke: float, printed: str) -> Sequence[Row]:
    """Work against gravity, added up over the stroke."""
    height = np.linspace(0.0, stroke, 101)
    exact = float(np.trapezoid(np.full(height.size, 1e3 * mass * _GRAVITY), height)) / 1e3
    return (Row("kJ a stroke", exact, lifting_energy(1e3 * mass, 1e3 * stroke) / 1e3, 1e-9, printed),)


CHECKS = (
    Check(
        "Z01",
        "A table's sag as shops of either measure state it: inches per foot, millimetres per metre.",
        Source("12 inches to the foot", Tag.DERIVED),
        "deflect.units.parse",
        "Exact but for round-off.",
        {
            "0.002 in/ft": partial(_per_foot, "2", "0.16667"),
            "0.0015 in/ft": partial(_per_foot, "1.5", "0.125"),
            "0.001 in/ft": partial(_per_foot, "1", "0.0833"),
        },
    ),
    Check(
        "Z05",
        "Energy that lifts an upper half at each stroke.",
        Source("work of a constant force; standard acceleration of gravity (3rd CGPM, 1901)", Tag.DERIVED),
        "deflect.mechanics.stroke_energy.lifting_energy",
        "Exact but for round-off.",
        {
            "20 t by 0.5 m": partial(_balanced, 20.0, 0.5, "98.07"),
            "15 t by 0.3 m": partial(_balanced, 15.0, 0.3, "44.13"),
        },
    ),
    Check(
        "Z02",
        "The acceptance test on a narrow table is a beam under a force over its middle share.",
        Source(_BENDING, Tag.DERIVED),
        _SAG,
        "The land's force stands a few millimetres inside the edge of the opening: 1 %.",
        {
            f"loaded over {share:.3g} of its length": partial(_partly_loaded, share)
            for share in (0.5, 0.6, 2 / 3, 0.8, 1)
        },
    ),
    Check(
        "Z03",
        "A table that is as stiff as 20 MN over two thirds of 4 m at 0.17 mm/m ask for sags by 0.68 mm.",
        Source(_BENDING + "; 0.17 mm/m (0.002 in/ft): common practice, no source", Tag.DERIVED),
        _SAG,
        "As above, and shear, which the figure leaves out, adds 0.3 %: 1.5 %.",
        {"": _allowance},
    ),
    Check(
        "Z06",
        "Twice the thickness, an eighth of the sag.",
        Source("elementary bending theory", Tag.DERIVED),
        _SAG,
        "Shear adds 0.02 % to the thinner and 0.1 % to the thicker table.",
        {"20 and 40 mm on a span of 4 m": _thickness_law},
    ),
    Check(
        "Z08",
        "The line force that bends a blank holder's side, put onto a strip, bends it by as much.",
        Source("elementary bending theory: 5 q L^4/(384 EI); the strip shears as well", Tag.DERIVED),
        "deflect.mechanics.holding.bending_line_force",
        "Discretisation alone.",
        {"2 m, 80 mm thick": partial(_ring, 2000.0, 80.0), "1.2 m, 120 mm thick": partial(_ring, 1200.0, 120.0)},
    ),
)

"""Plates that are stiffer one way than the other, and plates that lie on each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from deflect.checks.bench.plates import SIDE, YOUNG, bend, even_pressure, held, moments, rectangle, sinking, slab
from deflect.checks.check import Check, Row
from deflect.checks.exact.orthotropic import Orthotropic
from deflect.checks.exact.rectangles import NU, navier
from deflect.mechanics.sections import PlateSection, stacked_section
from deflect.model.material import Material
from deflect.sources import Source, Tag

ORDER, HEADING = 50, "Orthotropic and stacked plates"
_PLATE = "deflect.mechanics.plate.Plate"
_HUBER = Source(
    "M. T. Huber 1923; S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, chapter 11",
    Tag.MEMORY,
)
_THICKNESS = SIDE / 1000
# One unit of bending stiffness, N mm, and shear so stiff that it is not felt.
_UNIT = 1e5


def _section(law: Orthotropic) -> PlateSection:
    bending = np.array([[law.along_x, law.coupling, 0], [law.coupling, law.along_y, 0], [0, 0, law.twist]])
    stiff = 1e6 * _UNIT / SIDE**2
    shear = np.diag((stiff, stiff) if np.isinf(law.shear) else (law.shear, law.shear_y or law.shear))
    return replace(slab(_THICKNESS), bending=bending, shear=shear)


def _supported(law: Orthotropic, ratio: float = 1.0) -> Sequence[Row]:
    plate = rectangle(_section(law), SIDE, ratio * SIDE, 16, round(16 * ratio))
    motion = bend(plate, even_pressure(plate), held(plate, "hard"))
    mx, my = law.moments(SIDE, ratio * SIDE)
    computed = moments(plate, motion)
    return (
        Row("w, q a^4 per unit of stiffness", law.deflection(SIDE, ratio * SIDE) * _UNIT / SIDE**4,
            sinking(plate, motion) * _UNIT / SIDE**4, 5e-4),
        Row("Mx/(q a^2)", mx / SIDE**2, computed[0] / SIDE**2, 6e-3),
        Row("My/(q a^2)", my / SIDE**2, computed[1] / SIDE**2, 1e-2),
    )  # fmt: skip


def _huber(dx: float, dy: float, h: float, d1: float, ratio: float = 1.0) -> Sequence[Row]:
    return _supported(Orthotropic(dx * _UNIT, dy * _UNIT, d1 * _UNIT, (h - d1) / 2 * _UNIT), ratio)


def _sheared(dx: float, sx: float, sy: float) -> Sequence[Row]:
    unit = _UNIT / SIDE**2
    return _supported(Orthotropic(dx * _UNIT, _UNIT, 0.3 * _UNIT, 0.35 * _UNIT, sx * unit, sy * unit))


def _stacked(below: float, above: float) -> Sequence[Row]:
    upper = Material("upper", YOUNG / 2, NU, 1e-6, 100.0)
    section = stacked_section(slab(below), above, upper)
    plate = rectangle(section, SIDE, SIDE, 14, 14)
    motion = bend(plate, even_pressure(plate), held(plate, "hard"))

    def rigidity(thickness: float, young: float) -> float:
        return young * thickness**3 / (12 * (1 - NU**2))

    d_below, d_above = rigidity(below, YOUNG), rigidity(above, YOUNG / 2)
    exact = navier()
    both = np.array([1.0, 1.0, 0.0])
    share = (section.fibres[0] @ both)[0] * below**2 / 6 / (section.bending @ both)[0]
    return (
        Row("w (D1 + D2)/(q a^4)", exact.deflection, sinking(plate, motion) * (d_below + d_above) / SIDE**4, 5e-4),
        Row("moment of the lower plate over all", d_below / (d_below + d_above),
            float(share), 1e-9),
    )  # fmt: skip


CHECKS = (
    Check(
        "O01",
        "Supported orthotropic squares under even pressure (Dx, Dy, H, D1 in units of stiffness).",
        _HUBER,
        _PLATE,
        "Discretisation alone; the lesser moment is read where it changes fastest.",
        {
            "2, 1, root 2, 0": partial(_huber, 2.0, 1.0, 2**0.5, 0.0),
            "4, 1, 2, 0": partial(_huber, 4.0, 1.0, 2.0, 0.0),
            "10, 1, 1, 0.3": partial(_huber, 10.0, 1.0, 1.0, 0.3),
        },
    ),
    Check(
        "O01b",
        "A supported orthotropic rectangle of 1.5 to one, stiff along and stiff across.",
        _HUBER,
        _PLATE,
        "Discretisation alone; the lesser moment is read where it changes fastest.",
        {"along": partial(_huber, 4.0, 1.0, 1.5, 0.3, 1.5), "across": partial(_huber, 1.0, 4.0, 1.5, 0.3, 1.5)},
    ),
    Check(
        "O04",
        "A supported orthotropic square with shear stiffness that differs along x and y.",
        Source("derived: Reissner-Mindlin theory, three equations for each pair of half waves", Tag.DERIVED),
        _PLATE,
        "Discretisation alone; the lesser moment is read where it changes fastest.",
        {
            "Dx = 2, Sx = Sy = 100": partial(_sheared, 2.0, 100.0, 100.0),
            "Dx = 4, Sx = 50, Sy = 20": partial(_sheared, 4.0, 50.0, 20.0),
        },
    ),
    Check(
        "O05",
        "Two plates that lie on each other unbonded share the bending as their stiffnesses.",
        Source("leaf springs, classical; Navier's series with the sum of both stiffnesses", Tag.DERIVED),
        "deflect.mechanics.sections.stacked_section",
        "Discretisation alone; thin, so that shear is 0.01 %.",
        {"0.8 mm on 1 mm": partial(_stacked, 1.0, 0.8), "0.5 mm on 1 mm": partial(_stacked, 1.0, 0.5)},
    ),
)

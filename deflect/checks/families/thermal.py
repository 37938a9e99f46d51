"""Plates warmer on one face: a free curvature alpha dT/h, which the supports resist or not."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from deflect.checks.bench.meshes import FreePlate, distorted
from deflect.checks.bench.plates import SIDE, YOUNG, bend, held, moments, rectangle, rigidity, sinking, slab
from deflect.checks.check import Check, Row
from deflect.checks.exact.rectangles import NU
from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.body import condense_base
from deflect.mechanics.plate import Plate
from deflect.mechanics.warmth import Layer, bonded_curvature, bowed, free_curvature
from deflect.model.die import DieBase
from deflect.model.material import Material
from deflect.sources import Source, Tag

ORDER, HEADING = 60, "Plates warmer on one face"
_PLATE = "deflect.mechanics.plate.Plate"
_BOOK = "S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959"
_THICKNESS = SIDE / 1000
# Free curvature alpha dT/h, 1/mm; the plate bulges down.
_CURVATURE = 1e-6


def _free_shape(places: Floats, component: Integers) -> Floats:
    """Unknowns (N,) of a plate that takes its free curvature unhindered."""
    x, y = places
    return np.choose(component, [_CURVATURE * (x**2 + y**2) / 2, _CURVATURE * x, _CURVATURE * y])


def _heated(plate: Plate) -> Floats:
    """Load vector (N,) that the free curvature amounts to."""
    return np.asarray(plate.stiffness @ _free_shape(plate.basis.doflocs, plate.component))


def _supported(ratio: float) -> Sequence[Row]:
    """Exact: the moment sum is constant, so that w is a membrane's deflection times (1 + nu) alpha dT/h."""
    plate = rectangle(slab(_THICKNESS), SIDE, ratio * SIDE, 16, round(16 * ratio))
    motion = bend(plate, _heated(plate), held(plate, "hard"))
    m = np.arange(1, 200, 2)
    sign = (-1.0) ** ((m - 1) // 2)
    membrane = float((4 * sign / (m * np.pi) ** 3 * (1 - 1 / np.cosh(m * np.pi * ratio / 2))).sum())
    exact = membrane * (1 + NU)
    return (Row("w h/(alpha dT a^2)", exact, sinking(plate, motion) / (_CURVATURE * SIDE**2), 5e-5),)


def _clamped() -> Sequence[Row]:
    plate = rectangle(slab(_THICKNESS), SIDE, SIDE, 8, 8)
    motion = bend(plate, _heated(plate), held(plate, "clamped"))
    # What stays is the moment of the curvature that the clamping takes back.
    held_back = moments(plate, motion) - plate.sections[0].bending @ np.array([_CURVATURE, _CURVATURE, 0.0])
    unit = _CURVATURE * rigidity(_THICKNESS)
    return (
        Row("w h/(alpha dT a^2)", 0.0, sinking(plate, motion) / (_CURVATURE * SIDE**2), 1e-9, absolute=True),
        Row("-M h/(alpha dT D)", 1 + NU, -held_back[0] / unit, 1e-6),
    )


def _edge_moments(plate: FreePlate, moment: float) -> Floats:
    """Load vector (N,) of an even bending moment per width along all four sides, by Simpson's rule."""
    load, half = np.zeros(plate.basis.N), SIDE / 2
    for axis in (0, 1):
        for side in (-1, 1):
            across, along = plate.basis.doflocs[axis], plate.basis.doflocs[1 - axis]
            on = np.flatnonzero((np.abs(across - side * half) < 1e-6 * SIDE) & (plate.component == 1 + axis))
            on = on[np.argsort(along[on])]
            weight = np.full(on.size, 2.0)
            weight[1::2], weight[[0, -1]] = 4.0, 1.0
            load[on] += side * moment * SIDE * weight / weight.sum()
    return load


def _unhindered(thickness: float) -> Sequence[Row]:
    """The heat's moments, all of which stand on the rim, on a distorted mesh that is pinned at three places only."""
    plate = FreePlate(distorted(4), slab(thickness))
    half, d = SIDE / 2, rigidity(thickness)
    pins = np.zeros(plate.basis.N, dtype=bool)
    pins[[plate.nearest(-half, -half), plate.nearest(half, -half), plate.nearest(-half, half)]] = True
    motion = plate.bend(_edge_moments(plate, d * (1 + NU) * _CURVATURE), pins)
    bulge = float(motion[plate.nearest(half, half)] - motion[plate.nearest(half, 0)])
    # The moment that the bending would need, less that of the heat.
    left = plate.moments(motion, 0, 0) - d * (1 + NU) * _CURVATURE * np.array([1.0, 1.0, 0.0])
    return (
        Row("corner over the middle of its side, alpha dT a^2/(8 h)", 1.0, bulge / (_CURVATURE * half**2 / 2), 1e-6),
        Row("moment left over D alpha dT/h", 0.0, float(np.abs(left).max()) / (_CURVATURE * d), 1e-6, absolute=True),
    )


def _two_layers(thickness: float, modulus: float) -> Sequence[Row]:
    """Exact: Timoshenko's formula in m = t1/t2 and n = E1/E2."""
    t2, e2 = 100.0, 100e3
    layers = (Layer(thickness * t2, modulus * e2, 0.0), Layer(t2, e2, 1e-5))
    m, n = thickness, modulus
    exact = 6 * (1 + m) ** 2 / (3 * (1 + m) ** 2 + (1 + m * n) * (m**2 + 1 / (m * n)))
    height = t2 * (1 + thickness)
    return (Row("kappa h/(d alpha dT)", exact, bonded_curvature(layers) * height / 1e-5, 1e-9),)


def _even_rise() -> Sequence[Row]:
    """Many layers of one material, each warmer than the one below: the curvature of an even gradient."""
    count, height, warmer = 200, 400.0, 5e-5
    layers = [Layer(height / count, YOUNG, warmer * (k + 0.5) / count) for k in range(count)]
    exact = free_curvature(warmer, height)
    return (Row("kappa h/(alpha dT)", exact * height / warmer, bonded_curvature(layers) * height / warmer, 1e-4),)


def _die_on_a_press() -> Sequence[Row]:
    """The base of a die as the mechanics bow it: its middle over its corners."""
    base = condense_base(DieBase(2800.0, 1400.0, 300.0, Material("base", YOUNG, NU, 7.85e-6, 100.0)))
    motion = bowed(base, free_curvature(11.5e-6 * 6.0, 300.0))
    points = np.array([[0.0, 0.0], [1400.0, 0.0], [1400.0, 700.0]])
    # The mean deflection: the thickening of a free plate by warmth is the same all over.
    height = base.top(points).deflection @ motion
    rise = 11.5e-6 * 6.0 / (8 * 300.0)
    return (
        Row("middle over the end, alpha dT L^2/(8 h)", 1.0, (height[0] - height[1]) / (rise * 2800.0**2), 1e-9),
        Row("over the corner", 1.25, (height[0] - height[2]) / (rise * 2800.0**2), 1e-9),
    )


CHECKS = (
    Check(
        "T01",
        "A free plate warmer on one face takes the curvature alpha dT/h without any moment.",
        Source(f"{_BOOK}, section 14", Tag.MEMORY),
        "deflect.mechanics.plate.assemble_stiffness",
        "Exact but for round-off, which grows with the ratio of shear to bending stiffness.",
        {f"h = {h:g} mm": partial(_unhindered, h) for h in (100.0, 20.0)},
    ),
    Check(
        "T01b",
        "A clamped plate warmer on one face stays plane under the moment alpha dT D (1 + nu)/h.",
        Source(f"{_BOOK}, section 14", Tag.MEMORY),
        _PLATE,
        "Exact but for round-off.",
        {"": _clamped},
    ),
    Check(
        "T02",
        "Supported rectangles warmer on one face bulge as a membrane does.",
        Source(f"{_BOOK}, section 24", Tag.MEMORY),
        _PLATE,
        "Discretisation alone: 0.001 %.",
        {f"b/a = {ratio:g}": partial(_supported, ratio) for ratio in (1.0, 1.5, 2.0)},
    ),
    Check(
        "T03",
        "Two layers of unlike expansion that hold fast to each other bow as a bimetal does.",
        Source("S. Timoshenko, Analysis of Bi-Metal Thermostats, J. Opt. Soc. Am. 11 (1925) 233", Tag.MEMORY),
        "deflect.mechanics.warmth.bonded_curvature",
        "Round-off.",
        {f"m = {m:g}, n = {n:g}": partial(_two_layers, m, n) for m, n in ((1.0, 1.0), (0.5, 2.0), (3.0, 0.5))},
    ),
    Check(
        "T04",
        "A temperature that rises evenly through a body gives the curvature alpha dT/h.",
        Source("B. A. Boley, J. H. Weiner, Theory of Thermal Stresses (1960), section 12.2", Tag.MEMORY),
        "deflect.mechanics.warmth.free_curvature",
        "Two hundred even layers for an even rise: 1/200 squared.",
        {"": _even_rise},
    ),
    Check(
        "T05",
        "A die base that is warmer on top domes by alpha dT L^2/8h, and at its corners by both ways together.",
        Source(f"{_BOOK}, section 14", Tag.MEMORY),
        "deflect.mechanics.warmth.bowed",
        "Quadratic shapes hold it exactly: round-off.",
        {"": _die_on_a_press},
    ),
)

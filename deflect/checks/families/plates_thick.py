"""Plates with shear.

"hard" holds deflection and the rotation along the edge, "soft" the deflection only: at a tenth of the
side they differ by 8 %, so every check names its support.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

import numpy as np

from deflect.checks.bench.meshes import FreePlate, sector
from deflect.checks.bench.plates import (
    SIDE,
    YOUNG,
    bend,
    even_pressure,
    held,
    moments,
    patch_force,
    rectangle,
    rigidity,
    sinking,
    slab,
)
from deflect.checks.check import Check, Row
from deflect.checks.exact.hole import hole_moment
from deflect.checks.exact.rectangles import navier
from deflect.checks.exact.slab import elastic_slab
from deflect.checks.exact.thick_ritz import mindlin_square
from deflect.mechanics.arrays import Floats
from deflect.mechanics.plate import Plate
from deflect.model.values import Rectangle
from deflect.sources import Source, Tag

ORDER, HEADING = 20, "Plates with shear"
_PLATE = "deflect.mechanics.plate.Plate"
_SECTION = "deflect.mechanics.sections.solid_section"
# Discretisation alone: 0.005 % is seen at twelve elements a side.
DEFLECTION = 3e-4
_MINDLIN = "R. D. Mindlin, J. Appl. Mech. 18 (1951) 31; E. Reissner, J. Appl. Mech. 12 (1945) A69"


def _pressed(thickness: float, kind: str, elements: int, ratio: float = 1.0) -> tuple[Plate, Floats, float]:
    """Plate, its motion, and its centre's deflection as a share of q a^4/D."""
    plate = rectangle(slab(thickness * SIDE), SIDE, ratio * SIDE, elements, round(elements * ratio))
    motion = bend(plate, even_pressure(plate), held(plate, kind))
    return plate, motion, sinking(plate, motion) * rigidity(thickness * SIDE) / SIDE**4


def _hard(ratio: float, thickness: float) -> Sequence[Row]:
    exact = navier(ratio, thickness=thickness)
    plate, motion, computed = _pressed(thickness, "hard", 14, ratio)
    mx, my, _ = moments(plate, motion) / SIDE**2
    return (
        Row("w D/(q a^4)", exact.deflection, computed, DEFLECTION),
        Row("Mx/(q a^2)", exact.mx, mx, 5e-3),
        Row("My/(q a^2)", exact.my, my, 5e-3),
    )


def _patch(thickness: float, patch: float) -> Sequence[Row]:
    exact = navier(patch=(patch, patch), thickness=thickness, terms=2001).deflection
    plate = rectangle(slab(thickness * SIDE), SIDE, SIDE, 20, 20)
    load = patch_force(plate, Rectangle(0, 0, patch * SIDE, patch * SIDE))
    computed = sinking(plate, bend(plate, load, held(plate, "hard"))) * rigidity(thickness * SIDE) / SIDE**2
    return (Row("w D/(P a^2)", exact, computed, 1e-3),)


def _soft(thickness: float) -> Sequence[Row]:
    exact = mindlin_square("soft", thickness)
    plate, motion, computed = _pressed(thickness, "soft", 28)
    return (
        Row("w D/(q a^4)", exact.deflection, computed, 1e-3),
        Row("Mx/(q a^2)", exact.mx, moments(plate, motion)[0] / SIDE**2, 1e-3),
    )


def _clamped(thickness: float) -> Sequence[Row]:
    exact = mindlin_square("clamped", thickness)
    plate, motion, computed = _pressed(thickness, "clamped", 24)
    return (
        Row("w D/(q a^4)", exact.deflection, computed, DEFLECTION),
        Row("Mx/(q a^2)", exact.mx, moments(plate, motion)[0] / SIDE**2, 3e-3),
        Row("Mx/(q a^2), edge", exact.edge_mx, moments(plate, motion, SIDE / 2, 0)[0] / SIDE**2, 6e-3),
    )


def _free_sides(thickness: float) -> Sequence[Row]:
    exact = mindlin_square("free", thickness, "hard")
    plate = rectangle(slab(thickness * SIDE), SIDE, SIDE, 20, 20)
    motion = bend(plate, even_pressure(plate), held(plate, "hard", ("front", "back")))
    scale = rigidity(thickness * SIDE) / SIDE**4
    return (
        Row("w D/(q a^4)", exact.deflection, sinking(plate, motion) * scale, DEFLECTION),
        Row("w D/(q a^4), free edge", exact.edge_deflection, sinking(plate, motion, SIDE / 2) * scale, DEFLECTION),
        Row("My/(q a^2)", exact.my, moments(plate, motion)[1] / SIDE**2, 3e-3),
    )


def _solid(thickness: float, theory: float) -> Sequence[Row]:
    _, _, computed = _pressed(thickness, "hard", 14)
    return (Row("w D/(q a^4)", elastic_slab(thickness), computed, theory),)


def _round_hole(radius_over_thickness: float, within: float) -> Sequence[Row]:
    """A quarter of a plate of forty radii, its rim turned as bending one way turns it."""
    radius = SIDE / 10
    thickness, far = radius / radius_over_thickness, 40 * radius
    plate = FreePlate(sector(radius, far, 50, 16), slab(thickness))
    x, y = plate.basis.doflocs
    of_x, of_y, near = plate.component == 1, plate.component == 2, 1e-6 * radius
    rim = (np.hypot(x, y) > far - near) & (of_x | of_y)
    curvature = np.linalg.solve(plate.section.bending, [1.0, 0.0, 0.0])
    turned = np.where(rim, of_x * x * curvature[0] + of_y * y * curvature[1], 0.0)
    fixed = rim | (of_x & (np.abs(x) < near)) | (of_y & (np.abs(y) < near))
    fixed[plate.nearest(far, 0.0)] = True
    motion = turned + plate.bend(-(plate.stiffness @ turned), fixed)
    computed = float(plate.moments(motion, 0.0, radius)[0])
    return (
        Row("moment along the hole's edge over that far away", hole_moment(radius_over_thickness), computed, within),
    )


def _strip(slenderness: float, kind: str) -> Sequence[Row]:
    factor, bent = (1, 5 / 384) if kind == "hard" else (5, 1 / 384)
    exact = factor * 48 / 5 / 12 / (5 / 6 / 2.6) / slenderness**2
    thickness = SIDE / slenderness
    # It bends as a beam (no Poisson coupling) and shears with the G of nu = 0.3.
    section = replace(slab(thickness), bending=slab(thickness, poisson=0.0).bending)
    plate = rectangle(section, SIDE, SIDE / 10, 16, 1)
    motion = bend(plate, even_pressure(plate), held(plate, kind, ("left", "right")))
    bending = bent * SIDE**4 / (YOUNG * thickness**3 / 12)
    return (Row("shear over bending", exact, sinking(plate, motion) / bending - 1, 1e-3),)


CHECKS = (
    Check(
        "M01",
        "A hard-supported square with shear under even pressure: Navier's series with the shear term.",
        Source(_MINDLIN, Tag.MEMORY),
        _PLATE,
        "Discretisation alone: 0.005 % is seen in w, 0.4 % in the moments, which do not feel the shear.",
        {f"h/a = {h:g}": partial(_hard, 1.0, h) for h in (0.05, 0.1, 0.2)},
    ),
    Check(
        "M02",
        "A hard-supported rectangle of two to one with shear under even pressure.",
        Source(_MINDLIN, Tag.MEMORY),
        _PLATE,
        "As for the square.",
        {f"h/a = {h:g}": partial(_hard, 2.0, h) for h in (0.05, 0.1, 0.2)},
    ),
    Check(
        "M03",
        "A soft-supported square with shear sags more than a hard-supported one, by as much as theory says.",
        Source("Reissner-Mindlin theory; exact figures by a spectral Ritz method, ours", Tag.DERIVED),
        _PLATE,
        "The twist layer along a soft edge is as wide as the plate is thick: 28 elements a side see it to 0.1 %.",
        {f"h/a = {h:g}": partial(_soft, h) for h in (0.05, 0.1, 0.2)},
    ),
    Check(
        "M04",
        "A clamped square with shear under even pressure, at its centre and at its edge.",
        Source("Reissner-Mindlin theory; exact figures by a spectral Ritz method, ours", Tag.DERIVED),
        _PLATE,
        "Discretisation alone; at the edge the moment is read one-sidedly: 0.6 %.",
        {f"h/a = {h:g}": partial(_clamped, h) for h in (0.05, 0.1)},
    ),
    Check(
        "M06",
        "A square with two hard-supported and two free sides, with shear.",
        Source("Reissner-Mindlin theory; exact figures by a spectral Ritz method, ours", Tag.DERIVED),
        _PLATE,
        "Discretisation alone.",
        {f"h/a = {h:g}": partial(_free_sides, h) for h in (0.1, 0.2)},
    ),
    Check(
        "M07",
        "A centred patch of force on a hard-supported square with shear.",
        Source(_MINDLIN, Tag.MEMORY),
        _PLATE,
        "Four elements across the smaller patch: 0.05 %.",
        {f"h/a = {h:g}, u/a = {u:g}": partial(_patch, h, u) for h in (0.1, 0.2) for u in (0.2, 0.5)},
        "Under a patch, not under a point, where the deflection of a plate with shear has no limit.",
    ),
    Check(
        "M08",
        "What the plate theory leaves out: hard-supported square slabs in three-dimensional elasticity.",
        Source("S. Srinivas, A. K. Rao, Int. J. Solids Struct. 6 (1970) 1463 (the method)", Tag.MEMORY),
        _PLATE,
        "Not discretisation but the theory's own error: 0.15, 0.56 and 2.1 %, hardly more than it is.",
        {f"h/a = {h:g}": partial(_solid, h, tol) for h, tol in ((0.05, 0.0018), (0.1, 0.006), (0.2, 0.0215))},
        "The plate sags more than the solid.",
    ),
    Check(
        "M10",
        "A round hole in a wide plate bent one way: the thicker the plate, the more the moment crowds at the hole.",
        Source(
            "J. N. Goodier, Phil. Mag. 22 (1936) 69; E. Reissner, J. Appl. Mech. 12 (1945) A69; figures by Bessel "
            "functions, ours",
            Tag.MEMORY,
        ),
        _PLATE,
        "Forty radii for an endless plate; and where the twist dies away within an element, discretisation: 0.16 %.",
        {
            f"a/h = {ratio:g}": partial(_round_hole, ratio, within)
            for ratio, within in ((0.25, 5e-4), (0.5, 5e-4), (1.0, 5e-4), (2.0, 1e-3), (5.0, 2e-3))
        },
    ),
    Check(
        "M11",
        "Shear over bending at the middle of a strip, supported and clamped.",
        Source("S. P. Timoshenko, Phil. Mag. 41 (1921) 744", Tag.MEMORY),
        _SECTION,
        "Discretisation alone: four orders in the size of the element.",
        {
            f"{words}, L/h = {slenderness}": partial(_strip, slenderness, kind)
            for kind, words in (("hard", "supported"), ("clamped", "clamped"))
            for slenderness in (3, 4, 5, 10)
        },
    ),
)

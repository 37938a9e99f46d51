"""Plates with shear: Reissner-Mindlin theory, and what it leaves out against three-dimensional elasticity.

"hard" holds deflection and the rotation along the edge, "soft" the deflection only: at a tenth
of the side they differ by 8 %, so every check names its support.  Figures listed: ours, recomputed.

Sources: R. D. Mindlin, J. Appl. Mech. 18 (1951) 31; E. Reissner, J. Appl. Mech. 12 (1945) A69; S. Srinivas,
A. K. Rao, Int. J. Solids Struct. 6 (1970) 1463; S. P. Timoshenko, Phil. Mag. 41 (1921) 744.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from exact_plates import elastic_slab, mindlin_square, navier
from small_plates import (
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

from deflect.mechanics.arrays import Floats
from deflect.mechanics.plate import Plate
from deflect.model.values import Rectangle

# Discretisation alone: 0.005 % is seen at twelve elements a side.
DEFLECTION = 3e-4


def _pressed(thickness: float, kind: str, elements: int, ratio: float = 1.0) -> tuple[Plate, Floats, float]:
    """Plate, its motion, and its centre's deflection as a share of q a^4/D."""
    plate = rectangle(slab(thickness * SIDE), SIDE, ratio * SIDE, elements, round(elements * ratio))
    motion = bend(plate, even_pressure(plate), held(plate, kind))
    return plate, motion, sinking(plate, motion) * rigidity(thickness * SIDE) / SIDE**4


@pytest.mark.parametrize(
    ("ratio", "thickness", "listed"),
    [
        (1.0, 0.05, 0.0041150),
        (1.0, 0.1, 0.0042728),
        (1.0, 0.2, 0.0049043),
        (2.0, 0.05, 0.0102100),
        (2.0, 0.1, 0.0104540),
        (2.0, 0.2, 0.0114301),
    ],
)
def test_mindlin_hard_support_even_pressure(ratio: float, thickness: float, listed: float) -> None:
    exact = navier(ratio, thickness=thickness)
    assert exact.deflection == pytest.approx(listed, rel=2e-5)
    plate, motion, computed = _pressed(thickness, "hard", 14, ratio)
    assert computed == pytest.approx(exact.deflection, rel=DEFLECTION)
    # Moments are Kirchhoff's and do not feel the shear; their error falls with the square of the size: 0.4 %.
    mx, my, _ = moments(plate, motion) / SIDE**2
    assert (mx, my) == pytest.approx((exact.mx, exact.my), rel=5e-3)


@pytest.mark.parametrize(
    ("thickness", "patch", "listed"),
    [(0.1, 0.2, 0.011798), (0.1, 0.5, 0.009046), (0.2, 0.2, 0.014599), (0.2, 0.5, 0.010599)],
)
def test_mindlin_hard_support_centred_patch(thickness: float, patch: float, listed: float) -> None:
    """Under a patch, not under a point, where the deflection of a plate with shear has no limit."""
    exact = navier(patch=(patch, patch), thickness=thickness, terms=2001)
    assert exact.deflection == pytest.approx(listed, rel=1e-4)
    plate = rectangle(slab(thickness * SIDE), SIDE, SIDE, 20, 20)
    load = patch_force(plate, Rectangle(0, 0, patch * SIDE, patch * SIDE))
    computed = sinking(plate, bend(plate, load, held(plate, "hard"))) * rigidity(thickness * SIDE) / SIDE**2
    # Four elements across the smaller patch: 0.05 %.
    assert computed == pytest.approx(exact.deflection, rel=1e-3)


@pytest.mark.parametrize(
    ("thickness", "deflection", "moment"),
    [(0.05, 0.004290, 0.04944), (0.1, 0.004617, 0.05096), (0.2, 0.005545, 0.05363)],
)
def test_soft_support_even_pressure(thickness: float, deflection: float, moment: float) -> None:
    """The twist layer along a soft edge is as wide as the plate is thick: 28 elements a side see it."""
    exact = mindlin_square("soft", thickness)
    assert (exact.deflection, exact.mx) == pytest.approx((deflection, moment), rel=2e-4)
    plate, motion, computed = _pressed(thickness, "soft", 28)
    assert computed == pytest.approx(exact.deflection, rel=1e-3)
    assert moments(plate, motion)[0] / SIDE**2 == pytest.approx(exact.mx, rel=1e-3)


@pytest.mark.parametrize(
    ("thickness", "deflection", "moment", "edge"),
    [(0.05, 0.001327, 0.02300, -0.05078), (0.1, 0.0015046, 0.02320, -0.04937)],
)
def test_clamped_even_pressure(thickness: float, deflection: float, moment: float, edge: float) -> None:
    exact = mindlin_square("clamped", thickness)
    assert (exact.deflection, exact.mx, exact.edge_x) == pytest.approx((deflection, moment, edge), rel=3e-4)
    plate, motion, computed = _pressed(thickness, "clamped", 24)
    assert computed == pytest.approx(exact.deflection, rel=DEFLECTION)
    assert moments(plate, motion)[0] / SIDE**2 == pytest.approx(exact.mx, rel=3e-3)
    assert moments(plate, motion, SIDE / 2, 0)[0] / SIDE**2 == pytest.approx(exact.edge_x, rel=6e-3)


@pytest.mark.parametrize(
    ("thickness", "listed", "excess"),
    [(0.05, 0.0041090, 0.0015), (0.1, 0.0042488, 0.0056), (0.2, 0.0048035, 0.0210)],
)
def test_srinivas_rao_bounds_the_error_of_the_theory(thickness: float, listed: float, excess: float) -> None:
    """The plate sags more than the solid by what the theory leaves out, and by no more than that."""
    exact = elastic_slab(thickness)
    assert exact == pytest.approx(listed, rel=5e-5)
    _, _, computed = _pressed(thickness, "hard", 14)
    # The excess is a difference of nearly equal figures: 3e-4 is the discretisation of the greater.
    assert computed / exact - 1 == pytest.approx(excess, abs=3e-4)


@pytest.mark.parametrize(("slenderness", "listed"), [(3, 0.27733), (4, 0.15600), (5, 0.09984), (10, 0.02496)])
@pytest.mark.parametrize(("kind", "factor", "bent"), [("hard", 1, 5 / 384), ("clamped", 5, 1 / 384)])
def test_timoshenko_strip_shear_share(slenderness: int, listed: float, kind: str, factor: int, bent: float) -> None:
    """Shear over bending at the middle of a strip: 48/5 EI/(kappa G A L^2), five times that where clamped.

    The strip bends as a beam (no Poisson coupling) and shears with the G of nu = 0.3.
    """
    exact = factor * 48 / 5 / 12 / (5 / 6 / 2.6) / slenderness**2
    assert exact == pytest.approx(factor * listed, rel=1e-4)
    thickness = SIDE / slenderness
    section = replace(slab(thickness), bending=slab(thickness, poisson=0.0).bending)
    plate = rectangle(section, SIDE, SIDE / 10, 16, 1)
    motion = bend(plate, even_pressure(plate), held(plate, kind, ("left", "right")))
    bending = bent * SIDE**4 / (YOUNG * thickness**3 / 12)
    assert sinking(plate, motion) / bending - 1 == pytest.approx(exact, rel=1e-3)

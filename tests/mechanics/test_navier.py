"""Thin rectangular plates: simply supported after Navier and Levy, clamped after Hencky and Evans.

Figures listed: ours, recomputed from the sources' series; table numbers of the book are from memory.
Supports are "hard" (deflection and the rotation along the edge are held), which is Kirchhoff's
simple support; thickness is 1/1000 of the side, where shear adds 0.0007 % and nothing else differs.

Sources: L. Navier, 1823; M. Levy, C. R. Acad. Sci. 129 (1899); H. Hencky, 1913; T. H. Evans, J. Appl. Mech. 6
(1939); S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, tables 8, 20, 23, 35.
"""

from __future__ import annotations

import numpy as np
import pytest
from exact_plates import Bending, clamped_thin, levy_even, levy_point, navier
from small_plates import (
    SIDE,
    bend,
    even_pressure,
    held,
    moments,
    patch_force,
    point_force,
    rectangle,
    rigidity,
    sinking,
    slab,
)

from deflect.mechanics.plate import Plate
from deflect.model.values import Rectangle

THICKNESS = SIDE / 1000
# Discretisation alone: 0.003 % is seen under pressure, 0.01 % under a point force.
DEFLECTION = 2e-4


def _plate(ratio: float, elements: int) -> Plate:
    return rectangle(slab(THICKNESS), SIDE, ratio * SIDE, elements, round(elements * ratio))


def _under_pressure(ratio: float, elements: int, kind: str) -> Bending:
    """Production: even pressure, as shares of q a^4/D and q a^2."""
    plate = _plate(ratio, elements)
    motion = bend(plate, even_pressure(plate), held(plate, kind))
    mx, my, _ = moments(plate, motion) / SIDE**2
    return Bending(
        sinking(plate, motion) * rigidity(THICKNESS) / SIDE**4,
        mx,
        my,
        moments(plate, motion, SIDE / 2, 0)[0] / SIDE**2,
        moments(plate, motion, 0, ratio * SIDE / 2)[1] / SIDE**2,
    )


def _under_patch(ratio: float, elements: int, patch: tuple[float, float]) -> Bending:
    """Production: a centred patch of force P, as shares of P a^2/D and P."""
    plate = _plate(ratio, elements)
    load = patch_force(plate, Rectangle(0, 0, patch[0] * SIDE, patch[1] * SIDE))
    motion = bend(plate, load, held(plate, "hard"))
    mx, my, _ = moments(plate, motion)
    return Bending(sinking(plate, motion) * rigidity(THICKNESS) / SIDE**2, mx, my)


@pytest.mark.parametrize(
    ("ratio", "listed"),
    [
        (1.0, (0.00406235, 0.0478864, 0.0478864)),
        (1.2, (0.005651, 0.062682, 0.050081)),
        (1.5, (0.007724, 0.081160, 0.049843)),
        (2.0, (0.010129, 0.101683, 0.046350)),
        (3.0, (0.012233, 0.118860, 0.040626)),
        (5.0, (0.012971, 0.124624, 0.037745)),
    ],
)
def test_levy_even_pressure_on_a_supported_rectangle(ratio: float, listed: tuple[float, float, float]) -> None:
    exact = levy_even(ratio)
    assert (exact.deflection, exact.mx, exact.my) == pytest.approx(listed, rel=1e-4)
    computed = _under_pressure(ratio, 14, "hard")
    assert computed.deflection == pytest.approx(exact.deflection, rel=DEFLECTION)
    # Moments are read at a corner of four elements, where their error falls with the square of the size: 0.4 %.
    assert (computed.mx, computed.my) == pytest.approx((exact.mx, exact.my), rel=5e-3)


def test_navier_and_levy_agree() -> None:
    double, single = navier(), levy_even(1.0)
    assert double.deflection == pytest.approx(single.deflection, rel=1e-8)
    assert (double.mx, double.my) == pytest.approx((single.mx, single.my), rel=1e-5)


@pytest.mark.parametrize(("ratio", "listed"), [(1.0, 0.0116008), (1.4, 0.014867), (2.0, 0.016524), (3.0, 0.016934)])
def test_levy_central_point_force(ratio: float, listed: float) -> None:
    """In so thin a plate the logarithm of shear under the point is 0.001 % and not yet seen."""
    exact = levy_point(ratio)
    assert exact == pytest.approx(listed, rel=1e-4)
    plate = _plate(ratio, 16)
    motion = bend(plate, point_force(plate, 0, 0), held(plate, "hard"))
    assert sinking(plate, motion) * rigidity(THICKNESS) / SIDE**2 == pytest.approx(exact, rel=DEFLECTION)


@pytest.mark.parametrize(
    ("patch", "deflection", "moment"),
    [
        (0.1, 0.011371, 0.284115),
        (0.2, 0.010864, 0.212411),
        (0.4, 0.009394, 0.140753),
        (0.5, 0.008529, 0.117744),
        (2 / 3, 0.007008, 0.088256),
    ],
)
def test_navier_centred_square_patch(patch: float, deflection: float, moment: float) -> None:
    exact = navier(patch=(patch, patch))
    assert (exact.deflection, exact.mx) == pytest.approx((deflection, moment), rel=1e-4)
    elements = 20 if patch > 0.3 else 40
    computed = _under_patch(1.0, elements, (patch, patch))
    assert computed.deflection == pytest.approx(exact.deflection, rel=DEFLECTION)
    # The moment's peak is as narrow as the patch: 1 % with four elements across the smallest, 0.4 % otherwise.
    assert computed.mx == pytest.approx(exact.mx, rel=1.2e-2 if patch < 0.15 else 4e-3)
    assert computed.mx == pytest.approx(computed.my, rel=1e-7)


@pytest.mark.parametrize(
    ("patch", "listed"),
    [((0.2, 0.2), (0.015745, 0.253745, 0.203836)), ((2 / 3, 4 / 3), (0.008941, 0.093606, 0.046337))],
)
def test_navier_patch_on_a_rectangle_of_two_to_one(
    patch: tuple[float, float], listed: tuple[float, float, float]
) -> None:
    exact = navier(2.0, patch)
    assert (exact.deflection, exact.mx, exact.my) == pytest.approx(listed, rel=1e-4)
    computed = _under_patch(2.0, 24, patch)
    assert computed.deflection == pytest.approx(exact.deflection, rel=DEFLECTION)
    # Under the small patch the moment's peak is about five elements wide: 0.8 %.
    assert (computed.mx, computed.my) == pytest.approx((exact.mx, exact.my), rel=1e-2)


@pytest.mark.parametrize(
    ("ratio", "listed"),
    [
        (1.0, (0.00126532, 0.022905, 0.022905, -0.051334, -0.051334)),
        (1.5, (0.00219652, 0.036771, 0.020268, -0.075658, -0.057024)),
        (2.0, (0.00253296, 0.041155, 0.015808, -0.082866, -0.056987)),
    ],
)
def test_hencky_and_evans_clamped_rectangle(ratio: float, listed: tuple[float, ...]) -> None:
    exact = clamped_thin(ratio)
    numbers = (exact.deflection, exact.mx, exact.my, exact.edge_x, exact.edge_y)
    assert numbers == pytest.approx(listed, rel=1e-4)
    computed = _under_pressure(ratio, 24 if ratio == 1 else 20, "clamped")
    assert computed.deflection == pytest.approx(exact.deflection, rel=DEFLECTION)
    assert (computed.mx, computed.my) == pytest.approx((exact.mx, exact.my), rel=6e-3)
    # At the clamped edge the moment is read one-sidedly where it changes fastest: 0.8 %.
    assert (computed.edge_x, computed.edge_y) == pytest.approx((exact.edge_x, exact.edge_y), rel=1e-2)


def test_levy_deflection_along_the_middle() -> None:
    """Not at the centre alone: the deflection along y = 0 after Navier's double series; 0.04 % next to the edge."""
    plate = _plate(1.0, 20)
    motion = bend(plate, even_pressure(plate), held(plate, "hard"))
    m = np.arange(1, 200, 2)
    weight = 16 / np.pi**6 / np.outer(m, m) / (m[:, None] ** 2 + m**2) ** 2 * (-1.0) ** ((m - 1) // 2)
    for place in (0.05, 0.2, 0.35):
        exact = float((np.sin(m * np.pi * place)[:, None] * weight).sum())
        computed = sinking(plate, motion, (place - 0.5) * SIDE) * rigidity(THICKNESS) / SIDE**4
        assert computed == pytest.approx(exact, rel=5e-4)

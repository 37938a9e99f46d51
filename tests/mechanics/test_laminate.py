"""Layers on layers against integrals taken point by point, which know nothing of layers."""

from __future__ import annotations

import numpy as np
import pytest

from deflect.mechanics.arrays import Floats
from deflect.mechanics.sections import SlotForm, slotted_section, solid_section
from deflect.mechanics.sections.laminate import Layer, stack
from deflect.mechanics.sections.stacked import stacked_section
from deflect.model.material import Material

# Points through the thickness, 220 mm: one in each micrometre, so that none straddles two layers.
POINTS = 220_000


def sheet(along: float, across: float, coupled: float, twist: float) -> Floats:
    return np.array([[along, coupled, 0.0], [coupled, across, 0.0], [0.0, 0.0, twist]])


# A skin, a core of ribs that carries along x and y by different shares, and a foot: nothing alike.
LAYERS = (
    Layer(0.0, 30.0, sheet(210.0, 190.0, 60.0, 75.0), (1.0, 1.0), 0.43),
    Layer(30.0, 180.0, sheet(40.0, 22.0, 0.0, 4.0), (0.2, 0.1), 0.25),
    Layer(180.0, 220.0, sheet(200.0, 230.0, 66.0, 80.0), (1.0, 0.8), 0.37),
)
LAMINATE = stack(LAYERS)


def through(value: str | tuple[int, int]) -> tuple[Floats, Floats]:
    """Heights (n,) and a value of the layers there (n,)."""
    z = (np.arange(POINTS) + 0.5) * LAYERS[-1].high / POINTS
    which = np.searchsorted([layer.high for layer in LAYERS], z)
    of = [getattr(layer, value) if isinstance(value, str) else layer.membrane[value] for layer in LAYERS]
    return z, np.array(of)[which]


def integral(values: Floats) -> float:
    return float(values.sum()) * LAYERS[-1].high / POINTS


def flow(way: int) -> tuple[Floats, float]:
    """First moment of what lies below, about the elastic centroid (n,), and the bending stiffness about it."""
    z, modulus = through((way, way))
    centre = integral(modulus * z) / integral(modulus)
    lever = modulus * (z - centre)
    return np.cumsum(lever) * LAYERS[-1].high / POINTS, integral(lever * (z - centre))


def test_bending_is_about_the_neutral_plane_that_carries_no_force() -> None:
    """Unit curvature with the membrane strains that leave no membrane force: moments by integration."""
    way = np.array([1.0, 0.4, 0.0])
    z, _ = through("low")
    laws = np.array([[through((i, j))[1] for j in range(3)] for i in range(3)])
    forces, moments = (np.array([[integral(laws[i, j] * z**k) for j in range(3)] for i in range(3)]) for k in (0, 1))
    strain = -np.linalg.solve(forces, moments @ way)
    stress = np.einsum("ijn,jn->in", laws, strain[:, None] + z * way[:, None])
    assert LAMINATE.bending @ way == pytest.approx([integral(s * z) for s in stress], rel=1e-6)
    # The same stress at the upper face of each layer.
    for layer in LAYERS:
        told = LAMINATE.fibre(layer.high, layer.membrane) @ way
        assert told == pytest.approx(layer.membrane @ (strain + layer.high * way), rel=1e-6)


@pytest.mark.parametrize("way", [0, 1])
def test_shear_is_the_energy_of_the_flow(way: int) -> None:
    """Unit shear force: its flow ES/EI through webs of so much of the width."""
    modulus = 80_000.0
    carried, stiffness = flow(way)
    z, _ = through("low")
    web = np.array([layer.web[way] for layer in LAYERS])[np.searchsorted([layer.high for layer in LAYERS], z)]
    energy = integral((carried / stiffness) ** 2 / (modulus * web))
    assert LAMINATE.shear(way, modulus) == pytest.approx(1 / energy, rel=1e-5)


def test_faces_move_more_than_the_mean_that_shear_weighs() -> None:
    """Movement over the underside by the Poisson effect, mean of both faces less the mean weighted by the flow."""
    z, grows = through("thickening")
    moved = np.cumsum(grows * (z - LAMINATE.middle)) * LAYERS[-1].high / POINTS
    both = (through((0, 0))[1] + through((1, 1))[1]) / 2
    carried = np.cumsum(both * (z - LAMINATE.middle))
    mean = float(carried @ moved / carried.sum())
    assert LAMINATE.thickening == pytest.approx(moved[-1] / 2 - mean, rel=1e-4)


def test_a_layer_without_height_is_none() -> None:
    empty = Layer(220.0, 220.0, LAYERS[0].membrane, (1.0, 1.0), 0.4)
    assert stack((*LAYERS, empty)).layers == LAYERS


STEEL = Material("steel", 210_000.0, 0.3, 7.85e-6, 120.0)
IRON = Material("iron", 110_000.0, 0.25, 7.2e-6, 120.0)


def test_a_plate_that_lies_on_another_bends_beside_it() -> None:
    """Unbonded: stiffness and mass add up; the top is farther from the lower plate's neutral plane by the upper one."""
    below, above = solid_section(200.0, STEEL), solid_section(70.0, IRON)
    both = stacked_section(below, 70.0, IRON)
    assert both.bending == pytest.approx(below.bending + above.bending)
    assert both.shear == pytest.approx(below.shear + above.shear)
    assert both.mass == pytest.approx(200 * 7.85e-6 + 70 * 7.2e-6)
    assert (both.to_top, both.to_underside) == pytest.approx((170.0, 100.0))
    assert both.squeeze == pytest.approx(100.0 / 210e3 + 70.0 / 110e3)
    assert both.squeeze_below == pytest.approx(100.0 / 210e3)


def test_slots_along_x_are_slots_along_y_turned() -> None:
    """And twist lies between that of the slab and that of what is left below the slots."""
    along_x, along_y = (slotted_section(200.0, STEEL, SlotForm(36.0, 60.0, 200.0, way)) for way in ("x", "y"))
    turned = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    assert along_x.bending == pytest.approx(turned @ along_y.bending @ turned)
    assert along_x.shear == pytest.approx(turned[:2, :2] @ along_y.shear @ turned[:2, :2])
    # Weaker across than along, and both weaker than the slab: in shear, too.
    slab, floor = solid_section(200.0, STEEL), solid_section(140.0, STEEL)
    assert floor.bending[2, 2] < along_x.bending[2, 2] < slab.bending[2, 2]
    assert along_x.bending[1, 1] < along_x.bending[0, 0] < slab.bending[0, 0]
    assert along_x.shear[1, 1] < along_x.shear[0, 0] < slab.shear[0, 0]

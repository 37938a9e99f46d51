"""The press's acceptance test on a plain narrow table, against beam formulas.

Sources: S. P. Timoshenko, Phil. Mag. 41 (1921) 744 (shear); the partly loaded beam follows from elementary bending
theory: delta = F L^3 (8 - 4 phi^2 + phi^3)/(384 EI) for a force F spread over the middle share phi.
"""

from __future__ import annotations

import numpy as np
import pytest

from deflect.mechanics.acceptance import Sag, acceptance_sag
from deflect.model.material import Material
from deflect.model.press import Acceptance, Bed, Bolster, Land, Press
from deflect.model.values import Interval, Rectangle

SPAN, WIDTH = 4000.0, 800.0


def sag_of(force: float, loaded: float, thickness: float, young: float) -> Sag:
    """A table with nu = 0 that overhangs its opening by 400 mm at both ends, on a rigid land left and right."""
    length = SPAN + 800.0
    bolster = Bolster(length, WIDTH, thickness, 0.0, Material("beam", young, 0.0, 7.85e-6, 100.0))
    bed = Bed(Rectangle(0.0, 0.0, SPAN, WIDTH), Land(Interval.exactly(np.inf), "rigid"))
    # The force is spread over a share of the bolster's length and width.
    acceptance = Acceptance(1 / 6000, loaded * SPAN / length, SPAN, WIDTH)
    exact = Interval.exactly(0.0)
    press = Press("beam", force, bolster, bed, acceptance, None, exact, exact, None)
    return acceptance_sag(press, np.inf, land_give=0.0)


@pytest.mark.parametrize(
    ("loaded", "divisor"), [(0.5, 53.895), (0.6, 56.671), (2 / 3, 58.909), (0.8, 64.516), (1.0, 76.8)]
)
def test_partly_loaded_beam(loaded: float, divisor: float) -> None:
    """The table stands on the edges of its opening; divisors of EI listed: ours, from the formula."""
    bent = (8 - 4 * loaded**2 + loaded**3) / 384
    assert 1 / bent == pytest.approx(divisor, rel=2e-5)
    thickness, young, force = 200.0, 200_000.0, 1e5
    sheared = (2 - loaded) / 8 * SPAN / (5 / 6 * young / 2 * WIDTH * thickness)
    exact = force * (bent * SPAN**3 / (young * WIDTH * thickness**3 / 12) + sheared)
    # 1 %: the land's force stands a few millimetres inside the edge of the opening.
    assert sag_of(force, loaded, thickness, young).along_x == pytest.approx(exact, rel=0.01)


def test_bed_of_the_usual_allowance() -> None:
    """20 MN over two thirds of 4 m with EI = 3.1954e16 N mm2 sag 0.68 mm, 0.17 mm per metre: arithmetic, ours."""
    thickness = 150.0
    young = 3.1954e16 * 12 / (WIDTH * thickness**3)
    sag = sag_of(20e6, 2 / 3, thickness, young)
    # 1.5 %: as above, and shear, which the figure leaves out, adds 0.3 %.
    assert sag.along_x == pytest.approx(0.680, rel=0.015)
    assert sag.slope == pytest.approx(0.17e-3, rel=0.015)

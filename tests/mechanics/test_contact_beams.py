"""Beams that touch, lift and stack: closed forms, against narrow plates in unilateral contact.

Sources: elementary bending theory; the heavy beam on a rigid floor and the beam that sags onto one are classical
(see A. D. Kerr, D. W. Coffin, Int. J. Solids Struct. 28 (1991) 413 for beams on foundations; from memory); receding
contact of stacked layers: L. M. Keer, J. Dundurs, K. C. Tsai, J. Appl. Mech. 39 (1972) 1115.  The figures for two
stacked beams are ours, derived.  Strips have nu = 0 and a thickness of 1/500 of their length: shear is below 0.01 %.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
import scipy.sparse as sparse

from deflect.checks.bench.plates import SIDE, YOUNG, even_pressure, rectangle, slab
from deflect.mechanics.arrays import Floats, Sparse
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.plate import Plate

LENGTH, WIDTH, THICKNESS = SIDE, 50.0, 2.0
EI = YOUNG * WIDTH * THICKNESS**3 / 12
# The solver wants a layer in every contact: a millionth of the strip's own compliance.
LAYER = 1e-6 * LENGTH**3 / (48 * EI)


def _strip(length: float, thickness: float, elements: int) -> Plate:
    return rectangle(slab(thickness, poisson=0.0), length, WIDTH, elements, 1)


def _across(plate: Plate, places: Floats) -> Sparse:
    """Rows that read the mean deflection across the strip at each x of ``places``."""
    nodes, weights = np.polynomial.legendre.leggauss(3)
    points = np.array([(x, WIDTH / 2 * y) for x in places for y in nodes])
    average = sparse.kron(sparse.eye_array(len(places)), weights[None, :] / 2)
    return (average @ plate.at(points).deflection).tocsr()


@dataclass(frozen=True, eq=False)
class Floored:
    """A strip above a floor: heights of the ports, forces of the floor on them."""

    place: Floats
    solved: ContactSolution
    height: Floats
    spacing: float


def _on_floor(
    load_per_length: float, gap: float, lift: tuple[float, float] | None, held_ends: bool, elements: int = 100
) -> Floored:
    """A strip with its own even load on a rigid floor ``gap`` below it; ``lift``: place and size of a pull upwards."""
    plate = _strip(LENGTH, THICKNESS, elements)
    place = np.linspace(-LENGTH / 2, LENGTH / 2, elements + 1)
    rows = _across(plate, place)
    load = even_pressure(plate, load_per_length / WIDTH)
    if lift is not None:
        load = load + (_across(plate, np.array([lift[0]])).T @ np.array([lift[1]]))
    rigid = plate.rigid[:, :2]
    answer, unheld = plate.respond(rows), plate.respond(sparse.csr_array(load[None, :]))[:, 0]
    compliance = rows @ answer
    compliance = (compliance + compliance.T) / 2 + LAYER * np.eye(place.size)
    room, bilateral = np.full(place.size, gap), np.zeros(place.size, dtype=bool)
    if held_ends:
        room[[0, -1]], bilateral[[0, -1]] = 0.0, True
    solved = solve_contact(compliance, rows @ rigid, room + rows @ unheld, -(rigid.T @ load), bilateral)
    height = rows @ (answer @ solved.force + unheld + rigid @ solved.rigid)
    return Floored(place, solved, height, float(place[1] - place[0]))


GAP = 1.0
FIRST_TOUCH = 384 * EI * GAP / (5 * LENGTH**4)


@pytest.mark.parametrize(("share", "touches"), [(0.995, 0), (1.005, 1), (3.0, 1), (4.9, 1), (6.0, 3)])
def test_beam_sagging_onto_a_flat_touches_at_one_point_first(share: float, touches: int) -> None:
    """First touch at q1 = 384 EI d/(5 L^4), point contact up to 5 q1, then a stretch; the point's force is exact."""
    load = share * FIRST_TOUCH
    beam = _on_floor(load, GAP, None, held_ends=True)
    floor = beam.solved.force[1:-1]
    count = int((floor > 0).sum())
    assert count == touches if touches < 2 else count >= touches
    if touches == 1:
        exact = 48 * EI / LENGTH**3 * (5 * load * LENGTH**4 / (384 * EI) - GAP)
        # The force is a difference of two deflections; 0.01 % of shear on the greater.
        assert floor.max() == pytest.approx(exact, abs=1e-3 * load * LENGTH)


@pytest.mark.parametrize("free_span", [0.4, 0.3, 0.2])
def test_beam_sagging_onto_a_flat_lies_down(free_span: float) -> None:
    """Beyond 5 q1 the free span is s = (24 EI d/q)^(1/4), the end carries q s/2, and so does the rim of the contact."""
    span = free_span * LENGTH
    load = 24 * EI * GAP / span**4
    assert load > 5 * FIRST_TOUCH
    beam = _on_floor(load, GAP, None, held_ends=True)
    force, place = beam.solved.force, beam.place
    first = 1 + int(np.flatnonzero(force[1:-1] > 0)[0])
    assert place[first] + LENGTH / 2 == pytest.approx(span, abs=beam.spacing)
    assert force[0] == pytest.approx(load * span / 2, rel=0.01)
    middle = np.abs(place) < LENGTH / 2 - span - 3.5 * beam.spacing
    # 2 %: the rim's force is shared by the two ports next to it, and a little by the third.
    assert force[middle] == pytest.approx(load * beam.spacing, rel=0.02)
    # The rest of its half is the rim's force and the load that lies on the same ports.
    left = place < 0
    rim = force[1:][left[1:] & ~middle[1:]].sum() - load * (place[middle][0] - beam.spacing / 2 + LENGTH / 2 - span)
    assert rim == pytest.approx(load * span / 2, rel=0.01)


@pytest.mark.parametrize("lifted", [0.2, 0.3])
def test_heavy_beam_lifted_in_the_middle(lifted: float) -> None:
    """Lifted half-length 3P/(4q), height q s^4/(72 EI)."""
    weight, reach = 1.0, lifted * LENGTH
    beam = _on_floor(weight, 0.0, (0.0, 4 * weight * reach / 3), held_ends=False)
    touching = np.abs(beam.place[beam.solved.force > 0])
    assert touching.min() == pytest.approx(reach, abs=beam.spacing)
    # 1 %: the height grows with the fourth power of a reach that ends between two ports, but feels only its force.
    assert beam.height.max() == pytest.approx(weight * reach**4 / (72 * EI), rel=0.01)


@pytest.mark.parametrize("lifted", [0.3, 0.5])
def test_heavy_beam_lifted_at_its_end(lifted: float) -> None:
    """Lifted length 2P/q, height q s^4/(24 EI)."""
    weight, reach = 1.0, lifted * LENGTH
    beam = _on_floor(weight, 0.0, (-LENGTH / 2, weight * reach / 2), held_ends=False)
    touching = beam.place[beam.solved.force > 0] + LENGTH / 2
    assert touching.min() == pytest.approx(reach, abs=beam.spacing)
    assert beam.height[0] == pytest.approx(weight * reach**4 / (24 * EI), rel=0.01)


@dataclass(frozen=True, eq=False)
class Stack:
    """Two strips, the upper one on the lower; downward deflection of the lower at mid, gap at mid, contact forces."""

    lower_middle: float
    gap_middle: float
    force: Floats


REACH = 0.2 * LENGTH  # half the upper strip's length
PRESSED = 1.0  # N/mm on the upper strip
# Deflections below are per p L^4/EI2.
UNIT = PRESSED * LENGTH**4 / EI


def _stacked(stiffness_ratio: float, elements: int = 40) -> Stack:
    """The upper strip (EI1 = ratio EI2, length 0.4 L) pressed evenly, the lower one held at its ends."""
    lower = _strip(LENGTH, THICKNESS, elements)
    upper = _strip(2 * REACH, THICKNESS * stiffness_ratio ** (1 / 3), elements)
    ends = _across(lower, np.array([-LENGTH / 2, LENGTH / 2]))
    place = np.linspace(-REACH, REACH, 2 * elements + 1)
    above, below = _across(upper, place), _across(lower, place)
    load = even_pressure(upper, PRESSED / WIDTH)
    on_lower = sparse.vstack([-below, ends]).tocsr()
    n = place.size
    answer, answer_upper = lower.respond(on_lower), upper.respond(above)
    compliance = on_lower @ answer
    compliance[:n, :n] += above @ answer_upper
    compliance = (compliance + compliance.T) / 2 + LAYER * np.eye(n + 2)
    modes = np.zeros((n + 2, 4))
    modes[:, :2] = on_lower @ lower.rigid[:, :2]
    modes[:n, 2:] = above @ upper.rigid[:, :2]
    unheld = upper.respond(sparse.csr_array(load[None, :]))[:, 0]
    resultant = np.concatenate([[0.0, 0.0], -(upper.rigid[:, :2].T @ load)])
    bilateral = np.concatenate([np.zeros(n, dtype=bool), [True, True]])
    solved = solve_contact(compliance, modes, np.concatenate([above @ unheld, [0.0, 0.0]]), resultant, bilateral)
    motion = answer @ solved.force + lower.rigid[:, :2] @ solved.rigid[:2]
    middle = -float((_across(lower, np.zeros(1)) @ motion)[0])
    return Stack(middle, float(solved.gap[n // 2]), solved.force[:n])


@pytest.mark.parametrize(("ratio", "listed"), [(1.0, 8.66667e-4), (0.5, 5.33333e-4)])
def test_stacked_beams_touch_at_the_upper_ends_only(ratio: float, listed: float) -> None:
    """A stiff enough upper beam stands on its two ends: all of the force there, and a gap in between."""
    a, span = 0.2, 1.0
    assert ratio >= 5 * a / (6 * (span - 2 * a))
    exact = a**3 * (span / 2 - a) / 2 - 5 * a**4 / (24 * ratio)
    assert exact == pytest.approx(listed, rel=1e-5)
    arm = span / 2 - a
    sag = a * arm * (3 * span**2 - 4 * arm**2) / 24
    stack = _stacked(ratio)
    assert stack.gap_middle / UNIT == pytest.approx(exact, rel=5e-3)
    assert stack.lower_middle / UNIT == pytest.approx(sag, rel=1e-3)
    assert stack.force[[0, -1]] == pytest.approx(PRESSED * REACH, rel=1e-6)
    assert stack.force[1:-1].max() == 0.0


@pytest.mark.parametrize(("share", "lifts"), [(1.02, True), (0.98, False)])
def test_stacked_beams_spread_their_contact_below_a_stiffness(share: float, lifts: bool) -> None:
    """EI1/EI2 = 5a/(6(L - 2a)) closes the gap at mid: just above it is open, just below closed."""
    stack = _stacked(share * 5 * 0.2 / (6 * (1.0 - 0.4)))
    assert (stack.gap_middle > 1e-8 * UNIT) is lifts


def test_stacked_beams_with_a_soft_upper_one() -> None:
    """EI1 = EI2/10: the contact spreads.  Figure: ours, another program, 80 elements."""
    stack = _stacked(0.1)
    assert stack.lower_middle / UNIT == pytest.approx(7.236e-3, rel=5e-3)
    assert (stack.force > 0).sum() > 2
    assert stack.force.sum() == pytest.approx(2 * PRESSED * REACH, rel=1e-9)

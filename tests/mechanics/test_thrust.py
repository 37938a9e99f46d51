"""Where a side thrust comes from and where it acts: by hand, with round forces along the axes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.thrust import (
    CUTTING,
    OFFSET,
    REST,
    SLOPE,
    Drives,
    Leanings,
    one_sided,
    side_thrust,
    thrust_by_source,
)
from deflect.model.die import Operation
from deflect.model.force import Line, Patch
from deflect.model.values import Rectangle

CASE = read_case("rowan-trim", "alder-10mn")
DRIVES = Drives(
    friction=0.15, slope=1e-3, side_thrust=2e-3, cutting=0.1, offset=1e-6, direction=0.0, tangential_give=0.3, joint=1e3
)
NONE = np.zeros(2)
LEANINGS = Leanings(
    unbalanced=np.array([0.3, -0.1]),
    unbalanced_returning=np.array([0.05, 0.0]),
    offset=np.array([200.0, 50.0]),
    centre=np.array([100.0, -30.0]),
    cut=np.array([-20.0, 40.0]),
    apart=NONE,
)


def parts(drives: Drives = DRIVES, leanings: Leanings = LEANINGS) -> dict[str, tuple[float, float]]:
    """Held down by 2 MN, of which 1.2 MN work and 0.3 MN act on the return."""
    told = thrust_by_source(drives, leanings, 2e6, 1.2e6, 0.3e6)
    return {name: (float(x), float(y)) for name, (x, y) in told.items()}


def test_each_source_by_its_own_force() -> None:
    found = parts()
    assert found[SLOPE] == pytest.approx((2000.0, 0.0))
    assert found[CUTTING] == pytest.approx((0.1 * (0.3 * 1.2e6 + 0.05 * 0.3e6), -0.1 * 0.1 * 1.2e6))
    assert found[OFFSET] == pytest.approx((1e-6 * 1.5e6 * 200.0, 1e-6 * 1.5e6 * 50.0))
    assert found[REST] == pytest.approx((3000.0, 0.0))


def test_slope_and_the_rest_push_along_the_heading() -> None:
    found = parts(replace(DRIVES, direction=np.pi / 2))
    assert found[SLOPE] == pytest.approx((0.0, 2000.0), abs=1e-9)
    assert found[REST] == pytest.approx((0.0, 3000.0), abs=1e-9)


def test_what_may_push_either_way_pushes_along() -> None:
    """Turned round, cut and offset push the other way; straight across they stay as they are."""
    along, against = parts(), parts(replace(DRIVES, direction=np.pi))
    for name in (CUTTING, OFFSET):
        assert against[name] == pytest.approx(tuple(-v for v in along[name]))
    across = replace(
        LEANINGS, offset=np.array([0.0, -50.0]), unbalanced=np.array([0.0, -0.1]), unbalanced_returning=NONE
    )
    found = parts(leanings=across)
    assert found[OFFSET] == pytest.approx((0.0, -75.0))
    assert found[CUTTING] == pytest.approx((0.0, -12e3))


def test_moments_are_of_the_force_at_its_centre_and_of_the_cut_at_its_lines() -> None:
    """Of the slope, three quarters act with the force, a quarter at the die's middle."""
    found = parts()
    force = np.array(found[OFFSET]) + np.array(found[REST]) + 0.75 * np.array(found[SLOPE])
    turning = 100.0 * force[1] + 30.0 * force[0] - 20.0 * found[CUTTING][1] - 40.0 * found[CUTTING][0]
    told = side_thrust(DRIVES, LEANINGS, 2e6, 1.2e6, 0.3e6)
    assert told[:2] == pytest.approx(np.sum(list(found.values()), axis=0))
    assert told[2] == pytest.approx(turning)
    # Nothing holds it down: nothing of the slope is left.
    assert side_thrust(DRIVES, LEANINGS, 0.0, 0.0, 0.0) == pytest.approx(np.zeros(3))


def test_a_push_across_lines_is_chord_over_length_turned_to_the_left() -> None:
    """A bent line of 300 and 400 mm with half of the force, half of which stays on the return; and a closed one."""
    bent = Line(0.5, ((0.0, 0.0), (300.0, 0.0), (300.0, 400.0)), on_return=0.5)
    closed = Line(0.3, ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 0.0)), on_return=0.5)
    patch = Patch(0.2, Rectangle(-700.0, 0.0, 100.0, 100.0))
    die = replace(CASE.die, operation=Operation.TRIM, patterns=(bent, closed, patch))
    down, up, centre, cut = one_sided(die)
    assert down == pytest.approx(0.5 * np.array([-400.0, 300.0]) / 700.0)
    assert up == pytest.approx(down / 2)
    bent_centre = (300 * np.array([150.0, 0.0]) + 400 * np.array([300.0, 200.0])) / 700
    root = 100 * np.sqrt(2.0)
    edges = ((100, (50.0, 0.0)), (100, (100.0, 50.0)), (root, (50.0, 50.0)))
    closed_centre = sum(length * np.array(middle) for length, middle in edges) / (200 + root)
    assert centre == pytest.approx(0.5 * bent_centre + 0.3 * closed_centre + 0.2 * np.array([-700.0, 0.0]))
    assert cut == pytest.approx((0.5 * bent_centre + 0.3 * closed_centre) / 0.8)
    formed = one_sided(replace(die, operation=Operation.FORM))
    assert formed[0] == pytest.approx(NONE)
    assert formed[3] == pytest.approx(centre)


def test_only_what_has_a_side_is_one_sided() -> None:
    none = Leanings(NONE, NONE, NONE, NONE, NONE, NONE)
    assert not none.one_sided
    for name in ("unbalanced", "unbalanced_returning", "offset", "centre", "apart"):
        assert replace(none, **{name: np.array([0.0, 1e-3])}).one_sided, name
    # The lines of a cut that balances itself may lie anywhere.
    assert not replace(none, cut=np.array([50.0, 0.0])).one_sided


def test_leanings_turn_with_the_die() -> None:
    """Turned by a right angle at (70, -40): the force's offset is told from the press, its centre from the die."""
    placing = replace(CASE.die.placing, x=70.0, y=-40.0, rotation=np.pi / 2)
    die = replace(CASE.die, placing=placing, guide_offset=(0.02, 0.0))
    found = Leanings.placed(
        die, np.array([0.3, 0.0]), np.array([0.0, 0.1]), np.array([200.0, 10.0]), np.array([5.0, 6.0])
    )
    assert found.unbalanced == pytest.approx([0.0, 0.3])
    assert found.unbalanced_returning == pytest.approx([-0.1, 0.0])
    assert found.offset == pytest.approx([70.0 - 10.0, -40.0 + 200.0])
    assert found.centre == pytest.approx([-10.0, 200.0])
    assert found.cut == pytest.approx([-6.0, 5.0])
    assert found.apart == pytest.approx([0.02, 0.0])

"""Cases at the ends of what a case file may say, on coarse meshes: the right answer, or a refusal in words.

Right answers come from limits that need no solver: a rigid body on springs, proportion, likeness, balance. Patches are
of 200 mm, elements of 400 mm; every property here holds on any mesh.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.faults import CaseRefused, MechanicsFailed
from deflect.mechanics.contact import solve_contact
from deflect.mechanics.glance import Glance, glance
from deflect.model.case import Case
from deflect.model.values import Interval
from deflect.units.table import GRAVITY

BALANCE = 1e-9
"""What may be left of a balance, as a share: round-off of 1e-16 over some hundred contacts, and four digits."""
BALANCE_OF_1_N = 1e-7
"""The same below 1 N over gaps of millimetres: contacts of 1e7 N/mm, times millimetres, leave 1e-16 of 1e8 N, and a
digit."""
COARSER = 2.0
_PRESS = """
[press]
name = "Extreme press"
rated_force = "200 MN"
[press.bolster]
length = "4000 mm"
width = "2200 mm"
thickness = "200 mm"
material = "steel S355"
dish = "{dish} mm"
[press.bed]
opening = {{length = "{opening_length} mm", width = "{opening_width} mm"}}
hold_downs = "none"
[press.bed.land]
stiffness = "{land} N/mm3"
"""
_DIE = """
[die]
name = "Extreme die"
operation = "form"
working_force = "{force}"
placing = {{x = "{x} mm", y = "0 mm"}}
[die.base]
length = "{length} mm"
width = "1200 mm"
thickness = "{thickness} mm"
material = "ductile iron GJS-600-3"
[die.lower]
height = "{height} mm"
[die.upper]
height = "500 mm"
[[die.forces]]
kind = "patch"
x = "{force_x} mm"
y = "{force_y} mm"
length = "{force_length} mm"
width = "{force_width} mm"
{more}
"""
_USUAL: dict[str, Any] = {
    "dish": 0, "opening_length": 3000, "opening_width": 1400, "land": 60, "force": "6 MN", "x": 0, "length": 2400,
    "thickness": 300, "height": 850, "force_x": 0, "force_y": 0, "force_length": 800, "force_width": 500, "more": "",
}  # fmt: skip
_SHIM = """
[[die.shims]]
x = "{x} mm"
y = "0 mm"
length = "{length} mm"
width = "{width} mm"
thickness = "5 mm"
"""


@pytest.fixture
def solved(tmp_path: Path) -> Any:
    """Solves a case that is usual but for what is named."""

    def solve(**other: Any) -> Glance:
        return balanced(case(tmp_path, **other))

    return solve


def case(folder: Path, **other: Any) -> Case:
    said = _USUAL | other
    for name, text in (("press", _PRESS), ("die", _DIE)):
        (folder / f"{name}.toml").write_text(text.format(**said), encoding="utf-8")
    return read_case(folder / "die.toml", folder / "press.toml")


def balanced(extreme: Case, left: float = BALANCE) -> Glance:
    """The case solved; whatever it is, forces and moments balance, nothing pulls or overlaps, all is finite."""
    seen = glance(extreme, coarser=COARSER)
    solution = seen.solution
    evidence = solution.evidence
    assert max(evidence.force_balance, evidence.moment_balance) < left
    assert evidence.complementarity < BALANCE
    weight = extreme.die.lower.mass * GRAVITY
    assert np.nansum(solution.force) == pytest.approx(extreme.base_force + weight, rel=left)
    assert np.isfinite(solution.table_movement).all()
    assert np.nanmin(solution.gap) >= 0
    assert np.isfinite([solution.greatest_gap, seen.face.error_range, solution.sag.along_x, solution.base_stress]).all()
    return seen


# ---- thickness


def test_from_a_sheet_to_a_block(solved: Any) -> None:
    """Base thickness 15 to 1000 mm (t/L 1/200 to 1/3): a sheet lets the table sag as if it were not there, a block
    stiffens it; the thicker, the less sag and the less bending of the face."""
    thick = [solved(length=3000, thickness=t, height=1050) for t in (15, 40, 100, 300, 600, 1000)]
    sag = [one.solution.sag.along_x for one in thick]
    assert sag == sorted(sag, reverse=True)
    face = [one.face.error_range for one in thick[2:]]
    assert face == sorted(face, reverse=True)
    # The bending stiffness of 15 mm of iron is 4e-4 of the bolster's: less than a per cent of the sag. The table bare,
    # under the same force, stands in for it: a base of the same plan of next to no stiffness.
    assert sag[0] == pytest.approx(sag[1], rel=0.01)
    assert sag[-1] < 0.5 * sag[0]


# ---- the opening


@pytest.mark.parametrize(("length", "width"), [(3980, 2180), (3980, 1400), (3000, 2180)])
def test_an_opening_nearly_as_large_as_the_bolster(solved: Any, length: int, width: int) -> None:
    """A rim of 10 mm carries all of it: the table sags more than over the usual opening."""
    assert solved(opening_length=length, opening_width=width).solution.sag.along_x > solved().solution.sag.along_x


def test_an_opening_that_leaves_no_land_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CaseRefused, match="no land to rest on"):
        case(tmp_path, opening_length=3990, opening_width=2190)


# ---- place


def test_a_die_on_the_edge_of_the_opening_either_way(solved: Any) -> None:
    """The end of the base over the edge of the opening, left and right: mirror images; farther out the table sags less.
    Off centre the table tilts: what is left of the mirror is round-off of the tilt."""
    left, right, middle = solved(x=-300), solved(x=300), solved()
    assert left.solution.greatest_gap == pytest.approx(right.solution.greatest_gap, rel=1e-6)
    assert left.solution.contact_share == pytest.approx(right.solution.contact_share, rel=1e-6)
    assert left.solution.sag.along_x == pytest.approx(right.solution.sag.along_x, rel=1e-6)
    assert solved(x=790).solution.sag.along_x < middle.solution.sag.along_x


def test_a_die_off_the_bolster_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CaseRefused):
        case(tmp_path, x=3300)


# ---- force


@pytest.mark.parametrize("size", [1, 5, 50])
def test_one_spot_of_force(solved: Any, size: int) -> None:
    """6 MN on one spot: below a spot the answer does not depend on its size, but for the spot itself."""
    spot, other = solved(force_length=size, force_width=size), solved(force_length=60, force_width=60)
    assert spot.solution.greatest_gap == pytest.approx(other.solution.greatest_gap, rel=0.02)
    assert spot.solution.sag.along_x == pytest.approx(other.solution.sag.along_x, rel=0.02)


def test_a_force_at_the_corner_tips_the_die_and_is_answered(solved: Any) -> None:
    """The opposite corner lifts by far more than the table sags; the balance holds all the same."""
    seen = solved(force_x=1150, force_y=550, force_length=50, force_width=50)
    assert seen.solution.greatest_gap > 5 * seen.solution.sag.along_x
    assert seen.solution.contact_share < 0.1


def test_one_newton_and_a_hundred_meganewtons(tmp_path: Path) -> None:
    """One newton changes nothing that the die's weight does; from where weight is nothing, all is proportional."""
    usual = case(tmp_path)

    def under(force: float) -> Glance:
        return balanced(replace(usual, die=replace(usual.die, working_force=force)))

    nothing, one = under(1e-3), under(1.0)
    assert one.solution.greatest_gap == pytest.approx(nothing.solution.greatest_gap, abs=1e-6)
    assert one.solution.sag.along_x < 1e-6
    half, whole = under(5e7), under(1e8)
    # The weight, 65 kN, is 0.13 % of the half: so far may the ratio be off.
    assert whole.solution.sag.along_x == pytest.approx(2 * half.solution.sag.along_x, rel=2e-3)
    assert whole.solution.greatest_gap == pytest.approx(2 * half.solution.greatest_gap, rel=1e-2)


def test_less_than_the_least_force_is_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(CaseRefused, match="too small"):
        case(tmp_path, force="1 N")
    with pytest.raises(CaseRefused, match="too large"):
        case(tmp_path, force="300 MN")


# ---- the land


@pytest.mark.parametrize("stiffness", [0.01, 0.1, 1.0])
def test_a_land_so_soft_that_the_bolster_is_rigid_on_it(tmp_path: Path, stiffness: float) -> None:
    """A rigid plate on springs: it sinks by force over stiffness and area, on average over the land.

    The bolster's own give at the land is in series (a thousandth at 1 N/mm3), and it bends by up to 3 mm, by which the
    average over the whole top differs from that over the land: those 3 mm are the tolerance.
    """
    usual = case(tmp_path)
    land = replace(usual.press.bed.land, stiffness=Interval.exactly(stiffness))
    seen = balanced(replace(usual, press=replace(usual.press, bed=replace(usual.press.bed, land=land))))
    area = 4000 * 2200 - 3000 * 1400
    sinking = usual.base_force / (stiffness * area)
    assert seen.solution.land_share == pytest.approx(1.0)
    assert -np.mean(seen.solution.table_movement) == pytest.approx(sinking, abs=3.0, rel=0.02)


# ---- gaps before any force


@pytest.mark.parametrize("dish", [1, 5])
def test_a_table_worn_by_millimetres(solved: Any, dish: int) -> None:
    """The die bridges the dish: the gap in its middle is what is worn below it, plus the sag, less the die's own
    bending; it stands on its ends."""
    seen = solved(dish=dish)
    assert seen.solution.greatest_gap > solved().solution.greatest_gap
    assert seen.solution.greatest_gap < dish + seen.solution.sag.along_x
    assert seen.solution.contact_share < 0.2


def test_a_die_that_touches_nowhere_until_force_comes(tmp_path: Path) -> None:
    """Without weight nothing presses at rest: under force the answer is the same as with next to no weight."""
    usual = case(tmp_path, dish=2)

    def weighing(mass: float) -> Glance:
        lower = replace(usual.die.lower, mass=mass, mass_is_estimated=False, base_mass=0.0)
        return balanced(replace(usual, die=replace(usual.die, lower=lower)))

    none, little = weighing(1e-9), weighing(1.0)
    assert none.solution.greatest_gap == pytest.approx(little.solution.greatest_gap, rel=1e-4)
    assert none.solution.sag.along_x == pytest.approx(little.solution.sag.along_x, rel=1e-4)


@pytest.mark.parametrize("thickness", [50.0, 300.0])
def test_a_die_on_high_shims_at_both_ends_bridges_all_of_the_table(tmp_path: Path, thickness: float) -> None:
    """A huge gap before any force, beyond what a file may say, which none closes: the gap is the shims' height, plus
    what the table sags, less what the die bends, and that does not depend on the height."""
    ends = "".join(_SHIM.format(x=x, length=200, width=1200) for x in (-1100, 1100))
    usual = case(tmp_path, more=ends)

    def on_shims(height: float) -> Glance:
        shims = tuple(replace(one, thickness=height) for one in usual.die.placing.shims)
        return balanced(replace(usual, die=replace(usual.die, placing=replace(usual.die.placing, shims=shims))))

    high, low = on_shims(thickness), on_shims(20.0)
    # What is left of a difference of heights is round-off of 1e-16 of 300 mm times the stiffness of the contacts.
    assert high.solution.greatest_gap - thickness == pytest.approx(low.solution.greatest_gap - 20.0, abs=1e-6)
    assert high.solution.contact_share < 0.2


@pytest.mark.parametrize("mass", [1e-9, 6600.0])
def test_the_least_and_the_greatest_force_on_a_worn_table(tmp_path: Path, mass: float) -> None:
    """1 N and 100 MN, without weight (it touches nowhere until force comes) and with it: the more force, the more of
    the base comes to bear."""
    worn = case(tmp_path, dish=5)
    lower = replace(worn.die.lower, mass=mass, mass_is_estimated=False, base_mass=0.0)

    def under(force: float) -> Glance:
        return balanced(replace(worn, die=replace(worn.die, lower=lower, working_force=force)), left=BALANCE_OF_1_N)

    assert 0 < under(1.0).solution.contact_share < under(1e8).solution.contact_share


# ---- mountings that hold a die by next to nothing


@pytest.mark.parametrize(("length", "width"), [(200, 200), (2000, 100), (100, 1000)])
def test_a_die_that_balances_on_one_spot_or_line_rocks(solved: Any, length: int, width: int) -> None:
    """A shim of 5 mm in the middle: the die stands on it and leans until an edge touches, or does not lean at all; the
    gap at its edges is that of the shim and more. How far it leans is not determined; that it balances, is."""
    seen = solved(more=_SHIM.format(x=0, length=length, width=width))
    assert 2.0 < seen.solution.greatest_gap < 12.0
    assert seen.solution.contact_share < 0.2


def test_a_die_on_one_shim_with_force_beside_it_tips_onto_its_edge(solved: Any) -> None:
    """Two supports: the shim and the edge below the force; the other edge is up by about twice the shim."""
    seen = solved(force_x=900, force_length=100, force_width=100, more=_SHIM.format(x=0, length=200, width=200))
    assert 9.0 < seen.solution.greatest_gap < 11.0


def test_contacts_on_one_line_hold_nothing_across_it() -> None:
    """Arms that are round-off are no arms: a body on two contacts on a line leans onto a third beside it, and where
    there is no third it is refused (rank-deficient)."""
    x, y = np.array([-1000.0, 0.0, 1000.0, 0.0]), np.array([3e-13, -1e-13, 2e-13, 500.0])
    modes = np.column_stack([np.ones(4), x, y])
    compliance, load = 1e-6 * np.eye(4), np.array([900.0, 0.0, 0.0])
    gap, on_the_line = np.array([0.0, 0.0, 0.0, 1.0]), np.array([True, True, True, False])
    held = solve_contact(compliance, modes, gap, load, start=on_the_line)
    assert held.force == pytest.approx([300.0, 300.0, 300.0, 0.0], abs=1e-6)  # alike contacts share alike
    assert held.gap[:3] == pytest.approx(0.0)
    assert held.balance < 1e-6  # round-off of 1e-13, measured at a millionth of the longest arm
    with pytest.raises(MechanicsFailed, match="not held against tipping"):
        solve_contact(compliance[:3, :3], modes[:3], gap[:3], np.array([900.0, 0.0, 90.0]))
    with pytest.raises(MechanicsFailed, match="not held against tipping"):
        solve_contact(compliance, modes, gap, np.array([900.0, 0.0, -1e5]))


def test_too_little_of_the_base_on_the_bolster_is_refused(tmp_path: Path) -> None:
    with pytest.raises((CaseRefused, MechanicsFailed), match=r"bolster|table"):
        balanced(case(tmp_path, x=2990))

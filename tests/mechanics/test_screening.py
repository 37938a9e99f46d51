"""Screening from condensed bodies, against the check of the same case."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics.analysis import analyse
from deflect.mechanics.drag import Drag
from deflect.mechanics.likeness import Setting
from deflect.mechanics.screening import CondensedDie, CondensedTable, Screened, condense_die, condense_top, pair, screen
from deflect.mechanics.screening import table as table_of_cells
from deflect.mechanics.screening.cells import Cells
from deflect.mechanics.solution import solve
from deflect.model.case import Case
from deflect.model.die import Clamp
from deflect.model.values import Interval

PAIRS = (("rowan-trim", "alder-10mn"), ("hazel-draw", "birch-12mn"), ("elder-offset", "alder-10mn"))
# What cells of 150 mm may miss (ours, measured on the demo scenario): gap, mm; sag, as a share; contact; breathing.
GAP, SAG, CONTACT, BREATHING = 0.0025, 0.03, 0.02, 0.04


def bodies(case: Case) -> tuple[Setting, CondensedTable, CondensedDie]:
    setting = Setting.of(case)
    return setting, condense_top(case.press, setting.stiffness.nominal), condense_die(case.die)


@pytest.fixture(scope="module")
def rowan() -> tuple[Case, CondensedTable, CondensedDie]:
    case = read_case("rowan-trim", "alder-10mn")
    return case, *bodies(case)[1:]


def figures(told: Screened) -> tuple[float, ...]:
    return told.sag, told.gap, told.contact_share, told.pressure, told.breathing, told.creep_bound


@pytest.mark.parametrize(("die", "press"), PAIRS)
def test_a_screening_is_near_the_check(die: str, press: str) -> None:
    case = read_case(die, press)
    setting, table, condensed = bodies(case)
    told = screen(case, table, condensed)
    assumptions = setting.assumptions()
    rest, full = (setting.standing.solve(share, assumptions) for share in (0.0, 1.0))
    wanted = solve(setting.standing, assumptions, rest, full)
    drag = Drag.of(setting.standing)
    moved = drag.breathing(full) - drag.breathing(rest)
    sag = wanted.sag
    governing = sag.along_x if sag.along_x / sag.reference_length >= sag.along_y / sag.reference_width else sag.along_y
    assert told.gap == pytest.approx(wanted.greatest_gap, abs=GAP)
    assert told.sag == pytest.approx(governing, rel=SAG)
    assert told.contact_share == pytest.approx(wanted.contact_share, abs=CONTACT)
    assert told.breathing == pytest.approx(np.hypot(*moved.T).max(), rel=BREATHING)
    assert told.creep_bound >= np.hypot(*np.ptp(moved, axis=0))


@pytest.mark.parametrize(("die", "press"), PAIRS[:2])
def test_no_creep_passes_its_bound(die: str, press: str) -> None:
    case = read_case(die, press)
    _, table, condensed = bodies(case)
    told = screen(case, table, condensed)
    analysis = analyse(case, samples=0, mesh_error=False)
    assert not analysis.creep.march.slides
    assert analysis.creep.free < told.creep_bound


def test_a_thrust_that_friction_does_not_hold_is_said(rowan: tuple[Case, CondensedTable, CondensedDie]) -> None:
    case, table, die = rowan
    pushed = replace(case, die=replace(case.die, side_thrust=Interval.exactly(0.5)))
    assert screen(pushed, table, die).may_slide
    assert not screen(case, table, die).may_slide


def test_where_it_starts_does_not_matter(rowan: tuple[Case, CondensedTable, CondensedDie]) -> None:
    case, table, die = rowan
    placing = replace(case.die.placing, x=120.0, y=-40.0)
    moved = replace(case, die=replace(case.die, placing=placing, working_force=0.8 * case.die.working_force))
    cold = screen(case, table, die)
    other = screen(moved, table, die, cold.start)
    # The same closed contacts are the same equations: not a digit differs.
    assert figures(screen(case, table, die, other.start)) == figures(cold)
    assert figures(screen(moved, table, die)) == figures(other)


def test_a_mirrored_place_is_a_mirrored_answer(rowan: tuple[Case, CondensedTable, CondensedDie]) -> None:
    case, table, die = rowan
    told = []
    for x in (150.0, -150.0):
        placing = replace(case.die.placing, x=x)
        told.append(figures(screen(replace(case, die=replace(case.die, placing=placing)), table, die)))
    # Die, table and force are their own mirror image; breathing is kept to seven digits.
    np.testing.assert_allclose(told[0], told[1], rtol=1e-5)


def test_more_force_on_a_flat_table_without_weight_scales_everything() -> None:
    """Receding contact: J. Dundurs, 1975; no weight, no preload, no initial gap."""
    case = read_case("rowan-trim", "alder-10mn")
    bolster = replace(case.press.bolster, dish=0.0, mass=1e-9)
    press = replace(case.press, bolster=bolster, bed=replace(case.press.bed, hold_downs=()))
    lower = replace(case.die.lower, mass=1e-9)
    free = replace(case.die, lower=lower, placing=replace(case.die.placing, clamps=()))
    told = []
    for factor in (0.5, 1.0):
        die = replace(free, working_force=factor * free.working_force)
        one = Case(press, die)
        told.append(screen(one, condense_top(press, 100.0), condense_die(die)))
    assert told[1].gap == pytest.approx(2 * told[0].gap, rel=1e-6)
    assert told[1].sag == pytest.approx(2 * told[0].sag, rel=1e-6)
    assert told[1].pressure == pytest.approx(2 * told[0].pressure, rel=1e-6)


def test_clamps_pull_the_table_up_where_they_stand(rowan: tuple[Case, CondensedTable, CondensedDie]) -> None:
    """Their forces over the cells add up to minus the clamps', about the same place; without clamps there are none."""
    case, table, _ = rowan
    cells = Cells(table.x, table.y, table.nearest, table.kept)
    clamps = (Clamp(900.0, 300.0, 60e3), Clamp(-500.0, -200.0, 40e3))
    placing = replace(case.die.placing, x=0.0, y=0.0, rotation=0.0, clamps=clamps)
    forces = pair._of_clamps(replace(case, die=replace(case.die, placing=placing)), cells)
    assert forces.sum() == pytest.approx(-100e3)
    free = replace(case, die=replace(case.die, placing=replace(placing, clamps=())))
    assert not pair._of_clamps(free, cells).any()


def test_elements_of_a_large_table_grow_with_it(rowan: tuple[Case, CondensedTable, CondensedDie]) -> None:
    """As the square root of its area over 14 m2: of 7 by 8 m twice as long."""
    case, _, _ = rowan
    small, large = (
        replace(case.press, bolster=replace(case.press.bolster, length=length, width=width))
        for length, width in ((3000.0, 2000.0), (7000.0, 8000.0))
    )
    assert table_of_cells._element(large) == pytest.approx(2 * table_of_cells._element(small))

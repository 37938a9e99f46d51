"""The lower half under the force as its faces close, against the coupled solution and against stated patterns."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from upper_bodies import FACE, pair

from deflect.mechanics.analysis import Analysis, analyse
from deflect.mechanics.closing import close, face_grid, lower_half, patterns_as_closed, upper_half
from deflect.mechanics.closure import closure_of, usual
from deflect.mechanics.hanging import hang
from deflect.mechanics.standing import Assumptions, stand
from deflect.mechanics.under_closing import Shares, creep_under_closing, under_closing
from deflect.model.case import Case
from deflect.model.die import Bedded, Sheet
from deflect.model.force import Patch

pytestmark = pytest.mark.usefixtures("coarse")


def analysed(case: Case) -> Analysis:
    return analyse(case, samples=0, mesh_error=False, thrust_direction=0.0)


def test_the_patterns_carry_what_the_faces_carry() -> None:
    """Their sum is the whole force and their centre that of the pressure."""
    case = pair(x=100.0)
    closure = closure_of(case)
    assert closure is not None
    patterns = patterns_as_closed(case.die, closure.faces, closure.pressure, case.base_force)
    assert sum(p.share for p in patterns) == pytest.approx(1.0, abs=1e-9)
    centre = sum(p.share * p.area.x for p in patterns if isinstance(p, Patch))
    force = closure.pressure * closure.faces.patches.area
    assert centre == pytest.approx(float(force @ closure.faces.patches.centre[:, 0] / force.sum()), abs=1e-6)


def test_a_pattern_that_does_not_close_stays_as_it_is() -> None:
    case = pair()
    pad = Patch(0.25, FACE, "pad", on_return=0.5)
    die = replace(case.die, patterns=(replace(case.die.patterns[0], share=0.75), pad))
    closure = closure_of(replace(case, die=die))
    assert closure is not None
    patterns = patterns_as_closed(die, closure.faces, closure.pressure, case.base_force)
    assert patterns[-1] == pad
    assert sum(p.share for p in patterns[:-1]) == pytest.approx(0.75, abs=1e-9)


def test_solved_anew_the_lower_half_is_that_of_the_coupled_solution() -> None:
    """Two routes to how the die base bends and stands: both halves as one problem, and the lower half alone under the
    pressure that this found.

    The second spreads pressure on its way through the base over half its thickness, the first over its own patch, so
    that contact forces differ at the face's edge; the base feels 1 % of it.
    """
    case = pair(x=150.0)
    stiff, hanging, standing = usual(case), hang(case), stand(case)
    faces, taken = face_grid(case.die, case.base_force), Assumptions(stiff.land, contact_give=stiff.contact_give)
    lower = lower_half(standing, taken, case, faces)
    upper = upper_half(hanging, hanging.assumptions(stiff.points, stiff.contact_give), case, faces)
    closed = close(lower, upper, faces, hanging, case.die.working_force, np.zeros(faces.count), 0.0)
    patterns = patterns_as_closed(case.die, faces, closed.face_force / faces.patches.area, case.base_force)
    state = standing.under_patterns(replace(case, die=replace(case.die, patterns=patterns))).solve(1.0, taken)
    top = standing.base.top(faces.patches.centre).surface
    one, other = top @ closed.lower_motion, top @ state.base_motion
    assert np.abs(one - other).max() < 0.01 * np.ptp(one)


def test_faces_that_close_evenly_leave_the_lower_half_as_stated() -> None:
    """A pair that was bedded in where it runs: what is left is that patches lay out the force a little otherwise."""
    case = pair()
    bedded = replace(case, die=replace(case.die, bedded=Bedded(case.press, case.die.working_force)))
    analysis = analysed(bedded)
    found, creep = under_closing(analysis), creep_under_closing(analysis)
    assert found is not None
    assert creep is not None
    assert found.moved == ()
    assert found.closed.gap == pytest.approx(found.stated.gap, rel=2e-3)
    assert found.closed.base_stress == pytest.approx(found.stated.base_stress, rel=5e-3)
    assert found.closed.face < 2e-3
    assert creep.free == pytest.approx(analysis.creep.free, rel=5e-3, abs=1e-9)


def test_a_middle_that_is_left_light_bends_the_lower_half_less() -> None:
    """Slide and table both fall away from the middle, so that the ends carry: the table sags less than as stated."""
    found = under_closing(analysed(pair()))
    assert found is not None
    assert found.closed.sag < 0.95 * found.stated.sag
    assert found.closed.face < found.stated.face


def test_a_soft_sheet_brings_it_back_to_the_stated_pattern() -> None:
    soft = under_closing(analysed(pair(sheet=Sheet(1.0, 300.0, 0.1, stiffness=0.5))))
    assert soft is not None
    assert soft.closed.sag == pytest.approx(soft.stated.sag, rel=0.01)
    assert soft.moved == ()


def test_a_die_that_closes_nowhere_has_no_other_spread() -> None:
    analysis = analysed(pair(bottoms=False))
    assert under_closing(analysis) is None
    assert creep_under_closing(analysis) is None


@pytest.mark.parametrize(
    ("other", "moved"),
    [
        (Shares(0.5, 0.5, 0.0, 0.1), ()),
        (Shares(0.69, 0.5, 0.0, 0.1), ()),
        (Shares(0.71, 0.5, 0.0, 0.1), ("gap",)),
        (Shares(0.5, 0.25, 0.25, 0.1), ("face error", "contact share")),
        (Shares(0.5, 0.5, 0.0, 0.31), ("stress of the base",)),
    ],
)
def test_a_fifth_of_a_limit_matters(other: Shares, moved: tuple[str, ...]) -> None:
    assert Shares(0.5, 0.5, 0.0, 0.1).moved(other) == moved


def test_crossing_a_limit_matters_however_little_it_takes() -> None:
    assert Shares(0.99, 0.5, 0.0, 0.1).moved(Shares(1.01, 0.5, 0.0, 0.1)) == ("gap",)
    assert np.isclose(Shares(0.99, 0.5, 1.2, 0.1).worst, 1.2)

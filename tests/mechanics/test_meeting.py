"""What a creeping die meets first, and how its patches slide: by hand, from play, shift and forces."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from deflect.casefile import read_case
from deflect.mechanics import meeting
from deflect.mechanics.friction import SlipState, Step
from deflect.mechanics.holders import InPlaneHolder
from deflect.mechanics.march import Creep
from deflect.mechanics.meeting import farthest, first_met
from deflect.mechanics.slipping import slipping_of
from deflect.mechanics.stroke import BETWEEN, Trace
from deflect.model.case import Case
from deflect.model.force import Line

CASE = read_case("rowan-trim", "alder-10mn")
# A guide beside the die's centre, free all around, with play of 0.05 mm.
GUIDE = InPlaneHolder("guide 1", "guide", (300.0, -400.0), None, 0.05, 2e4, capacity=1e3)


def case_with(monkeypatch: pytest.MonkeyPatch, *guides: InPlaneHolder, known: bool = True) -> Case:
    monkeypatch.setattr(meeting, "holders_of", lambda case: guides)
    return replace(CASE, die=replace(CASE.die, thrust_direction=0.0 if known else None))


def met(case: Case, *shift: float) -> tuple[str, float]:
    found = first_met(case, np.array(shift))
    return found.what, found.strokes


def test_a_guide_touches_once_its_play_is_used(monkeypatch: pytest.MonkeyPatch) -> None:
    """A shift of (3, 4) micrometres and a turn that adds to it: y = -400 mm turned moves along x, x along y."""
    case = case_with(monkeypatch, GUIDE)
    assert met(case, 3e-3, 4e-3, 0.0) == ("guide 1 touches", pytest.approx(10.0))
    assert met(case, 0.0, 0.0, 1e-5) == ("guide 1 touches", pytest.approx(10.0))
    # Turned about the guide the die does not come nearer to it.
    assert met(case, -4e-3, -3e-3, 1e-5)[0] == "half of the cutting clearance is used up"


def test_a_guide_off_its_middle_touches_sooner_or_later(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its free middle lies 0.03 mm ahead: 0.08 mm to go; behind: 0.02 mm; beside: 0.04 mm, by Pythagoras."""
    for offset, strokes in (((0.03, 0.0), 80.0), ((-0.03, 0.0), 20.0), ((0.0, 0.03), 40.0)):
        case = case_with(monkeypatch, replace(GUIDE, offset=offset))
        assert met(case, 1e-3, 0.0, 0.0) == ("guide 1 touches", pytest.approx(strokes))


def test_a_guide_that_holds_one_way_feels_that_part_of_the_shift(monkeypatch: pytest.MonkeyPatch) -> None:
    case = case_with(monkeypatch, replace(GUIDE, direction=(0.6, 0.8), offset=(0.05, 0.0)))
    # It moves 0.8 um a stroke along its way and has 0.05 + 0.6 * 0.05 mm to go.
    assert met(case, 0.0, 1e-3, 0.0) == ("guide 1 touches", pytest.approx(100.0))


def test_a_guide_that_bears_goes_on_to_what_it_may_take(monkeypatch: pytest.MonkeyPatch) -> None:
    """1 kN at 20 kN/mm are 0.05 mm, of which 0.02 are used where its middle lies so far behind its play."""
    case = case_with(monkeypatch, replace(GUIDE, offset=(-0.07, 0.0)))
    what, strokes = met(case, 1e-3, 0.0, 0.0)
    assert what == "guide 1 bears from the start and takes more than it may"
    assert strokes == pytest.approx(30.0)
    none = case_with(monkeypatch, replace(GUIDE, play=0.0))
    assert met(none, 1e-3, 0.0, 0.0)[1] == pytest.approx(50.0)
    # One that is beyond what it may take already is at its end.
    gone = case_with(monkeypatch, replace(GUIDE, offset=(-0.2, 0.0)))
    assert met(gone, 1e-3, 0.0, 0.0)[1] == 0.0


def test_a_die_that_creeps_off_a_guide_meets_its_other_side(monkeypatch: pytest.MonkeyPatch) -> None:
    """It is taken to stand at the edge of the play: twice the play to go."""
    case = case_with(monkeypatch, replace(GUIDE, offset=(0.07, 0.0)))
    assert met(case, 2e-3, 0.0, 0.0) == ("guide 1 touches", pytest.approx(50.0))


def test_a_thrust_of_unknown_direction_may_push_the_other_way(monkeypatch: pytest.MonkeyPatch) -> None:
    guide = replace(GUIDE, offset=(0.03, 0.0))
    assert met(case_with(monkeypatch, guide, known=False), 1e-3, 0.0, 0.0)[1] == pytest.approx(20.0)
    assert met(case_with(monkeypatch, guide), 1e-3, 0.0, 0.0)[1] == pytest.approx(80.0)


def test_the_first_of_all_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    near = replace(GUIDE, name="guide 2", play=0.01)
    key = replace(GUIDE, name="key 1", kind="key", play=0.001)
    assert met(case_with(monkeypatch, GUIDE, near, key), 1e-3, 0.0, 0.0) == ("guide 2 touches", pytest.approx(10.0))


def test_half_of_the_clearance_is_used_up_where_the_lines_move_most(monkeypatch: pytest.MonkeyPatch) -> None:
    case = case_with(monkeypatch)
    assert case.die.sheet is not None
    what, strokes = met(case, 1e-3, 0.0, 0.0)
    assert what == "half of the cutting clearance is used up"
    assert strokes == pytest.approx(0.5 * case.die.sheet.clearance / 1e-3)
    assert met(case, 0.9e-6, 0.0, 0.0)[1] == np.inf


def test_a_turn_moves_the_farthest_point_most() -> None:
    """A line along the die's x from -600 to 600 mm, on a die that is turned: its ends move by 600 mm times the turn."""
    placing = replace(CASE.die.placing, x=70.0, y=-40.0, rotation=np.pi / 2)
    line = Line(1.0, ((-600.0, 0.0), (600.0, 0.0)))
    case = replace(CASE, die=replace(CASE.die, placing=placing, patterns=(line,)))
    # 0.1 %: the outermost point of quadrature lies 5 mm inside the end.
    assert farthest(case, np.array([0.0, 0.0, 1e-5])) == pytest.approx(6e-3, rel=0.01)
    # The line lies along y of the table, so that a turn moves its ends along x.
    assert farthest(case, np.array([2e-3, 0.0, 1e-5])) == pytest.approx(8e-3, rel=0.01)
    assert farthest(case, np.array([0.0, 2e-3, 1e-5])) == pytest.approx(np.hypot(6e-3, 2e-3), rel=0.01)


PLACES = np.array([[0.0, 100.0], [200.0, 0.0]])


def stroke(slid: list[tuple[float, float]], shift: tuple[float, float, float], **more: bool) -> Creep:
    """A march whose last stroke slides each patch by so much along x and along y after each of its steps, mm."""
    nothing = np.zeros((2, 2))
    steps = [
        Step(SlipState(np.zeros(3), np.array([[a, 0.0], [0.0, b]])), nothing, nothing, np.zeros(3), 0.0)
        for a, b in slid
    ]
    return Creep(np.array(shift), np.zeros((1, 3)), np.zeros(1), True, 1, 0.0, 0.0, last=tuple(steps), **more)


def test_slipping_is_the_way_from_rest_and_sticking_the_force_meanwhile() -> None:
    """Two moments to the full force and back, held by 1, 8 and 1 kN: each third of the way by equal ratios of 2."""
    trace = Trace(PLACES, np.array([1e3, 8e3, 1e3]), 1)
    assert BETWEEN == 3
    # The first patch slides in the second step, and back by half in the last, the other one in the first.
    ways = [(0.0, 0.03), (0.02, 0.03), (0.02, 0.03), (0.02, 0.03), (0.02, 0.03), (0.01, 0.03)]
    slipping = slipping_of(trace, stroke(ways, (0.01, 0.03, 0.0)))
    assert slipping is not None
    # Where they were at rest: a stroke's shift back from its end, for either of them along both ways.
    assert slipping.slid == pytest.approx([np.hypot(0.02, 0.03), np.hypot(0.01, 0.03)])
    # Steps change the force by 1, 2 and 4 kN, and by 4, 2 and 1 kN on the way back: 14 kN in all.
    assert slipping.sticks == pytest.approx([(14 - 1 - 2 - 1) / 14, (14 - 1) / 14])
    assert slipping.neutral == pytest.approx(PLACES[1])


def test_a_die_that_friction_does_not_hold_has_no_slipping() -> None:
    trace = Trace(PLACES, np.array([1e3, 8e3, 1e3]), 1)
    assert slipping_of(trace, stroke([(0.0, 0.0)], (0.0, 0.0, 0.0), slides=True)) is None
    assert slipping_of(trace, stroke([], (0.0, 0.0, 0.0))) is None

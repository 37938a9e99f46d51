"""Move the die on the table."""

import math
from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.footprint import to_table
from deflect.mechanics.loads import pattern_forces
from deflect.mechanics.mounting import shift_to_holes, shift_to_slots
from deflect.model.case import Case
from deflect.model.press import Press
from deflect.sources import PRACTICE

# Shares of the offset that are taken back, the least first.
SHARES = (0.5, 1.0)


def _move(wanted: float, reach: float, press: Press, slots_along: str) -> int:
    """The move nearest to the wanted one within reach, mm; in whole pitches across T-slots, so that bolts fit."""
    step = press.bolster.t_slots
    pitch = step.pitch if step is not None and step.direction == slots_along else 1.0
    most = math.floor(reach / pitch)
    return round(pitch * max(-most, min(most, round(wanted / pitch))))


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    placing = case.die.placing
    reach_x, reach_y = placing.may_move
    if reach_x <= 0 and reach_y <= 0:
        return
    for move_x, move_y, what in _onto_table(case):
        if (move_x or move_y) and abs(move_x) <= reach_x and abs(move_y) <= reach_y:
            moved = replace(placing, x=placing.x + move_x, y=placing.y + move_y)
            yield Proposal(replace(case, die=replace(case.die, placing=moved)), _said(move_x, move_y, what))
    x, y = to_table(placing, pattern_forces(case.die.patterns, 1.0).centre[None, :])[0]
    for share in SHARES:
        move_x = _move(-share * float(x), reach_x, case.press, "y")
        move_y = _move(-share * float(y), reach_y, case.press, "x")
        if move_x == 0 and move_y == 0:
            continue
        moved = replace(placing, x=placing.x + move_x, y=placing.y + move_y)
        yield Proposal(
            replace(case, die=replace(case.die, placing=moved)),
            _said(move_x, move_y, "the force comes nearer the press's centre"),
        )


def _onto_table(case: Case) -> Iterator[tuple[float, float, str]]:
    """Shifts along x and y, mm, that bring cushion pins over holes and bolts over T-slots, and what each does."""
    die, bolster = case.die, case.press.bolster
    if die.cushion_pins and bolster.pin_field is not None:
        yield *shift_to_holes(die.placing, die.cushion_pins, bolster, bolster.pin_field), "the pins meet their holes"
    flange = die.lower.flange
    if flange is not None and flange.slots and bolster.t_slots is not None:
        yield *shift_to_slots(die.placing, flange.slots, bolster.t_slots), "the bolts meet the T-slots"


def _said(move_x: float, move_y: float, what: str) -> str:
    moves = [f"{move:+g} mm along {axis}".replace("-", "−") for axis, move in (("x", move_x), ("y", move_y)) if move]
    return f"{', '.join(moves)}, so that {what}"


REMEDY = Remedy(
    id="move-die",
    title="Move the die on the table",
    cures=frozenset({Trouble.OFFSET, Trouble.ROCKING, Trouble.GAP, Trouble.MATCHING, Trouble.PINS, Trouble.CLAMPING}),
    effort="1 to 2 hours at the press",
    hours=2.0,
    stage=Stage.PRESS,
    who="press room",
    when="where the panel's way through the line leaves room",
    drawback="Clamps, pins, scrap chutes and grippers must suit the new place.",
    hazard="A die is moved on the crane or on rollers, never with the slide.",
    source=PRACTICE,
    proposals=_proposals,
)

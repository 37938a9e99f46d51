"""Move the die on the table."""

import math
from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.footprint import to_table
from deflect.mechanics.loads import pattern_forces
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
    reach_x, reach_y = case.die.placing.may_move
    if reach_x <= 0 and reach_y <= 0:
        return
    placing = case.die.placing
    x, y = to_table(placing, pattern_forces(case.die.patterns, 1.0).centre[None, :])[0]
    for share in SHARES:
        move_x = _move(-share * float(x), reach_x, case.press, "y")
        move_y = _move(-share * float(y), reach_y, case.press, "x")
        if move_x == 0 and move_y == 0:
            continue
        moved = replace(placing, x=placing.x + move_x, y=placing.y + move_y)
        yield Proposal(
            replace(case, die=replace(case.die, placing=moved)),
            f"{move_x:+d} mm along x, {move_y:+d} mm along y, ".replace("-", "−")
            + "so that the force comes nearer the press's centre",
        )


REMEDY = Remedy(
    id="move-die",
    title="Move the die on the table",
    cures=frozenset({Trouble.OFFSET, Trouble.ROCKING, Trouble.GAP, Trouble.MATCHING}),
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

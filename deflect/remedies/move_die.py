"""Move the die on the table."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.loads import pattern_forces
from deflect.mechanics.standing import to_table
from deflect.sources import PRACTICE

# Shares of the offset that are taken back, the least first.
SHARES = (0.5, 1.0)


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    reach_x, reach_y = case.die.placing.may_move
    if reach_x <= 0 and reach_y <= 0:
        return
    placing = case.die.placing
    x, y = to_table(placing, pattern_forces(case.die.patterns, 1.0).centre[None, :])[0]
    for share in SHARES:
        move_x = round(max(-reach_x, min(reach_x, -share * float(x))))
        move_y = round(max(-reach_y, min(reach_y, -share * float(y))))
        if move_x == 0 and move_y == 0:
            continue
        moved = replace(placing, x=placing.x + move_x, y=placing.y + move_y)
        yield Proposal(
            replace(case, die=replace(case.die, placing=moved)),
            f"{move_x:+d} mm along x, {move_y:+d} mm along y, so that the force comes nearer the press's centre",
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

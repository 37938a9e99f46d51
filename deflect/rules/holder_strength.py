"""Stress in the blank holder, and whether a side of it buckles."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.ring import BUCKLING_RESERVE
from deflect.mechanics.ring_case import ring_of, why_not
from deflect.model.die import Operation
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# From this reserve on none is told apart from another.
MOST = 100.0


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    holder = case.die.blank_holder
    if case.die.operation is not Operation.DRAW or holder is None:
        return NotChecked("no blank holder", applies=False)
    reason = why_not(case)
    if reason:
        return NotChecked(reason)
    ring = ring_of(case)
    permitted = holder.material.permitted_stress
    bent, buckled = ring.stress / permitted, BUCKLING_RESERVE / ring.buckling
    return Reading(
        Interval.exactly(100 * max(bent, buckled)),
        100.0,
        where=f"{ring.stress:.1f} MPa of {permitted:.0f} MPa; a side buckles at {min(ring.buckling, MOST):.3g} times "
        f"{'or more ' if ring.buckling >= MOST else ''}the push of the sheet, {BUCKLING_RESERVE:g} times are asked for",
        note="bending of the ring as a plate; pads, holes and guides in it raise the stress locally",
        certain=True,
    )


RULE = Rule(
    id="holder-strength",
    title="Blank holder's strength",
    question="Does the ring bear its bending, and the push of the sheet that is drawn in, without buckling?",
    trouble=Trouble.HOLDER,
    unit="%",
    formula="the greater of bending stress / permitted stress and 3 x push / (pi^2 E I / s^2), s from pin to pin",
    why="A ring made thin so that it follows the face may crack over its pins or bow between them.",
    source=Source("pinned bar: Euler, from memory; reserve of 3: common practice, no source", Tag.PRACTICE),
    breaks="a ring 25 mm thick on pins a metre apart",
    holds="the same ring 160 mm thick",
    measure=_measure,
)

"""Plan of the die base against the bolster."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.mechanics.mounting import reaches
from deflect.model.case import EDGE_SLACK
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading:
    case = analysis.case
    room = case.press.bolster.plan
    over = reaches(case.die.placing, case.die.base.plan, room)
    side = max(over, key=lambda edge: over[edge])
    reach = over[side]
    return Reading(
        Interval.exactly(max(reach, 0.0)),
        EDGE_SLACK,
        where=f"over the {side} edge" if reach > 0 else f"{-reach:.0f} mm are left to the {side} edge",
        certain=True,
    )


RULE = Rule(
    id="base-on-bolster",
    title="Base on the bolster",
    question="Does the whole die base stand on the bolster, where it is placed and as it is turned?",
    trouble=Trouble.FOOTPRINT,
    unit="mm",
    formula="greatest reach of the placed and turned base over an edge",
    why="What sticks out of the table is not carried, cannot be clamped there, and is run into.",
    source=Source("sizes are written to the millimetre, so half of one is let pass; ours", Tag.OURS),
    breaks="a base of 2800 mm set 700 mm to the right on a bolster of 4000 mm: 100 mm over its edge",
    holds="a base of 2800 mm on the middle of a bolster of 4000 mm",
    measure=_measure,
)

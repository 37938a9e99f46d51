"""Plan of the upper half against the slide."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.mounting import reaches
from deflect.model.case import EDGE_SLACK
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    slide = case.press.slide
    room = None if slide is None else slide.plan
    if room is None:
        return NotChecked.missing(
            {
                "press.slide.length": None if slide is None else slide.length,
                "press.slide.width": None if slide is None else slide.width,
            }
        )
    over = reaches(case.die.placing, case.die.upper_plan, room)
    side = max(over, key=lambda edge: over[edge])
    reach = over[side]
    return Reading(
        Interval.exactly(max(reach, 0.0)),
        EDGE_SLACK,
        where=f"over the {side} edge" if reach > 0 else f"{-reach:.0f} mm are left to the {side} edge",
        certain=True,
    )


RULE = Rule(
    id="upper-on-slide",
    title="Upper half on the slide",
    question="Does the whole upper half lie against the slide, where the die is placed and as it is turned?",
    trouble=Trouble.FOOTPRINT,
    unit="mm",
    formula="greatest reach of the placed and turned upper half over an edge",
    why="What the slide does not back is bent at every stroke and cannot be clamped there.",
    source=Source("sizes are written to the millimetre, so half of one is let pass; ours", Tag.OURS),
    breaks="an upper half of 2800 mm set 700 mm to the right below a slide of 3900 mm: 150 mm over its edge",
    holds="an upper half of 2800 mm below the middle of a slide of 3900 mm",
    measure=_measure,
)

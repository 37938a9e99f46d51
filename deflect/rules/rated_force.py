"""Working force against the press's rated force."""

from deflect.findings import Analysis, Reading, Rule, Saying, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading:
    case = analysis.case
    return Reading(Interval.exactly(case.die.working_force / 1e3), case.press.rated_force / 1e3)


RULE = Rule(
    id="rated-force",
    title="Working force",
    question="Does the die ask for more force than the press is rated for?",
    trouble=Trouble.OVERLOAD,
    unit="kN",
    formula="working force <= rated force",
    why="Above its rated force the press is overloaded, whatever the table does.",
    source=Source("29 CFR 1910.217(d)(6): dies are to be used within the press's tonnage", Tag.PUBLISHED),
    breaks="a die of 12 000 kN on a press rated 10 000 kN",
    holds="a die of 6000 kN on a press rated 10 000 kN",
    measure=_measure,
    trade_says=(
        Saying(
            "a press bears all that is below its rated force",
            ("force-over-height", "force-offset", "bolster-stress", "table-sag"),
        ),
    ),
)

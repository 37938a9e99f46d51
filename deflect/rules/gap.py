"""The greatest gap below the die base."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# A 0.05 mm feeler gauge must not go in anywhere under a die that is well set: common practice.
FEELER = 0.05  # mm


def _measure(analysis: Analysis) -> Reading:
    gap = analysis.spread.gap
    x, y = analysis.solution.greatest_gap_at
    return Reading(
        Interval(gap.low, gap.nominal, gap.high),
        FEELER,
        where=f"at x = {round(x)} mm, y = {round(y)} mm on the base (from its centre)",
    )


RULE = Rule(
    id="gap",
    title="Gap below the die",
    question="Does an air gap open between die base and bolster under force?",
    trouble=Trouble.GAP,
    unit="mm",
    formula="height of the base's underside less height of the bolster's top, where they part",
    why="Over a gap the die hangs free: it bends at every stroke, and the table moves against it.",
    source=Source("a feeler gauge of 0.05 mm must not enter: common practice, no source", Tag.PRACTICE),
    breaks="0.12 mm below the middle of a stiff trim die",
    holds="0.02 mm below the middle of a die whose base follows the table",
    measure=_measure,
)

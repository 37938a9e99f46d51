"""The greatest gap below the die base."""

import numpy as np

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.mechanics.footprint import to_table
from deflect.mechanics.solution import FEELER
from deflect.model.values import Interval, Rectangle
from deflect.sources import Source, Tag

# Nearer to the middle than this share of half the base, a place is told as its middle (ours).
_MIDDLE = 1.0 / 3.0


def _measure(analysis: Analysis) -> Reading:
    gap = analysis.spread.gap
    return Reading(
        Interval(gap.low, gap.nominal, gap.high),
        FEELER,
        where=_where(analysis),
    )


def _where(analysis: Analysis) -> str:
    """The place of the greatest gap in words, with its coordinates on the base."""
    x, y = analysis.solution.greatest_gap_at
    base, case = analysis.case.die.base, analysis.case
    side = "" if abs(x) < _MIDDLE * base.length / 2 else "left" if x < 0 else "right"
    depth = "" if abs(y) < _MIDDLE * base.width / 2 else "front" if y < 0 else "rear"
    place = " ".join(filter(None, (depth, side))) or "middle"
    on_x, on_y = to_table(case.die.placing, np.array([[x, y]]))[0]
    opening = case.press.bed.opening
    over = opening.contains(Rectangle(float(on_x), float(on_y), 0.0, 0.0))
    below = "over the bed opening" if over else "over the land"
    return f"{place} of the base, {below} (x {round(x):+d}, y {round(y):+d} mm from its centre)".replace("-", "−")


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

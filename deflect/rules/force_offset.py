"""Offset of the force centre from the press's centre."""

import math

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.mechanics.footprint import to_table
from deflect.mechanics.loads import pattern_forces
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import show_point

# Where the press file permits nothing else: a tenth of the bolster's extent, common practice.
USUAL_SHARE = 0.1
ROUND_OFF = 1e-6
"""mm: what a sum of forces leaves of a centre at 0."""


def _measure(analysis: Analysis) -> Reading:
    case = analysis.case
    centre = pattern_forces(case.die.patterns, 1.0).centre
    x, y = to_table(case.die.placing, centre[None, :])[0]
    bolster = case.press.bolster
    permitted = case.press.permitted_offset or (USUAL_SHARE * bolster.length, USUAL_SHARE * bolster.width)
    used = math.hypot(_used(float(x), permitted[0]), _used(float(y), permitted[1]))
    return Reading(
        Interval.exactly(100 * used),
        100.0,
        where=f"force centre at {show_point(float(x), float(y))}; "
        f"permitted {permitted[0]:.0f} and {permitted[1]:.0f} mm",
        note="" if case.press.permitted_offset else "permitted offset not stated: a tenth of the bolster is taken",
    )


def _used(off: float, permitted: float) -> float:
    """Share of a permitted offset; where none is permitted, a force in the middle uses none, any other has no end."""
    if abs(off) <= ROUND_OFF:
        return 0.0
    return off / permitted if permitted > 0 else math.inf


RULE = Rule(
    id="force-offset",
    title="Off-centre force",
    question="Does the force act farther from the press's centre than the press permits?",
    trouble=Trouble.OFFSET,
    unit="%",
    formula="sqrt((x / permitted x)^2 + (y / permitted y)^2) of the force centre",
    why="An off-centre force tilts the slide in its guides and loads one side of the bed.",
    source=Source("permission from the press file; a tenth of the bolster: common practice, no source", Tag.PRACTICE),
    breaks="a force centre 500 mm to the right where 400 mm are permitted",
    holds="a force centre 100 mm to the right where 400 mm are permitted",
    measure=_measure,
)

"""Pressure between base and bolster, away from the edges where it is singular."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.sources import Source, Tag

# Pressure that a flat, slotted bolster top and a cast base bear without marking, MPa.
PERMITTED = 60.0


def _measure(analysis: Analysis) -> Reading:
    return Reading(
        analysis.spread.pressure,
        PERMITTED,
        note="the edges of the base are left out: pressures there are singular in any elastic model",
    )


RULE = Rule(
    id="bearing-pressure",
    title="Bearing pressure",
    question="Does the base press harder on the bolster than both bear?",
    trouble=Trouble.PRESSURE,
    unit="MPa",
    formula="contact force of a patch / its bearing area, greatest away from the base's edges",
    why="Where a base stands on few pads the bolster's top is marked, and flatness is gone.",
    source=Source("60 MPa on a slotted steel bolster: common practice, no source", Tag.PRACTICE),
    breaks="10 MN on pads of 0.1 m2 together: 100 MPa",
    holds="10 MN over 3 m2: 3 MPa",
    measure=_measure,
)

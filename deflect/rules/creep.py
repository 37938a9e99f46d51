"""Strokes until creep has used up what the die may shift."""

import math

from deflect.findings import Analysis, Reading, Rule, Saying, Trouble
from deflect.mechanics.cutting import shift_tolerance
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# A die must stand a shift of work between two settings: strokes, common practice.
LEAST_STROKES = 10_000.0
# Creep below a nanometre a stroke is round-off of the march.
NOTHING = 1e-6  # mm


def strokes_until(tolerance: float, creep: float) -> float:
    """Strokes until ``creep`` (mm per stroke) has used up ``tolerance`` (mm), at most ten times the least."""
    return min(tolerance / max(creep, NOTHING), 10 * LEAST_STROKES)


def _measure(analysis: Analysis) -> Reading:
    tolerance, what = shift_tolerance(analysis.case.die)
    creep = analysis.spread.creep
    if analysis.creep.held:
        return Reading(
            Interval.exactly(10 * LEAST_STROKES),
            LEAST_STROKES,
            at_most=False,
            where="held by " + ("keys" if analysis.case.die.placing.keyed else "locating cones"),
            note=f"free it would creep {creep.nominal * 1e3:.1f} µm a stroke; "
            "what holds it takes that force at every stroke",
            certain=True,
        )
    if analysis.creep.march.slides:
        return Reading(
            Interval.exactly(0.0),
            LEAST_STROKES,
            at_most=False,
            where="slides away",
            note="friction does not hold the side thrust at the usual values: there is no creep to speak of, it slides",
        )
    value = Interval(
        math.floor(strokes_until(tolerance, creep.high)),
        math.floor(strokes_until(tolerance, creep.nominal)),
        math.floor(strokes_until(tolerance, creep.low)),
    )
    return Reading(
        value,
        LEAST_STROKES,
        at_most=False,
        where=f"{creep.nominal * 1e3:.2f} µm a stroke ({creep.low * 1e3:.2f} to {creep.high * 1e3:.2f}); "
        f"{tolerance * 1e3:.0f} µm are {what}",
        note="clamps count by their downward force alone, so that this is the upper end of what a clamped die does"
        if analysis.creep.march.steady
        else "the shift per stroke had not settled when the march ended",
    )


RULE = Rule(
    id="creep",
    title="Creep",
    question="How many strokes until the die has crept out of its tolerance?",
    trouble=Trouble.CREEP,
    unit="strokes",
    formula="tolerance / creep per stroke",
    why="What does not slide back at the end of a stroke adds up, until edges or guides meet.",
    source=Source(
        "creep: H. Moseley, Proc. R. Soc. 7 (1855) 333, marched; 10 000 strokes: common practice, no source",
        Tag.PRACTICE,
    ),
    breaks="1.5 µm a stroke where 64 µm may be used up: 42 strokes",
    holds="a keyed die, or one that rests everywhere and breathes no more than it springs",
    measure=_measure,
    trade_says=(Saying("a die that cannot shift is safe", ("gap", "contact", "face")),),
)

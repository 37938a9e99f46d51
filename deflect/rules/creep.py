"""Strokes until creep has used up what the die may shift."""

import math

from deflect.findings import Analysis, Reading, Rule, Saying, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# A die must stand a shift of work between two settings: strokes, common practice.
LEAST_STROKES = 10_000.0


def _capped(strokes: float) -> float:
    """Whole strokes, at most ten times the least."""
    return math.floor(min(strokes, 10 * LEAST_STROKES))


def _measure(analysis: Analysis) -> Reading:
    creep, strokes = analysis.spread.creep, analysis.spread.strokes
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
    return Reading(
        Interval(_capped(strokes.low), _capped(strokes.nominal), _capped(strokes.high)),
        LEAST_STROKES,
        at_most=False,
        where=f"{creep.nominal * 1e3:.2f} µm a stroke ({creep.low * 1e3:.2f} to {creep.high * 1e3:.2f}); "
        f"first {analysis.met.what}",
        note="clamps count by their downward force alone; their bolts are springs that slow it down and may stop it, "
        "which is not counted on"
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

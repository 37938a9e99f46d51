"""Sag of the table under the working force against the press's allowance."""

from deflect.findings import Analysis, Reading, Rule, Saying, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading:
    slope = analysis.spread.sag_slope
    sag = analysis.solution.sag
    acceptance = analysis.case.press.acceptance
    along_x = sag.along_x / sag.reference_length >= sag.along_y / sag.reference_width
    length = sag.reference_length if along_x else sag.reference_width
    axis = "left-right" if along_x else "front-back"
    return Reading(
        Interval(slope.low * 1e3, slope.nominal * 1e3, slope.high * 1e3),
        None if acceptance is None else acceptance.slope * 1e3,
        where=f"{analysis.spread.sag.nominal:.3f} mm over {length:.0f} mm {axis}",
        note="" if acceptance else "the press file states no allowed deflection",
    )


RULE = Rule(
    id="table-sag",
    title="Table sag",
    question="Does the table sag more under this die than the press's maker allows?",
    trouble=Trouble.SAG,
    unit="mm/m",
    formula="sag of the bolster's top between the ends of the reference length / reference length",
    why="A die on a table that sags more than agreed is bent with it or left bridging it.",
    source=Source(
        "allowance from the press file; classes 0.17, 0.125 and 0.083 mm/m (0.002, 0.0015, 0.001 in/ft) are "
        "common practice, no source",
        Tag.PRACTICE,
    ),
    breaks="0.70 mm of sag over 3 m (0.23 mm/m) where 0.17 mm/m is allowed",
    holds="0.30 mm of sag over 3 m (0.10 mm/m) where 0.17 mm/m is allowed",
    measure=_measure,
    trade_says=(Saying("a table within its acceptance figure is flat enough for any die", ("gap", "contact", "face")),),
)

"""How much of the cutting clearance the bending of the die eats."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.cutting import edge_shift
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# Share of the clearance that bending may eat before creep, wear and setting get theirs.
ALLOWED_SHARE = 0.25


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die = analysis.case.die
    if not die.operation.cuts:
        return NotChecked("the die does not cut", applies=False)
    if die.sheet is None:
        return NotChecked("die.sheet (thickness and clearance) is missing")
    shift = edge_shift(analysis.solution)
    scale = 100 / die.sheet.clearance
    face = analysis.spread.face
    ratio_low = face.low / face.nominal if face.nominal > 0 else 1.0
    ratio_high = face.high / face.nominal if face.nominal > 0 else 1.0
    return Reading(
        Interval(shift * scale * min(ratio_low, 1.0), shift * scale, shift * scale * max(ratio_high, 1.0)),
        100 * ALLOWED_SHARE,
        where=f"{shift * 1e3:.1f} um of {die.sheet.clearance * 1e3:.0f} um clearance per side",
        note="lower half alone; the upper half bends too and takes back a part",
    )


RULE = Rule(
    id="cutting-clearance",
    title="Cutting clearance eaten",
    question="How far do the lower cutting edges lean sideways as the die bends?",
    trouble=Trouble.MATCHING,
    unit="%",
    formula="rotation of the base below the cutting line x height of the edge above the base's middle / clearance",
    why="Edges that lean touch on one side before the clearance is used by anything else.",
    source=Source(
        "clearance about a tenth of the sheet's thickness, a quarter of it for bending: common practice, no source",
        Tag.PRACTICE,
    ),
    breaks="edges that lean 40 um where 80 um of clearance stand",
    holds="edges that lean 8 um where 80 um of clearance stand",
    measure=_measure,
)

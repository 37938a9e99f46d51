"""How much of the cutting clearance the bending of the die eats."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.cutting import edge_shift, left_by_upper_half
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# Share of the clearance that bending may eat before creep, wear and setting get theirs.
ALLOWED_SHARE = 0.25


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die = analysis.case.die
    if not die.operation.cuts:
        return NotChecked("the die does not cut", applies=False)
    if die.sheet is None:
        return NotChecked("die.sheet (thickness and clearance) is missing", inputs=("die.sheet",))
    shift = edge_shift(analysis.solution)
    scale = 100 / die.sheet.clearance
    left = left_by_upper_half(shift)
    low, high = left.low, left.high
    return Reading(
        Interval(low * scale, left.nominal * scale, high * scale),
        100 * ALLOWED_SHARE,
        where=f"{low * 1e3:.0f} to {high * 1e3:.0f} µm of {die.sheet.clearance * 1e3:.0f} µm clearance per side",
        note=f"the lower edges lean {shift * 1e3:.0f} µm; how much of it the upper half follows is not modelled",
        certain=True,
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
    breaks="edges that lean 40 µm where 80 µm of clearance stand",
    holds="edges that lean 8 µm where 80 µm of clearance stand",
    measure=_measure,
)

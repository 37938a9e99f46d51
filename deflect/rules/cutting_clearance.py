"""How much of the cutting clearance the bending of the die eats."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.closure import closure_of, ranges_of
from deflect.mechanics.cutting import edge_shift, left_by_upper_half
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import show_point

# Share of the clearance that bending may eat before creep, wear and setting get theirs.
ALLOWED_SHARE = 0.25
# A part of the shift is told from this on, µm.
TOLD = 1.0


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die = analysis.case.die
    if not die.operation.cuts:
        return NotChecked("the die does not cut", applies=False)
    if die.sheet is None:
        return NotChecked("die.sheet (thickness and clearance) is missing", inputs=("die.sheet",))
    scale = 100 / die.sheet.clearance
    ranges, closure = ranges_of(analysis), closure_of(analysis.case)
    if ranges is not None and closure is not None and closure.edges is not None:
        edges, shift = closure.edges, ranges.shift
        x, y = edges.greatest_at
        tilt = f", {edges.tilt * 1e3:.0f} µm of it by tilting" if edges.tilt * 1e3 >= TOLD else ""
        return Reading(
            shift.scaled(scale),
            100 * ALLOWED_SHARE,
            where=f"{edges.greatest * 1e3:.0f} µm of {die.sheet.clearance * 1e3:.0f} µm clearance per side, at "
            f"{show_point(x, y)}{tilt}",
            note="upper edges against lower ones, both halves solved; what the die's own guides hold is not counted",
        )
    lean = edge_shift(analysis.solution)
    left = left_by_upper_half(lean)
    return Reading(
        Interval(left.low * scale, left.nominal * scale, left.high * scale),
        100 * ALLOWED_SHARE,
        where=f"{left.low * 1e3:.0f} to {left.high * 1e3:.0f} µm of {die.sheet.clearance * 1e3:.0f} µm clearance "
        "per side",
        note=f"the lower edges lean {lean * 1e3:.0f} µm; how much of it the upper half follows is not modelled",
        certain=True,
    )


RULE = Rule(
    id="cutting-clearance",
    title="Cutting clearance eaten",
    question="How far do the cutting edges shift sideways against each other as the halves bend?",
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

"""Whether upper and lower face close on the sheet all over."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.closure import bedded_unknown, closure_of, ranges_of
from deflect.mechanics.hanging import described_above, missing_above
from deflect.sources import Source, Tag

# A gap below this is none, mm.
TOLD = 0.0005

UNHELD = "slide and upper half as described do not hold each other: check points, guides and clamps"


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    limits = case.die.limits
    if not any(pattern.bottoms for pattern in case.die.patterns):
        return NotChecked("the faces close solid nowhere", applies=False)
    if not described_above(case):
        return NotChecked.missing(missing_above(case))
    if bedded_unknown(case):
        return NotChecked("the slide of the press that it was bedded in on is not described")
    if case.die.cushion_force > 0 and case.die.blank_holder is None:
        return NotChecked.missing({"die.blank_holder": None})
    closure, ranges = closure_of(case), ranges_of(analysis)
    if closure is None or ranges is None:
        return NotChecked(UNHELD)
    low, high = closure.spread
    left = f"stay open by {closure.greatest_gap:.3f} mm" if closure.greatest_gap > TOLD else "are pressed shut"
    return Reading(
        ranges.camber,
        limits.bedding if case.die.bedded is None else limits.spotting,
        where=f"under force the faces {left} and carry {low:.0f} to {high:.0f} % of an even pressure",
        note="the whole of it: not yet bedded in"
        if case.die.bedded is None
        else f"change since both were bedded in on {case.die.bedded.press.name}",
    )


RULE = Rule(
    id="closure",
    title="Faces close",
    question="Do upper and lower face, as they bend, fit each other under force?",
    trouble=Trouble.CLOSURE,
    unit="mm",
    formula="range of what lower and upper face together are out of their best fit under an even pressure",
    why="Where the faces do not fit, force goes where they meet first: the sheet is squeezed there, and not formed "
    "elsewhere.",
    source=Source("spotting to 0.02 to 0.05 mm: common practice, no source; an input of the die", Tag.PRACTICE),
    breaks="a pair that is out by 0.12 mm on a slide of two points, spotted below one of four",
    holds="the same pair bedded in where it runs",
    measure=_measure,
)

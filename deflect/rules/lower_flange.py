"""Thickness of the lower half's flange against what the clamps take."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    flange, taken = analysis.case.die.lower.flange, analysis.case.press.clamped_thickness
    if flange is None or flange.thickness is None:
        return NotChecked.missing({"die.lower.flange.thickness": None})
    return Reading.between(
        flange.thickness, taken.low, taken.high, where=f"the clamps take {taken.low:.0f} to {taken.high:.0f} mm"
    )


RULE = Rule(
    id="lower-flange",
    title="Flange of the lower half",
    question="Is the flange of the lower half of a thickness that the bolts and clamps at the press take?",
    trouble=Trouble.CLAMPING,
    unit="mm",
    formula="thinnest that the clamps take <= thickness of the flange <= thickest",
    why="On too thick a flange the nut has no thread left; on too thin a one the bolt runs out of thread or bends it.",
    source=Source("40 to 90 mm unless the press file says otherwise: common practice, no source", Tag.PRACTICE),
    breaks="a flange of 120 mm where the clamps take 40 to 90 mm",
    holds="a flange of 70 mm where the clamps take 40 to 90 mm",
    measure=_measure,
)

"""Shear force of the cut against the stated working force."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.cutting import shear_force
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import show_force


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die, rated = analysis.case.die, analysis.case.press.rated_force
    if not die.operation.cuts:
        return NotChecked("the die does not cut", applies=False)
    shear = shear_force(die)
    if shear is None:
        return NotChecked.missing({"die.cutting.length": die.cutting.length, "die.sheet": die.sheet})
    dull = shear.dull
    over = " and the press is rated for" if dull.high > rated else ""
    return Reading(
        Interval.exactly(shear.sharp.nominal / 1e3),
        die.working_force / 1e3,
        where=f"with sharp edges {show_force(shear.sharp.low)} to {show_force(shear.sharp.high)}",
        note=f"dull edges ask for {show_force(dull.nominal)}, up to {show_force(dull.high)}"
        + (f": more than is stated{over}" if dull.high > die.working_force else ""),
        certain=True,
    )


RULE = Rule(
    id="shear-force",
    title="Shear force of the cut",
    question="Is the stated working force at least what the cut asks for?",
    trouble=Trouble.STATED_FORCE,
    unit="kN",
    formula="length of the cut x share cut at once x sheet thickness x 0.8 tensile strength <= working force",
    why="If the cut asks for more than is stated, every other number here is of too small a force.",
    source=Source("shear strength 0.8 of tensile, dull edges 15 to 30 % more: handbooks of cutting", Tag.PUBLISHED),
    breaks="6.2 m of 2 mm sheet of 780 MPa, 7800 kN, where 7000 kN are stated",
    holds="6.2 m of 2 mm sheet of 780 MPa, 7800 kN, where 8800 kN are stated",
    measure=_measure,
)

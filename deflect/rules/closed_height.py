"""Closed height of the die against shut height and adjustment of the press."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.model.die import HEIGHT_DIGITS
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    press, height = analysis.case.press, analysis.case.closed_height
    shut, adjustment = press.shut_height, press.slide_adjustment
    if height is not None and shut is not None and height > shut:
        return Reading(Interval.exactly(height), shut, where=f"the press shuts to {shut:.0f} mm", certain=True)
    if height is None or shut is None or adjustment is None:
        return NotChecked.missing(
            {"die.closed_height": height, "press.shut_height": shut, "press.slide_adjustment": adjustment}
        )
    least = round(shut - adjustment, HEIGHT_DIGITS)
    return Reading.between(height, least, shut, where=f"the press takes {least:.0f} to {shut:.0f} mm")


RULE = Rule(
    id="closed-height",
    title="Closed height",
    question="Does the closed die go between bolster and slide, within the slide's adjustment?",
    trouble=Trouble.HEIGHT,
    unit="mm",
    formula="shut height - adjustment <= closed height, thickest shim and sub-plate included <= shut height",
    why="A die that is too high stops the slide above its lowest point; one that is too low is never closed.",
    source=Source("shut height and adjustment as the press file gives them", Tag.GIVEN),
    breaks="a die of 1300 mm in a press that takes 850 to 1250 mm",
    holds="a die of 1150 mm in a press that takes 850 to 1250 mm",
    measure=_measure,
)

"""Working force against the force that the press permits at the height where it begins."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.mounting import permitted_force
from deflect.model.values import Interval
from deflect.sources import Source, Tag

N_PER_KN = 1e3


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die, curve = analysis.case.die, analysis.case.press.force_over_height
    height = die.force_height
    if height is None or not curve:
        return NotChecked.missing({"die.force_height": height, "press.force_over_height": curve or None})
    permitted = permitted_force(curve, height)
    last = curve[-1]
    if permitted is None and die.working_force <= last.force:
        return NotChecked(
            f"press.force_over_height ends at {last.height:.0f} mm and die.force_height is {height:.0f} mm"
        )
    return Reading(
        Interval.exactly(die.working_force / N_PER_KN),
        (last.force if permitted is None else permitted) / N_PER_KN,
        where=f"{height:.0f} mm above bottom dead centre",
        note="more than at the end of the press's curve, above which less is permitted" if permitted is None else "",
        certain=True,
    )


RULE = Rule(
    id="force-over-height",
    title="Working force at its height",
    question="Does the working force begin higher above bottom dead centre than the press permits?",
    trouble=Trouble.FORCE_OVER_HEIGHT,
    unit="kN",
    formula="working force <= permitted force at its height, straight between the points of the press's curve",
    why="A crank gives its rated force near its lowest point only; higher up the same force overloads the drive.",
    source=Source("permitted force over height as the press file gives it", Tag.GIVEN),
    breaks="8000 kN that begin 25 mm above bottom dead centre, where 5500 kN are permitted",
    holds="8000 kN that begin 5 mm above bottom dead centre, where 10 000 kN are permitted",
    measure=_measure,
)

"""Mass of the die against what the bolster may carry."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag

KG_PER_TONNE = 1e3


def _measure(analysis: Analysis) -> Reading | NotChecked:
    bolster, die = analysis.case.press.bolster, analysis.case.die
    if bolster.permitted_mass is None:
        return NotChecked.missing({"press.bolster.permitted_mass": None})
    lower, upper = die.lower.mass_range, die.upper.mass_range
    plate = 0.0 if bolster.sub_plate is None else bolster.sub_plate.mass
    estimated = [name for name, half in (("lower", die.lower), ("upper", die.upper)) if half.mass_is_estimated]
    return Reading(
        Interval(
            (lower.low + upper.low + plate) / KG_PER_TONNE,
            (lower.nominal + upper.nominal + plate) / KG_PER_TONNE,
            (lower.high + upper.high + plate) / KG_PER_TONNE,
        ),
        bolster.permitted_mass / KG_PER_TONNE,
        where="both halves, on the bolster as it moves in and out"
        if bolster.moving
        else "both halves, while it is set",
        note=f"mass of the {' and '.join(estimated)} half estimated: weigh it" if estimated else "",
        certain=True,
    )


RULE = Rule(
    id="mass-on-bolster",
    title="Mass on the bolster",
    question="Is the die heavier than the bolster may carry?",
    trouble=Trouble.MASS,
    unit="t",
    formula="mass of the lower half + mass of the upper half + mass of a sub-plate",
    why="While it is set the whole die stands on the bolster; a moving one has wheels, lifters and a drive to spare.",
    source=Source("permitted mass as the press file gives it", Tag.GIVEN),
    breaks="a die of 27 t on a moving bolster that may carry 25 t",
    holds="a die of 20 t on a moving bolster that may carry 25 t",
    measure=_measure,
)

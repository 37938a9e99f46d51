"""Heaviest lift of the die against the capacity of the crane at the press."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag

KG_PER_TONNE = 1e3


def _measure(analysis: Analysis) -> Reading | NotChecked:
    capacity, die = analysis.case.press.crane_capacity, analysis.case.die
    if capacity is None:
        return NotChecked.missing({"press.crane_capacity": None})
    lower, upper = die.lower.mass_range, die.upper.mass_range
    scale = 1.0 / KG_PER_TONNE
    estimated = [name for name, half in (("lower", die.lower), ("upper", die.upper)) if half.mass_is_estimated]
    return Reading(
        Interval(
            scale * max(lower.low, upper.low),
            scale * (lower.nominal + upper.nominal),
            scale * (lower.high + upper.high),
        ),
        capacity / KG_PER_TONNE,
        where="from the heavier half alone to both halves in one lift, the tackle below the hook not counted",
        note=f"mass of the {' and '.join(estimated)} half estimated: weigh it" if estimated else "",
        certain=True,
    )


RULE = Rule(
    id="crane-capacity",
    title="Lift on the crane",
    question="Is any lift of the die, each half and both in one, too heavy for the crane at the press?",
    trouble=Trouble.MASS,
    unit="t",
    formula="mass: of the heavier half, up to both halves fastened together",
    why="An overloaded crane drops or sticks; where only both halves in one are too heavy, each is lifted by itself.",
    source=Source(
        "capacity as the press file gives it; a crane's rating covers its own hoisting: common practice, no source",
        Tag.PRACTICE,
    ),
    breaks="a half of 21 t on a crane of 20 t",
    holds="both halves of 16 t together on a crane of 20 t",
    measure=_measure,
)

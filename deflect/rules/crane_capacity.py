"""Heaviest lift of the die against the capacity of the crane at the press."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.lifting import EN_13001_2, USUAL_HOISTING_FACTOR
from deflect.model.values import Interval
from deflect.sources import Source, Tag

KG_PER_TONNE = 1e3


def _measure(analysis: Analysis) -> Reading | NotChecked:
    capacity, die = analysis.case.press.crane_capacity, analysis.case.die
    if capacity is None:
        return NotChecked.missing({"press.crane_capacity": None})
    lower, upper = die.lower.mass_range, die.upper.mass_range
    scale = USUAL_HOISTING_FACTOR / KG_PER_TONNE
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
    formula=f"hoisting factor {USUAL_HOISTING_FACTOR} x mass: the heavier half, up to both halves fastened together",
    why="An overloaded crane drops or sticks; where only both halves in one are too heavy, each is lifted by itself.",
    source=Source(
        f"capacity as the press file gives it; hoisting factor: {EN_13001_2.text}; a crane's rating may cover it",
        Tag.MEMORY,
    ),
    breaks="a half of 19 t, 20.9 t as it is picked up, on a crane of 20 t",
    holds="both halves of 16 t together, 17.6 t as they are picked up, on a crane of 20 t",
    measure=_measure,
)

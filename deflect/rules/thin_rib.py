"""Ribs, walls and skins against the thinnest that can be cast or welded."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.model.case import Case
from deflect.model.ribs import RibPattern
from deflect.model.ring import RingRibs
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    parts = [
        (thickness - ribs.thinnest, thickness, ribs.thinnest, f"{part} of the {body}")
        for body, ribs in _ribbed(case)
        if ribs is not None
        for part, thickness in ribs.parts.items()
    ]
    if not parts:
        return NotChecked("nothing has ribs", applies=False)
    _, thickness, thinnest, where = min(parts)
    return Reading(Interval.exactly(thickness), thinnest, at_most=False, where=where, certain=True)


def _ribbed(case: Case) -> tuple[tuple[str, RibPattern | RingRibs | None], ...]:
    upper, holder, slide = case.die.upper.base, case.die.blank_holder, case.press.slide
    return (
        ("die base", case.die.base.ribs),
        ("upper base", None if upper is None else upper.ribs),
        ("blank holder", None if holder is None else holder.ribs),
        ("bolster", case.press.bolster.ribs),
        ("slide", None if slide is None or slide.body is None else slide.body.ribs),
    )


RULE = Rule(
    id="thin-rib",
    title="Thinnest rib",
    question="Is a rib, wall or skin too thin to be made?",
    trouble=Trouble.RIBS,
    unit="mm",
    formula="thickness of each kind of part - thinnest that can be made, the least of them",
    why="A thin rib of the foam pattern bends or breaks while it is moulded, and iron does not run into it.",
    source=Source(
        "30 to 40 mm in the foam patterns of large dies, 15 mm in weldments, or as the case file gives it: "
        "common practice, no source",
        Tag.PRACTICE,
    ),
    breaks="ribs of 25 mm in a die base of which the foundry casts 30 mm",
    holds="ribs of 40 mm in the same base",
    measure=_measure,
)

"""Mass of the upper half against what may hang from the slide."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag

KG_PER_TONNE = 1e3


def _measure(analysis: Analysis) -> Reading | NotChecked:
    slide, upper = analysis.case.press.slide, analysis.case.die.upper
    if slide is None or slide.permitted_mass is None:
        return NotChecked.missing({"press.slide.permitted_mass": None})
    mass = upper.mass_range
    return Reading(
        Interval(mass.low / KG_PER_TONNE, mass.nominal / KG_PER_TONNE, mass.high / KG_PER_TONNE),
        slide.permitted_mass / KG_PER_TONNE,
        note="mass estimated: weigh it" if upper.mass_is_estimated else "",
        certain=True,
    )


RULE = Rule(
    id="mass-on-slide",
    title="Mass on the slide",
    question="Is the upper half heavier than may hang from the slide?",
    trouble=Trouble.MASS,
    unit="t",
    formula="mass of the upper half",
    why="The counterbalance holds slide and upper half against falling, and the brake stops both.",
    source=Source(
        "permitted mass as the press file gives it; the upper half's weight belongs on the die: "
        "29 CFR 1910.217(d)(6) (published)",
        Tag.PUBLISHED,
    ),
    breaks="an upper half of 14 t on a slide that may carry 12 t",
    holds="an upper half of 9 t on a slide that may carry 12 t",
    measure=_measure,
)

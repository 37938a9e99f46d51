"""Whether the press file agrees with the press's own acceptance figure."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    press = analysis.case.press
    if press.acceptance is None:
        return NotChecked("press.acceptance (allowed deflection) is missing")
    return Reading(
        Interval.exactly(analysis.acceptance_slope * 1e3),
        press.acceptance.slope * 1e3,
        where=f"bare table, rated force over {100 * press.acceptance.loaded_share:.0f} % of its length and width",
        note="at the usual land stiffness, without hold-downs",
    )


RULE = Rule(
    id="acceptance",
    title="Press's acceptance figure",
    question="Does the table as described meet the deflection that was agreed for it?",
    trouble=Trouble.SAG,
    unit="mm/m",
    formula="sag of the bare table at the acceptance test / reference length",
    why="If it does not, the press file or the press is not what it is taken for, and the rest follows from it.",
    source=Source(
        "test with rated force over the middle 60 % or 2/3 of the table: common practice, no source", Tag.PRACTICE
    ),
    breaks="a slab that sags 0.25 mm/m at its test where 0.17 mm/m were agreed",
    holds="a slab that sags 0.12 mm/m at its test where 0.17 mm/m were agreed",
    measure=_measure,
)

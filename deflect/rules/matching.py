"""The match of the two halves: the budget of what brings them apart."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.matching import WHAT_TO_DO, budget
from deflect.model.matching import Fitted
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import show_micrometres


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die = analysis.case.die
    if not die.matching.stated:
        return NotChecked(
            "die.matching is missing: its budget stands in the report with assumed values", applies=die.operation.cuts
        )
    found = budget(analysis)
    sums, worst = found.root_sum_square, found.worst
    notes = [f"{show_micrometres(worst.nominal)} if all lines add up"]
    if die.matching.fitted is Fitted.BY_NUMBERS and not found.measurable:
        notes.append(f"{show_micrometres(found.target)} cannot be measured by these means")
    to_do = f". {WHAT_TO_DO[found.dominating.cause]}" if sums.high > found.target else ""
    return Reading(
        Interval(sums.low * 1e3, sums.nominal * 1e3, sums.high * 1e3),
        found.target * 1e3,
        where=f"{found.at}, most of it {found.dominating.cause.value}",
        note="; ".join(notes) + to_do,
    )


RULE = Rule(
    id="matching",
    title="Match of the halves",
    question="Do the two halves still match in use as they must?",
    trouble=Trouble.MATCHING,
    unit="µm",
    formula="root of the sum of squares of bending, creep or play, thermal growth, measuring and fitting",
    why="Halves that do not match shear their edges, mark the panel, and leave a burr.",
    source=Source("10 to 20 µm for matched halves, root-sum-square: common practice, no source", Tag.PRACTICE),
    breaks="halves machined by numbers over 2 m in a shop whose temperature runs by 2 K: 46 µm of growth alone",
    holds="a keyed die fitted by hand in its press: play and the fitter's film of 5 µm are left",
    measure=_measure,
)

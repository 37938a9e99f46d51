"""Whether the lower half keeps its limits under the force as its faces close, not only as it is stated."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.under_closing import Numbers, UnderClosing, under_closing
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    found = under_closing(analysis)
    if found is None:
        # What is missing for a closing is named where the faces are judged.
        return NotChecked("no closing is solved, or the faces close solid nowhere", applies=False)
    return Reading(found.worst.scaled(100.0), 100.0, where=_told(found), note=_note(found))


def _told(found: UnderClosing) -> str:
    def numbers(of: Numbers) -> str:
        return f"gap {of.gap:.3f} mm, face error {of.face:.3f} mm, contact {100 * of.contact_share:.0f} %"

    return f"on the usual mesh, as it closes: {numbers(found.closed)}; as stated: {numbers(found.stated)}"


def _note(found: UnderClosing) -> str:
    if not found.moved:
        return "the stated patterns tell the same"
    return f"the stated patterns tell otherwise of {' and '.join(found.moved)}"


RULE = Rule(
    id="as-closed",
    title="Force as the faces close",
    question="Does the lower half keep its limits under the force as its faces close, not only as it is stated?",
    trouble=Trouble.CLOSURE,
    unit="%",
    formula="worst of gap, face error, contact share and stress of the base over its limit, solved under the pressure "
    "of the closing",
    why="Where a die bottoms the force goes where the faces meet, whatever was stated; table and die bend by that.",
    source=Source("the limits of gap, face error, contact and stress: common practice, no source", Tag.PRACTICE),
    breaks="a face that is out by 0.04 mm under the force as it closes, 0.03 mm allowed",
    holds="the same die bedded in where it runs, so that it closes as stated",
    measure=_measure,
)

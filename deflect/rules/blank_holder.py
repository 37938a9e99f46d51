"""Whether the blank holder follows the bent face."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.holding import sag_below, share_for_bending
from deflect.mechanics.ring_case import why_not
from deflect.model.die import Operation
from deflect.model.values import Interval
from deflect.sources import Source, Tag

# Share of the cushion's force that may go into bending the ring: what is left must hold the sheet evenly.
PERMITTED_SHARE = 0.3


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die = analysis.case.die
    if die.operation is not Operation.DRAW or die.cushion_force <= 0:
        return NotChecked("no blank holder on a cushion", applies=False)
    if die.blank_holder is None:
        return NotChecked("die.blank_holder (ring, thickness, material) is missing", inputs=("die.blank_holder",))
    sag = sag_below(die.blank_holder, analysis.solution)
    # The ring follows all of the face's bending; of a bedded die the face's range is that of its change alone,
    # which may be nothing at the usual values: the table's range stands in for it.
    bends = analysis.spread.face if die.bedded is None else analysis.spread.sag
    scale = 100 * share_for_bending(die.blank_holder, sag, die.cushion_force)
    low, high = (bends.low / bends.nominal, bends.high / bends.nominal) if bends.nominal > 0 else (1.0, 1.0)
    return Reading(
        Interval(scale * min(low, 1.0), scale, scale * max(high, 1.0)),
        100 * PERMITTED_SHARE,
        where=f"to follow {sag:.3f} mm of face deflection",
        note="the pressure around the ring itself is not computed" if why_not(analysis.case) else "",
    )


RULE = Rule(
    id="blank-holder",
    title="Blank holder follows the face",
    question="Is the blank holder compliant enough to follow the bent face with the force it has?",
    trouble=Trouble.HOLDER,
    unit="%",
    formula="(384/5) E I s / L^4 x girth of the ring / cushion force",
    why="A holder stiffer than its cushion holds the sheet at the ends and lets it go in the middle.",
    source=Source(
        "beam: Timoshenko, Strength of Materials, part I; 30 % for bending: common practice, no source", Tag.PRACTICE
    ),
    breaks="a ring 250 mm thick that must follow 0.1 mm over 2 m on a cushion of 1.8 MN",
    holds="the same ring 120 mm thick",
    measure=_measure,
)

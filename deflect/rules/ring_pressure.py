"""Whether the blank holder presses on the sheet as it is asked to, all round."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.ring_case import ring_of, ring_range, why_not
from deflect.model.die import Operation
from deflect.sources import Source, Tag
from deflect.units import show_point


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    die, holder = case.die, case.die.blank_holder
    springs = holder is not None and holder.carried is not None and holder.carried.springs is not None
    if die.operation is not Operation.DRAW or not (die.cushion_force > 0 or springs):
        return NotChecked("no blank holder that is pressed", applies=False)
    reason = why_not(case)
    if reason:
        return NotChecked(reason)
    assert holder is not None
    assert holder.carried is not None
    ring = ring_of(case)
    x, y = ring.lowest_at
    wanted = "even" if holder.carried.wanted.even else "wanted"
    return Reading(
        ring_range(case).scaled(100.0),
        100 * holder.carried.uneven,
        where=f"least {100 * ring.least:.0f} % of the {wanted} pressure, at {show_point(x, y)}",
        note=f"{ring.force / 1e3:.0f} kN on the sheet" + ("" if springs else ", pins over their scatter"),
        certain=True,  # its range is that of its pins, solved with every ring: no draw of the other inputs is in it
    )


RULE = Rule(
    id="ring-pressure",
    title="Pressure around the ring",
    question="Does the blank holder press on the sheet all round as it is asked to?",
    trouble=Trouble.HOLDER,
    unit="%",
    formula="greatest difference of the pressure, means over 300 mm of the ring, from the wanted one, as a share of it",
    why="Where the ring presses less the sheet runs in and wrinkles; where it presses more it tears.",
    source=Source("30 % either way: common practice, no source; an input of the blank holder", Tag.PRACTICE),
    breaks="a row of pins worn by 0.15 mm below a cushion of 1.4 MN",
    holds="the same pins ground to one height",
    measure=_measure,
)

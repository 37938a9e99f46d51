"""The force that keys, cones and guides take at every stroke, against what they may take."""

import math

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import show_force

PER_CENT = 100.0


def _measure(analysis: Analysis) -> Reading | NotChecked:
    judged = [one for one in analysis.holding if math.isfinite(one.holder.capacity)]
    if not judged:
        return NotChecked("nothing with a stated strength holds the die sideways", applies=False)
    worst = max(judged, key=lambda one: one.force.nominal / one.holder.capacity)
    # Another part may be the worst at an end of the ranges: each end is that of all parts.
    low, high = (max(getattr(one.force, end) / one.holder.capacity for one in judged) for end in ("low", "high"))
    used = Interval(low, worst.force.nominal / worst.holder.capacity, high)
    x, y = worst.holder.place
    return Reading(
        Interval(*(PER_CENT * share for share in (used.low, used.nominal, used.high))),
        PER_CENT,
        where=f"{worst.holder.name}, {math.hypot(x, y):.0f} mm from the middle: {show_force(worst.force.nominal)} of "
        f"{show_force(worst.holder.capacity)}, {show_force(worst.bottom)} at the bottom of the stroke",
        note="the force includes the breathing that the part blocks: nearer to the middle it takes less; "
        "what it may take is an input, from memory unless it is stated",
    )


RULE = Rule(
    id="key-force",
    title="Force on keys and cones",
    question="Do keys, cones and guides bear the force that they take at every stroke?",
    trouble=Trouble.CREEP,
    unit="%",
    formula="greatest force in the steady state / least of flank pressure x area, shear x section, pull-out of a cone, "
    "or permitted side force of a guide",
    why="A key that yields or shears, a cone that climbs out of its seat, a guide that galls: the die is free again, "
    "and nobody sees it.",
    source=Source(
        "the arithmetic of keys: DIN 6892; its limits, and those of cones: from memory; wedge lift of a cone: derived",
        Tag.MEMORY,
    ),
    breaks="a key of 80 x 12 mm with 200 kN where its flanks bear 144 kN",
    holds="a key of 80 x 12 mm with 90 kN",
    measure=_measure,
)

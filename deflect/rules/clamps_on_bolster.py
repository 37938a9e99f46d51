"""Clamping slots of the lower half against the T-slots of the bolster."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.mounting import clamping
from deflect.model.press import LEAST_CLAMPS
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    flange, bolster = case.die.lower.flange, case.press.bolster
    t_slots = bolster.t_slots
    slots, slot_width = (None, None) if flange is None else (flange.slots or None, flange.slot_width)
    room = bolster.plan
    if slots is None or slot_width is None or t_slots is None:
        return NotChecked.missing(
            {
                "die.lower.flange.slots": slots,
                "die.lower.flange.slot_width": slot_width,
                "press.bolster.t_slots": t_slots,
            }
        )
    found = clamping(case.die.placing, slots, slot_width, t_slots, room, bolster.openings)
    return Reading(
        Interval.exactly(float(found.met)),
        float(max(case.press.clamps_required, LEAST_CLAMPS)),
        at_most=False,
        where=f"of {len(slots)} slots of {slot_width:.0f} mm, for bolts of {found.bolt:.0f} mm",
        note=f"bolts of {found.bolt:.0f} mm do not go through the flange's slots" if found.play < 0 else "",
        certain=True,
    )


RULE = Rule(
    id="clamps-on-bolster",
    title="Clamps on the bolster",
    question="Do enough slots in the flange of the lower half meet T-slots of the bolster?",
    trouble=Trouble.CLAMPING,
    unit="clamps",
    formula="flange slots within (slot width - bolt) / 2 of a T-slot's centre line, on the bolster",
    why="A bolt that cannot stand upright in its T-slot does not hold, and a half held by too few comes loose.",
    source=Source(
        "four at least: DGUV Information 209-008 (published); bolts of T-slots of 22 to 42 mm: BS 2485 (published), "
        "of others from memory",
        Tag.PUBLISHED,
    ),
    breaks="eight slots 250 mm apart over T-slots 200 mm apart, two of which meet",
    holds="eight slots 400 mm apart over T-slots 200 mm apart, all of which meet",
    measure=_measure,
)

"""Clamping slots of the upper half against the T-slots of the slide."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.mounting import clamping
from deflect.model.press import LEAST_CLAMPS
from deflect.model.values import Interval
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    flange, slide = case.die.upper.flange, case.press.slide
    t_slots, room = (None, None) if slide is None else (slide.t_slots, slide.plan)
    slots, slot_width = (None, None) if flange is None else (flange.slots or None, flange.slot_width)
    if slots is None or slot_width is None or t_slots is None or room is None:
        return NotChecked.missing(
            {
                "die.upper.flange.slots": slots,
                "die.upper.flange.slot_width": slot_width,
                "press.slide.t_slots": t_slots,
                "press.slide.length": None if slide is None else slide.length,
                "press.slide.width": None if slide is None else slide.width,
            }
        )
    found = clamping(case.die.placing, slots, slot_width, t_slots, room)
    return Reading(
        Interval.exactly(float(found.met)),
        float(max(case.press.clamps_required, LEAST_CLAMPS)),
        at_most=False,
        where=f"of {len(slots)} slots of {slot_width:.0f} mm, for bolts of {found.bolt:.0f} mm",
        note=f"bolts of {found.bolt:.0f} mm do not go through the flange's slots" if found.play < 0 else "",
        certain=True,
    )


RULE = Rule(
    id="clamps-on-slide",
    title="Clamps on the slide",
    question="Do enough slots in the flange of the upper half meet T-slots of the slide?",
    trouble=Trouble.CLAMPING,
    unit="clamps",
    formula="flange slots within (slot width - bolt) / 2 of a T-slot's centre line, on the slide",
    why="A bolt that cannot stand upright in its T-slot does not hold, and a half held by too few comes loose.",
    source=Source(
        "four at least: DGUV Information 209-008 (published); bolts of T-slots of 22 to 42 mm: BS 2485 (published), "
        "of others from memory",
        Tag.PUBLISHED,
    ),
    breaks="slots of 28 mm in the flange where the T-slots take bolts of 30 mm",
    holds="eight slots of 36 mm in the flange, on the lines of T-slots that take bolts of 30 mm",
    measure=_measure,
)

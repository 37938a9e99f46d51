"""Mill slots and flanges to suit the clamps of the press."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.mounting import clamping, onto_slots
from deflect.model.die import Flange, Placing
from deflect.model.press import LEAST_CLAMPS, TSlots
from deflect.model.values import Interval, Rectangle
from deflect.sources import PRACTICE

# What a slot is wider than its bolt, mm; how far a slot may be milled from its place before the flange's ribs
# are in the way, mm (common practice, no source).
PLAY = 6.0
REACH = 120.0


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    press, die = case.press, case.die
    slide, bolster = press.slide, press.bolster
    asked = max(press.clamps_required, LEAST_CLAMPS)
    told: list[str] = []
    flanges: list[Flange | None] = []
    for name, flange, t_slots, room, cuts in (
        ("lower", die.lower.flange, bolster.t_slots, bolster.plan, bolster.openings),
        ("upper", die.upper.flange, None if slide is None else slide.t_slots, slide and slide.plan, ()),
    ):
        suited = flange
        if flange is not None and t_slots is not None and room is not None:
            suited = _slotted(flange, die.placing, t_slots, room, cuts, asked)
        if suited is not None:
            suited = _faced(suited, press.clamped_thickness)
        if suited is not None and flange is not None and suited != flange:
            told.append(f"{name} half: {_said(flange, suited)}")
        flanges.append(suited)
    if told:
        halves = {
            "lower": replace(die.lower, flange=flanges[0]),
            "upper": replace(die.upper, flange=flanges[1]),
        }
        yield Proposal(replace(case, die=replace(die, **halves)), "; ".join(told))


def _slotted(
    flange: Flange, placing: Placing, t_slots: TSlots, room: Rectangle, cuts: tuple[Rectangle, ...], asked: int
) -> Flange:
    """The flange with slots on the lines of the T-slots, wide enough for their bolts, where too few meet now."""
    if flange.slot_width is None or not flange.slots:
        return flange
    if clamping(placing, flange.slots, flange.slot_width, t_slots, room, cuts).met >= asked:
        return flange
    slots = onto_slots(placing, flange.slots, t_slots, REACH)
    return replace(flange, slots=slots, slot_width=max(flange.slot_width, t_slots.bolt_diameter + PLAY))


def _faced(flange: Flange, taken: Interval) -> Flange:
    """The flange with the seats of its bolts milled down to what the clamps take; nobody adds to a thin one."""
    if flange.thickness is None or flange.thickness <= taken.high:
        return flange
    return replace(flange, thickness=taken.high)


def _said(before: Flange, after: Flange) -> str:
    parts = []
    moved = sum(was != now for was, now in zip(before.slots, after.slots, strict=True))
    if moved:
        parts.append(f"{moved} of {len(before.slots)} slots milled anew on the lines of the T-slots")
    if before.slot_width != after.slot_width and after.slot_width is not None:
        parts.append(f"slots widened to {after.slot_width:.0f} mm")
    if before.thickness != after.thickness and after.thickness is not None:
        parts.append(f"seats of the bolts milled down to {after.thickness:.0f} mm")
    return ", ".join(parts)


REMEDY = Remedy(
    id="suit-clamping",
    title="Mill slots and flanges to suit the clamps",
    cures=frozenset({Trouble.CLAMPING}),
    effort="4 to 10 hours on a milling machine, both halves",
    hours=8.0,
    stage=Stage.TRYOUT,
    who="tool room",
    when="before the die is set; ask whoever owns it first",
    drawback="The die keeps the old slots too: mark which belong to which press. Too thin a flange stays too thin.",
    hazard="Nothing is milled from a flange that the designer has not looked at: a weak flange breaks and lets go.",
    source=PRACTICE,
    proposals=_proposals,
)

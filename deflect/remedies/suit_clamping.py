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
    lower, upper = die.lower.flange, die.upper.flange
    below = _suited(lower, die.placing, bolster.t_slots, bolster.plan, bolster.openings, asked)
    above = upper if slide is None else _suited(upper, die.placing, slide.t_slots, slide.plan, (), asked)
    below, above = (_faced(flange, press.clamped_thickness) for flange in (below, above))
    told = [
        f"{name} half: {_said(before, after)}"
        for name, before, after in (("lower", lower, below), ("upper", upper, above))
        if before is not None and after is not None and before != after
    ]
    if told:
        halves = replace(die, lower=replace(die.lower, flange=below), upper=replace(die.upper, flange=above))
        yield Proposal(replace(case, die=halves), "; ".join(told))


def _suited(
    flange: Flange | None,
    placing: Placing,
    t_slots: TSlots | None,
    room: Rectangle | None,
    cuts: tuple[Rectangle, ...],
    asked: int,
) -> Flange | None:
    """The flange with slots on the lines of the T-slots, wide enough for their bolts, where too few meet now."""
    if flange is None or t_slots is None or room is None or flange.slot_width is None or not flange.slots:
        return flange
    if clamping(placing, flange.slots, flange.slot_width, t_slots, room, cuts).met >= asked:
        return flange
    slots = onto_slots(placing, flange.slots, t_slots, REACH)
    return replace(flange, slots=slots, slot_width=max(flange.slot_width, t_slots.bolt_diameter + PLAY))


def _faced(flange: Flange | None, taken: Interval) -> Flange | None:
    """The flange with the seats of its bolts milled down to what the clamps take; nobody adds to a thin one."""
    if flange is None or flange.thickness is None or flange.thickness <= taken.high:
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

"""More clamps on the lower half."""

from collections.abc import Iterator
from dataclasses import replace
from math import hypot

from deflect.findings import Analysis, Proposal, Remedy, Stage, Trouble
from deflect.mechanics.lift_off import LiftBalance, lift_off
from deflect.mechanics.mounting import ROUND_OFF, clamping
from deflect.model.case import Case
from deflect.model.die import Clamp
from deflect.sources import PRACTICE
from deflect.units import show_force

# Force of a clamp where none is there to go by, N: 0.6 of the preload of an M24 bolt of grade 8.8 (188 kN, VDI 2230,
# derived), as a spanner without torque control gives, through a strap of 0.55 (common practice, no source).
USUAL_FORCE = 60e3
# Clamps nearer to each other than this are in each other's way, mm (common practice, no source).
ROOM = 150.0


def _free_places(case: Case) -> tuple[tuple[float, float], ...]:
    """Flange slots that meet a T-slot and have no clamp near, opposite ones together, the outermost first."""
    flange, bolster, placing = case.die.lower.flange, case.press.bolster, case.die.placing
    if flange is None or not flange.slots:
        return ()
    slots = flange.slots
    if bolster.t_slots is not None and flange.slot_width is not None:
        found = clamping(placing, slots, flange.slot_width, bolster.t_slots, bolster.plan, bolster.openings)
        met = zip(slots, found.missed_by, strict=True)
        slots = tuple(slot for slot, miss in met if miss <= found.play + ROUND_OFF)
    free = [
        (x, y) for x, y in slots if all(hypot(x - clamp.x, y - clamp.y) >= ROOM for clamp in placing.clamps)
    ]  # fmt: skip
    return tuple(sorted(free, key=lambda at: (-abs(at[0]), -abs(at[1]), at[0] * at[1] < 0, at[0])))


def _enough(balance: LiftBalance, reserve: float) -> bool:
    return reserve >= balance.required and not balance.short_of_clamps


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    placing, free = case.die.placing, _free_places(case)
    force = min((clamp.force for clamp in placing.clamps), default=USUAL_FORCE)
    usually = False
    for count in range(1, len(free) + 1):
        added = tuple(Clamp(x, y, force) for x, y in free[:count])
        changed = replace(placing, clamps=placing.clamps + added)
        more = replace(case, die=replace(case.die, placing=changed))
        balance = lift_off(more)
        enough = _enough(balance, balance.reserve.low)
        first = not usually and _enough(balance, balance.reserve.nominal)
        usually = usually or first
        # The first that is enough at the usual values, the first that is at worst, or all that there is room for.
        if enough or first or count == len(free):
            yield Proposal(more, _size(added))
        if enough:
            return


def _size(added: tuple[Clamp, ...]) -> str:
    places = ", ".join(f"({clamp.x:.0f}, {clamp.y:.0f})" for clamp in added).replace("-", "−")
    return (
        f"{len(added)} more clamp{'' if len(added) == 1 else 's'} of {show_force(added[0].force)} on the die, "
        f"at x, y from the base's middle, mm: {places}"
    )


REMEDY = Remedy(
    id="more-clamps",
    title="More clamps on the lower half",
    cures=frozenset({Trouble.PICK_UP}),
    effort="a quarter of an hour for each clamp",
    hours=1.0,
    stage=Stage.PRESS,
    who="die setters",
    when="at the next setting, before the first stroke",
    drawback="Every clamp costs time at every setting and bends the flange that it stands on.",
    hazard="Set clamps with the slide blocked and energy locked out. No clamp may form a crush point with the slide or "
    "the upper half. Tighten with a torque wrench, and look at every clamp again after the first strokes.",
    source=PRACTICE,
    proposals=_proposals,
)

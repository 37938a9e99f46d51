"""Whether keys and cones hold the die each way once, and no way twice."""

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.holder_layout import LOCATING, WAYS, layout
from deflect.mechanics.holders import InPlaneHolder, holders_of, keys_of
from deflect.mechanics.locating import key_misses_slot
from deflect.model.values import Interval
from deflect.sources import Source, Tag

ADVICE = (
    "two keys on one line and one cross key near the middle, or one fixed and one floating cone, hold it and let it "
    "breathe; a key holds across its slot only, never down"
)
# Breathing blocked so near the middle is nothing to speak of, mm (ours).
NEAR = 1.0


def _measure(analysis: Analysis) -> Reading | NotChecked:
    case = analysis.case
    if not case.die.placing.held:
        return NotChecked("the die has neither keys nor cones", applies=False)
    parts = [holder for holder in holders_of(case) if holder.kind in LOCATING]
    astray = [k for k, key in enumerate(keys_of(case), start=1) if key_misses_slot(key, case)]
    found = layout(parts)
    told = []
    if not parts:
        told.append("the base and the table leave no free place for the usual keys or cones")
    if found.free and parts:
        told.append(f"free in {found.free} of {WAYS} ways")
    if found.twice:
        told.append(f"{found.twice} more than is needed: they work against each other")
    if found.blocks_breathing:
        told.append("the breathing between parts that hold the same way is blocked, or turns the die")
    told += [f"key {k} does not stand in a T-slot" for k in astray]
    return Reading(
        Interval.exactly(float(max(found.held - found.twice - len(astray), 0))),
        float(WAYS),
        at_most=False,
        where="; ".join([*told, *_farthest(parts)]),
        note=ADVICE if told else "a key holds across its slot only, never down",
        certain=True,
    )


def _farthest(parts: list[InPlaneHolder]) -> list[str]:
    """The part that blocks most of the breathing: the one farthest from the middle along the way that it holds."""
    reach = {part.name: abs(_along(part)) for part in parts if part.direction is not None}
    if not reach:
        return []
    name = max(reach, key=lambda one: reach[one])
    if reach[name] < NEAR:
        return []
    return [f"{name} blocks the breathing {reach[name]:.0f} mm from the middle"]


def _along(part: InPlaneHolder) -> float:
    """How far from the die's middle a part stands along the way that it holds, mm."""
    (x, y), (dx, dy) = part.place, part.direction or (0.0, 0.0)
    return x * dx + y * dy


RULE = Rule(
    id="key-layout",
    title="Layout of keys and cones",
    question="Do keys and cones hold the die each way once, and no way twice?",
    trouble=Trouble.CREEP,
    unit="ways",
    formula="of two shifts and a turn: ways held, less ways held twice, less keys that miss their T-slot",
    why="A part too many works against the others as the base breathes, and takes hundreds of kN; one too few leaves "
    "a way in which the die creeps.",
    source=Source(
        "two keys on one line and a cross key, a fixed and a floating cone: common practice, no source; counting by "
        "the rank of what they hold: derived",
        Tag.PRACTICE,
    ),
    breaks="four keys, two on each of two T-slots: two ways held twice, one not at all",
    holds="two keys on one line along a T-slot, one cross key near the middle",
    measure=_measure,
)

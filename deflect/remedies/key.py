"""Key the die to the table."""

from collections.abc import Iterator
from dataclasses import replace

from deflect.findings import Analysis, Proposal, Remedy, Saying, Stage, Trouble
from deflect.mechanics.cutting import shift_tolerance
from deflect.mechanics.holder_layout import layout
from deflect.mechanics.holders import holders_of
from deflect.mechanics.locating import usual_keys
from deflect.model.case import Case
from deflect.model.holder import USUAL_PLAY, Key, Seat
from deflect.sources import PRACTICE

# Play a side as a share of what the die may shift, at most: a key that bites later than that holds nothing (ours).
_PLAY_SHARE = 0.5


def _proposals(analysis: Analysis) -> Iterator[Proposal]:
    case = analysis.case
    placing = case.die.placing
    if placing.coned or case.press.bolster.takes == "cones" or (placing.keyed and layout(holders_of(case)).suits):
        return
    tolerance, _ = shift_tolerance(case.die)
    keys = usual_keys(case, min(USUAL_PLAY, _PLAY_SHARE * tolerance))
    if not keys:
        return
    die = replace(case.die, placing=replace(placing, keyed=True, keys=keys))
    yield Proposal(replace(case, die=die), _words(case, keys, tolerance))


def _words(case: Case, keys: tuple[Key, ...], tolerance: float) -> str:
    one, other, cross = keys
    seat = "in the T-slot there" if one.seat is Seat.T_SLOT else "in keyways"
    again = "in place of those that are there: " if case.die.placing.keyed else ""
    told = (
        f"{again}two keys on one line, at {one.x:.0f}, {one.y:.0f} and {other.x:.0f}, {other.y:.0f} mm from the middle "
        f"of the base, {seat}; one cross key in a keyway at {cross.x:.0f}, {cross.y:.0f} mm; {one.play * 1e3:.0f} µm "
        f"play a side, less than the {tolerance * 1e3:.0f} µm that may be used up"
    )
    return told.replace(" -", " −")


REMEDY = Remedy(
    id="key",
    title="Key the die to the table",
    cures=frozenset({Trouble.CREEP}),
    effort="4 to 8 hours: mill the key slots, fit the keys",
    hours=6.0,
    stage=Stage.TRYOUT,
    who="tool room",
    when="once the base is machined, or at the press where key slots are there; where the table takes keys",
    drawback="By itself it stops the creep alone; gap, breathing and face error stay. Keys take force at every stroke.",
    hazard="Keys do not hold the die down: a keyed die can still be picked up by the rising slide and dropped, "
    "a danger to feet and hands. Clamp it as the press's maker asks, with four clamps at least, and keep clear.",
    source=PRACTICE,
    proposals=_proposals,
    trade_says=(Saying("a keyed die is safe", ("gap", "contact", "face", "cutting-clearance")),),
)

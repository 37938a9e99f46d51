"""Snap-through of cutting dies."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.snap_through import (
    DAMAGING_SHARE,
    EVENT,
    REVERSE_SHARES,
    SHARE_SOURCE,
    TOLERANCE_SOURCE,
    TOLERATED_SHARE,
    SnapThrough,
    snap_through,
    tolerated_cutting_force,
)
from deflect.model.case import Case
from deflect.sources import Source, Tag
from deflect.units import show_force, show_share


def _say(analysis: Analysis) -> Warned:
    case = analysis.case
    return Warned(
        id="snap-through",
        heading="Snap-through when the sheet parts",
        words=_CUTS if case.die.operation.cuts else (_does_not_cut(case),),
        numbers=_numbers(case) if case.die.operation.cuts else (),
        defer="The press's maker says what reverse force it bears; this is an estimate to ask with, not a measurement.",
        source=Source(f"{TOLERANCE_SOURCE}; {SHARE_SOURCE}", Tag.PRACTICE),
    )


_CUTS = (
    f"As the sheet parts, the stretched press lets go within {EVENT:.0f} ms and pulls its own parts the other way, "
    "harder than most are built for.",
    "The upper half is jerked at every stroke: fasten it for that, and look for loose or cracked fasteners.",
    "Stay out of the way of anything that could work loose and fly.",
)


def _does_not_cut(case: Case) -> str:
    return (
        f"This die is stated to {case.die.operation.value} and not to cut, so that no snap-through is expected; "
        "if it trims or pierces anywhere, have that part of the force looked at."
    )


def _numbers(case: Case) -> tuple[str, ...]:
    force, rated = case.die.working_force, case.press.rated_force
    usual = REVERSE_SHARES[0]
    return (
        *(_line(share, snap_through(force, rated, share)) for share in REVERSE_SHARES),
        f"all of the working force of {show_force(force)} is taken to cut; at {show_share(usual)} the press of "
        f"{show_force(rated)} tolerates cutting with {show_force(tolerated_cutting_force(rated, usual))}",
    )


def _line(share: float, reverse: SnapThrough) -> str:
    if reverse.damaging:
        told = f"too much: damage is expected from {show_share(DAMAGING_SHARE)} on"
    elif reverse.tolerated:
        told = f"within the {show_share(TOLERATED_SHARE)} that most presses tolerate"
    else:
        told = f"above the {show_share(TOLERATED_SHARE)} that most presses tolerate"
    return (
        f"reverse force at {show_share(share)} of the working force: {show_force(reverse.force)}, "
        f"{show_share(reverse.share_of_rated)} of the rated force, {told}"
    )


CAUTION = Caution("snap-through", 7, _say)

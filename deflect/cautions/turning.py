"""Turning a die half over."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import weight
from deflect.mechanics.turning import CENTRE_OF_GRAVITY, hoist_forces, rolling_angle
from deflect.model.die import Half
from deflect.sources import PRACTICE, Source
from deflect.units import show_force, show_length

# How far the centre of gravity may lie from the middle, over the distance of the hoists (ours).
OFF_MIDDLE = 0.1


def _say(analysis: Analysis) -> Warned:
    die = analysis.case.die
    width = die.base.width
    return Warned(
        id="turning",
        heading="Turning a half over: two hoists or a turner, and nobody near",
        words=(
            "A half is turned over by two hoists or on a turner, never tipped over its edge by one hook.",
            "Know where its centre of gravity lies before it leaves the floor; try it a hand's breadth up.",
            "Nobody is near while it turns: past a certain tilt it rolls on by itself and jerks the ropes.",
        ),
        numbers=tuple(
            _line(name, half, width) for name, half in (("lower half", die.lower), ("upper half", die.upper))
        ),
        defer="These are statics of an estimated centre of gravity: local lifting codes and your lifting supervisor "
        "decide how, and whether, a half is turned.",
        source=Source(f"turning: {PRACTICE}; centre of gravity and its place: ours; forces: derived", PRACTICE.tag),
    )


def _line(name: str, half: Half, width: float) -> str:
    height = CENTRE_OF_GRAVITY * half.height
    start, _ = hoist_forces(half.mass, width)
    uneven, _ = hoist_forces(half.mass, width, offset=OFF_MIDDLE * width)
    estimated = " (mass estimated)" if half.mass_is_estimated else ""
    return (
        f"{name}{estimated}: centre of gravity taken at half of its height, {show_length(round(height))}; at the "
        f"start {show_force(start)} on each of two hoists, {show_force(uneven)} on one where it lies a tenth of their "
        f"distance off the middle; in the course of the turn either may hold all of {show_force(weight(half.mass))}; "
        f"on points or an edge level with its underside, {show_length(width)} apart (width of the base), it rolls on "
        f"by itself past {rolling_angle(width, height):.0f} degrees"
    )


CAUTION = Caution("turning", 3, _say)

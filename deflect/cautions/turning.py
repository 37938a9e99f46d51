"""Turning a die half over."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import weight
from deflect.mechanics.masses import HalfMass, lower_mass, upper_mass
from deflect.mechanics.turning import hoist_forces, rolling_angle
from deflect.model.die import Half
from deflect.sources import PRACTICE, Source
from deflect.units import show_force, show_length

# How far the centre of gravity may lie from the middle, over the distance of the hoists (ours).
OFF_MIDDLE = 0.1
# Hoists whose forces differ by less than this share hold alike.
_EVEN = 1e-3


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
            _line(name, half, found, width)
            for name, half, found in (
                ("lower half", die.lower, lower_mass(die)),
                ("upper half", die.upper, upper_mass(die)),
            )
        ),
        defer="These are statics of an estimated centre of gravity: local lifting codes and your lifting supervisor "
        "decide how, and whether, a half is turned.",
        source=Source(f"turning: {PRACTICE}; centre of gravity and its place: ours; forces: derived", PRACTICE.tag),
    )


def _line(name: str, half: Half, found: HalfMass, width: float) -> str:
    off = abs(found.y)
    start, _ = hoist_forces(half.mass, width, offset=off)
    uneven, _ = hoist_forces(half.mass, width, offset=off + OFF_MIDDLE * width)
    estimated = " (mass estimated)" if half.mass_is_estimated else ""
    known = (
        "from its sections"
        if found.sure > 1 - _EVEN
        else f"of {100 * found.sure:.0f} % of the mass by its section, the rest taken as even"
        if found.sure
        else "taken at half of its height"
    )
    each = "each of two hoists" if start * 2 <= weight(half.mass) * (1 + _EVEN) else "the nearer of two hoists"
    return (
        f"{name}{estimated}: centre of gravity {show_length(round(found.height))} over its underside, {known}; at the "
        f"start {show_force(start)} on {each}, {show_force(uneven)} on one where it lies a tenth of their "
        f"distance {'farther ' if off > 0 else ''}off the middle; in the course of the turn either may hold all of "
        f"{show_force(weight(half.mass))}; on points or an edge level with its underside, {show_length(width)} apart "
        f"(width of the base), it rolls on by itself past {rolling_angle(width, found.height):.0f} degrees"
    )


CAUTION = Caution("turning", 3, _say)

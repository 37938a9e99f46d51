"""Where the side thrust comes from.

Four sources, each with its range: a table out of level, on which weight and force
have a part downhill; one-sided cutting, where a trim line that does not close
pushes the lower edges aside; a force centre off the press's centre, which tilts the
slide and lets the upper half lean on the lower one; and what is left of the process
(measured, or an estimate).  A measured thrust stands for all but the slope.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from deflect.mechanics.arrays import Floats
from deflect.mechanics.footprint import to_table, turned
from deflect.mechanics.loads import pattern_forces
from deflect.model.case import Case
from deflect.model.die import Die
from deflect.model.force import Line

# The sources.
SLOPE, CUTTING, OFFSET, REST = "table out of level", "one-sided cutting", "force off the press's centre", "side thrust"

# A push across the heading but for so much, as a share of itself, is taken as it is: no round-off decides its sign.
_ACROSS = 1e-9
# Places are one-sided by shares of this, mm.
_WIDE = 1000.0


@dataclass(frozen=True)
class Drives:
    """What drives the die sideways and what holds it.

    friction: coefficient; slope: table out of level, rad; side_thrust: share of the base's force;
    cutting: sideways share of a cutting force; offset: side thrust per force and per mm that the force is off the
    press's centre, 1/mm; direction: the way of slope and side thrust, rad from +x (bolster axes);
    tangential_give, joint: see friction.py.
    """

    friction: float
    slope: float
    side_thrust: float
    cutting: float
    offset: float
    direction: float
    tangential_give: float
    joint: float


@dataclass(frozen=True, eq=False)
class Leanings:
    """What of a case's forces is one-sided: unbalanced (2,): resultant of a unit push across every cutting line, as
    a share of the base's force; the same while the slide rises; offset (2,): of the force from the press's centre, mm;
    centre, cut (2,): of the force, and of the cutting lines, from the die's middle, mm; apart (2,): of the halves, mm,
    die axes.  All others in bolster axes."""

    unbalanced: Floats
    unbalanced_returning: Floats
    offset: Floats
    centre: Floats
    cut: Floats
    apart: Floats

    @property
    def one_sided(self) -> bool:
        """Whether a thrust one way is another matter than the same the other way."""
        sides = (self.unbalanced, self.unbalanced_returning, self.offset / _WIDE, self.centre / _WIDE, self.apart)
        return any(float(np.abs(side).max()) > _ACROSS for side in sides)

    @staticmethod
    def of(case: Case) -> Leanings:
        return Leanings.placed(case.die, *one_sided(case.die))

    @staticmethod
    def placed(die: Die, down: Floats, up: Floats, centre: Floats, cut: Floats) -> Leanings:
        """Of what ``one_sided`` says of the die alone, where and as the die is placed."""
        placing = die.placing
        return Leanings(
            turned(placing, down),
            turned(placing, up),
            to_table(placing, centre),
            turned(placing, centre),
            turned(placing, cut),
            np.array(die.guide_offset),
        )


def one_sided(die: Die) -> tuple[Floats, Floats, Floats, Floats]:
    """Unbalanced push of the cutting lines and the same on the return (2,), centres of force and of cut (2,), mm, all
    in die axes; see ``Leanings``."""
    down, up = np.zeros(2), np.zeros(2)
    lines = [p for p in die.patterns if isinstance(p, Line)] if die.operation.cuts else []
    for line in lines:
        push = line.share * _push_across(line)
        down, up = down + push, up + line.on_return * push
    centre = pattern_forces(die.patterns, 1.0).centre
    cut = pattern_forces(lines, 1.0).centre if lines else centre
    return down, up, centre, cut


def _push_across(line: Line) -> Floats:
    """Resultant (2,) of a push of 1 across a line, spread evenly along it: chord over length, turned by a right
    angle; nothing for a closed line, whatever its shape (derived: the integral of the normal)."""
    points = np.asarray(line.points)
    length = float(np.hypot(*np.diff(points, axis=0).T).sum())
    chord = points[-1] - points[0]
    return np.array([-chord[1], chord[0]]) / length


def side_thrust(drives: Drives, leanings: Leanings, held: float, working: float, returning: float) -> Floats:
    """Force along x and y and moment on the die (3,), N and N mm.

    held: weight and force that press on the table's slope, N; working, returning: force of either kind, N.  Which
    way one-sided cutting and a tilted slide push is not known: they are taken to push along with the rest.  What
    the force brings acts at its centre, a cut's push at its lines, the weight's part of the slope at the die's middle.
    """
    parts = thrust_by_source(drives, leanings, held, working, returning)
    weight = 1.0 - (working + returning) / held if held > 0 else 1.0
    at_force = parts[OFFSET] + parts[REST] + (1.0 - weight) * parts[SLOPE]
    turning = _moment(leanings.centre, at_force) + _moment(leanings.cut, parts[CUTTING])
    return np.append(sum(parts.values(), np.zeros(2)), turning)


def _moment(place: Floats, force: Floats) -> float:
    return float(place[0] * force[1] - place[1] * force[0])


def thrust_by_source(
    drives: Drives, leanings: Leanings, held: float, working: float, returning: float
) -> dict[str, Floats]:
    """The parts of the side thrust, along x and y (2,), N; see ``side_thrust``."""
    heading = np.array([np.cos(drives.direction), np.sin(drives.direction)])
    force = working + returning
    cut = drives.cutting * (leanings.unbalanced * working + leanings.unbalanced_returning * returning)
    return {
        SLOPE: heading * drives.slope * held,
        CUTTING: _towards(cut, heading),
        OFFSET: _towards(drives.offset * force * leanings.offset, heading),
        REST: heading * drives.side_thrust * force,
    }


def _towards(push: Floats, heading: Floats) -> Floats:
    return push if push @ heading >= -_ACROSS * float(np.hypot(*push)) else -push

"""What holds the die sideways, part by part, read off an analysis once for every output."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from deflect.findings import Analysis
from deflect.mechanics.cutting import shift_tolerance
from deflect.mechanics.holders import InPlaneHolder, holders_of, seats_of
from deflect.mechanics.meeting import farthest
from deflect.mechanics.slipping import Slipping, slipping_of
from deflect.mechanics.stroke import BETWEEN, straps_of
from deflect.model.values import Interval
from deflect.report.headlines import NOTHING
from deflect.report.strokes import slides_somewhere
from deflect.report.wording import figure, force, whole

# A die that slides nowhere more than this has no neutral point to speak of, mm.
_STILL = 1e-4
# A part counts as far from the neutral point from this share of the base's longer half on (ours).
_FAR = 0.2
# Creep that has fallen to this share of the free die's has ended.
_ENDED = 0.01
# Components of a direction below this are none.
_NONE = 1e-6


@dataclass(frozen=True)
class Holding:
    """One part that holds the die, and what it takes in the steady state.

    force: greatest within a stroke, N; None: there is no steady state; bottom: at the bottom of the stroke, N;
    capacity: N, None: none is stated (of a clamp: where its strap slips); distance: from the neutral point, mm;
    breathing: at its place within a stroke, mm, None: not followed.
    """

    holder: InPlaneHolder
    force: Interval | None
    bottom: float | None
    distance: float | None
    breathing: float | None

    @property
    def capacity(self) -> float | None:
        """What it may take, or where it slips, N."""
        most = min(self.holder.capacity, self.holder.limit)
        return most if math.isfinite(most) else None

    @property
    def reserve(self) -> float | None:
        """Share of the capacity that the greatest force of the range leaves; below zero: it is overrun."""
        if self.force is None or not self.capacity:
            return None
        return 1.0 - self.force.high / self.capacity

    @property
    def overrun(self) -> bool:
        """Whether it takes more than it may; a strap that slips does no harm."""
        return self.holder.kind != "clamp" and self.reserve is not None and self.reserve < 0

    @property
    def told(self) -> str:
        """Its force in one line: "3.7 kN (212 N to 17.2 kN) at every stroke, of 144 kN that it may take"."""
        if self.force is None:
            return "withheld"
        told = force(self.force.nominal) if self.force.nominal else "nothing"
        if self.force.high > self.force.low:
            told += f" ({force(self.force.low)} to {force(self.force.high)})"
        return f"{told} at every stroke" + (f", of {force(self.capacity)} that it may take" if self.capacity else "")

    @property
    def way(self) -> str:
        """How it holds, in words."""
        return way_held(self.holder)


def way_held(holder: InPlaneHolder) -> str:
    """The way in which a part holds the die."""
    if holder.kind == "clamp":
        return "any way, until its strap slips"
    if holder.direction is None:
        return "any way"
    x, y = holder.direction
    if abs(y) < _NONE:
        line = "left to right"
    elif abs(x) < _NONE:
        line = "front to rear"
    else:
        line = f"{whole(math.degrees(math.atan2(y, x)))}° from +x"
    return f"{line} only"


def held_slipping(analysis: Analysis) -> Slipping | None:
    """How the patches slide within a stroke of the die as it is held; of the free one where nothing holds it."""
    march = analysis.creep.march if analysis.held is None else analysis.held.march
    return slipping_of(analysis.creep.course, march)


def holdings(analysis: Analysis) -> tuple[Holding, ...]:
    """Every part that holds the die: straps of clamps, keys, cones, guides."""
    holders, held = holders_of(analysis.case), analysis.held
    slipping = held_slipping(analysis)
    neutral = None if slipping is None or slipping.slid.max() < _STILL else slipping.neutral
    grips = {one.holder.name: one for one in analysis.holding}
    straps = _straps(analysis, holders)
    found = []
    for holder in holders:
        distance = None if neutral is None else float(math.dist(holder.place, neutral))
        taken: Interval | None = None
        bottom = breathing = None
        if holder.name in straps:
            most, bottom = straps[holder.name]
            taken = Interval.exactly(most)
        elif holder.name in grips and held is not None and not held.march.slides:
            grip = grips[holder.name]
            taken = grip.force if math.isfinite(grip.force.high) else Interval.exactly(grip.force.nominal)
            bottom, breathing = grip.bottom, grip.breathing
        found.append(Holding(holder, taken, bottom, distance, breathing))
    return tuple(found)


def _straps(analysis: Analysis, holders: tuple[InPlaneHolder, ...]) -> dict[str, tuple[float, float]]:
    """Greatest force on each strap within the last stroke, and that at its bottom, N."""
    held, course = analysis.held, analysis.creep.course
    if held is None or held.march.slides:
        return {}
    n = len(course.places)
    rubbing = np.array([np.hypot(*step.friction[n:].T) for step in held.march.last])
    bottom = rubbing[BETWEEN * course.bottom - 1]
    return {one.name: (float(rubbing[:, k].max()), float(bottom[k])) for k, one in enumerate(straps_of(holders))}


def too_far_out(analysis: Analysis, parts: tuple[Holding, ...]) -> str:
    """What to do about a stiff key or cone far from the neutral point that takes most; empty: nothing."""
    stiff = [one for one in parts if one.holder.kind in ("key", "cone") and one.force is not None]
    if not stiff:
        return ""
    worst = max(stiff, key=lambda one: one.force.nominal if one.force else 0.0)
    base = analysis.case.die.base
    if worst.force is None or worst.force.nominal <= 0 or worst.distance is None or worst.breathing is None:
        return ""
    if worst.distance < _FAR * max(base.length, base.width) / 2 or worst.breathing <= 2 * worst.holder.play:
        return ""
    return (
        f"{worst.holder.name} takes most: it stands {worst.distance:.0f} mm from the neutral point and blocks the "
        "breathing there. Nearer to the middle it takes less."
    )


def seats(analysis: Analysis) -> tuple[str, ...]:
    """What cones that stand too high for the base take of the force on it."""
    told = []
    for name, seat in seats_of(analysis.case).items():
        left = f"; {figure(seat.gap, 'mm')} of gap are left beside it" if seat.gap > 0 else ""
        told.append(
            f"{name} stands too high for the base: before the base sits it carries alone, and it takes "
            f"{force(seat.force)} of the force at the bottom, {figure(100 * seat.share, '%')}{left}. "
            "Bodies taken as rigid: where the base must bend it is more."
        )
    return tuple(told)


def withheld(analysis: Analysis) -> str:
    """Why no forces of keys, cones and guides are told; empty: they are."""
    if analysis.held is None and analysis.creep.march.slides:
        return (
            "Friction does not hold the die at the usual values: its strokes come to no steady state, and what its "
            "parts would take is withheld."
        )
    if analysis.held is None:
        return "The strokes of the die as it is held were not followed."
    if analysis.held.march.slides:
        return "The die slides away as it is held: there is no steady state, and what its parts would take is withheld."
    return ""


def unsettled(analysis: Analysis) -> str:
    """Said where shift and forces had not settled when the march ended; empty: they had, or nothing is told."""
    if analysis.held is None or withheld(analysis) or analysis.held.march.steady:
        return ""
    return (
        f"Shift and forces had not quite settled when the march ended after {analysis.held.march.at[-1]:.0f} strokes, "
        f"{analysis.held.march.strokes} of them solved: they are those of the last stroke."
    )


def beyond(analysis: Analysis) -> str:
    """Said where the ranges reach to a die that friction alone does not hold; empty: they do not."""
    if not analysis.holding or withheld(analysis):
        return ""
    if not slides_somewhere(analysis) and all(math.isfinite(one.force.high) for one in analysis.holding):
        return ""
    return (
        "At an end of the ranges friction alone does not hold the die. The forces there are greater than any told here."
    )


def clamped(analysis: Analysis, parts: tuple[Holding, ...]) -> str:
    """What clamps alone do to the creep, in short; empty where there are none."""
    if not parts:
        return ""
    who = "One clamp holds" if len(parts) == 1 else f"Nothing but its {len(parts)} clamps holds"
    begin = f"{who} the die: friction below the straps, and bolts that bend."
    if (reason := withheld(analysis)) or analysis.held is None:
        return f"{begin} {reason}"
    march, (tolerance, what) = analysis.held.march, shift_tolerance(analysis.case.die)
    gone = farthest(analysis.case, march.path[-1])
    if not march.steady or np.hypot(*march.shift[:2]) > max(_ENDED * analysis.creep.free, NOTHING):
        return f"{begin} They slow the creep down, yet do not end it within {march.at[-1]:.0f} strokes."
    much = "less than" if gone < tolerance else "more than"
    return (
        f"{begin} At the usual values the bolts end the creep, but only once it has come to {figure(gone, 'mm')}, "
        f"{much} the {figure(tolerance, 'mm')} that it may shift ({what})."
    )

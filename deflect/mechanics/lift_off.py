"""Whether the rising slide can pick the lower half up: what pulls it up, what holds it down; arithmetic only."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from deflect.mechanics.bolts import clamp_force
from deflect.mechanics.cutting import shear_force
from deflect.mechanics.lifting import weight
from deflect.model.case import Case
from deflect.model.die import Die
from deflect.model.press import LEAST_CLAMPS
from deflect.model.values import Interval
from deflect.units import show_area, show_force, show_share

# Pressure of the air, MPa: the standard atmosphere (10th CGPM, 1954, published).
ATMOSPHERE = 0.101325
# A reserve above this says no more than that next to nothing pulls (ours).
MOST_RESERVE = 100.0


@dataclass(frozen=True)
class Pull:
    """One force on the lower half on the return stroke, N: what it comes from, and how it comes about."""

    source: str
    force: Interval
    how: str


@dataclass(frozen=True)
class LiftBalance:
    """What pulls the lower half up, all at once, and what holds it down.

    located: what holds it sideways and does not hold it down ("keys", "locating cones", or nothing);
    required: least reserve; clamps: how many there are; clamps_asked: the greater of what the press's maker asks
    for and of four (DGUV Information 209-008, published).
    """

    pulls: tuple[Pull, ...]
    holds: tuple[Pull, ...]
    located: str
    required: float
    clamps: int
    clamps_asked: int

    @property
    def pull(self) -> Interval:
        """N, upwards."""
        return total(one.force for one in self.pulls)

    @property
    def holding(self) -> Interval:
        """N, downwards."""
        return total(one.force for one in self.holds)

    @property
    def reserve(self) -> Interval:
        """Holding force over pull: least holding over greatest pull, usual over usual, and the other way round."""
        pull, holding = self.pull, self.holding
        return Interval(
            _over(holding.low, pull.high), _over(holding.nominal, pull.nominal), _over(holding.high, pull.low)
        )

    @property
    def unheld(self) -> bool:
        """Whether it is located but not clamped, and the pull may exceed its weight."""
        return bool(self.located) and self.clamps == 0 and self.pull.high > self.holding.low

    @property
    def short_of_clamps(self) -> bool:
        """Whether it has fewer clamps than are asked for."""
        return self.clamps < self.clamps_asked

    @property
    def greatest(self) -> Pull:
        """The source that can pull hardest."""
        return max(self.pulls, key=lambda one: one.force.high)


def lift_off(case: Case) -> LiftBalance:
    """The balance of a die on a press as the slide rises."""
    die = case.die
    placing = die.placing
    mass = die.lower.mass_range
    forces = [clamp_force(clamp) for clamp in placing.clamps]
    clamps = Interval(*(sum(getattr(force, end) for force in forces) for end in ("low", "nominal", "high")))
    return LiftBalance(
        pulls=_pulls(die),
        holds=(
            Pull(
                "weight of the lower half",
                Interval(weight(mass.low), weight(mass.nominal), weight(mass.high)),
                "mass × 9.81 m/s²" + (", the mass estimated" if die.lower.mass_is_estimated else ""),
            ),
            Pull("clamps", clamps, f"{len(placing.clamps)} clamps, their force on the die"),
        ),
        located="locating cones" if placing.coned else "keys" if placing.keyed else "",
        required=die.lift_off.required,
        clamps=len(placing.clamps),
        clamps_asked=max(case.press.clamps_required, LEAST_CLAMPS),
    )


def cutting_force(die: Die) -> tuple[Interval, str]:
    """The force of the whole cut, N, and what it is: sheared (sharp to dull) where that is known, else the working
    force.  Stepped edges are stripped all at once, whatever was cut at one moment."""
    if not die.operation.cuts:
        return Interval.exactly(0.0), "nothing is cut"
    shear = shear_force(replace(die, cutting=replace(die.cutting, at_once=1.0)))
    if shear is None:
        whole = die.working_force / die.cutting.at_once
        return Interval.exactly(whole), f"{show_force(whole)}, all of the working force: the cut's length is not known"
    force = Interval(shear.sharp.low, shear.sharp.nominal, shear.dull.high)
    return force, f"the shear force of {show_force(force.nominal)}, up to {show_force(force.high)} with dull edges"


def vacuum(area: float, share: float = 1.0) -> float:
    """Pull in N of the air on an area in mm2 that seals, at a share of one atmosphere."""
    return ATMOSPHERE * area * share


def _pulls(die: Die) -> tuple[Pull, ...]:
    given = die.lift_off
    cut, what = cutting_force(die)
    suction = Interval(*(vacuum(given.sealed_area, s) for s in _ends(given.suction)))
    return (
        Pull(
            "stripping",
            product(cut, given.stripping, given.reaching),
            f"{_span(given.stripping)} of {what}; {_span(given.reaching)} of that reaches the lower half"
            if cut.high > 0
            else what,
        ),
        Pull("seized guides", given.guides, "as stated or assumed"),
        Pull("stuck panel", given.stuck_panel, "as stated or assumed"),
        Pull(
            "vacuum",
            suction,
            f"{_span(given.suction)} of one atmosphere (101 kN/m²) on {show_area(given.sealed_area)}",
        ),
    )


def product(first: Interval, *others: Interval) -> Interval:
    """Of figures that are not negative: low times low, usual times usual, high times high."""
    low, nominal, high = first.low, first.nominal, first.high
    for one in others:
        low, nominal, high = low * one.low, nominal * one.nominal, high * one.high
    return Interval(low, nominal, high)


def total(parts: Iterable[Interval]) -> Interval:
    """End by end."""
    low = nominal = high = 0.0
    for one in parts:
        low, nominal, high = low + one.low, nominal + one.nominal, high + one.high
    return Interval(low, nominal, high)


def _over(holding: float, pull: float) -> float:
    return MOST_RESERVE if pull * MOST_RESERVE <= holding else holding / pull


def _ends(figure: Interval) -> tuple[float, float, float]:
    return figure.low, figure.nominal, figure.high


def _span(share: Interval) -> str:
    if share.is_exact:
        return show_share(share.nominal)
    return f"{show_share(share.low)} to {show_share(share.high)}"

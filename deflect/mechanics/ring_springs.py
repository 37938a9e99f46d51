"""The gas springs below a blank holder: their best setting, and what happens when one leaks."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import lsq_linear

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, symmetric
from deflect.mechanics.contact import solve_contact
from deflect.mechanics.ring import Shape, face_give, flat, on_springs, pressed_ring, ring_body, wanted_pressure
from deflect.model.die import Die
from deflect.model.ring import GasSprings

# Weight of the forces' sum against the pressures in the search of a setting: it is kept to about a ten thousandth.
_KEPT = 1e3


@dataclass(frozen=True)
class Leak:
    """What happens when one spring leaks: which, force of the ring left as a share, its tilt (rad), lowest and most
    uneven pressure as shares of what was wanted before."""

    number: int
    force: float
    tilt: float
    least: float
    uneven: float


def best_setting(die: Die, shape: Shape = flat) -> tuple[float, ...] | None:
    """The forces of the gas springs, N, that bring the ring pressure nearest to what is wanted; None: there are none,
    or one line sets them all.

    The ring is solved with every contact closed, so that pressure follows force in proportion; least squares within
    what a spring may be set to, their sum kept.
    """
    holder = die.blank_holder
    if holder is None or holder.carried is None or holder.carried.springs is None or holder.carried.springs.coupled:
        return None
    springs = holder.carried.springs
    total, n = springs.total, len(springs.springs)
    even = _pressures(die, springs.with_forces((total / n,) * n), shape)
    parts = []
    step = total / n
    for k in range(n):
        forces = [total / n] * n
        forces[k] += step
        parts.append(_pressures(die, springs.with_forces(tuple(forces)), shape) - even)
    target = wanted_pressure(ring_body(holder), holder.carried.wanted, total)
    response = np.column_stack(parts) / step
    scale = float(np.abs(target).mean())
    # The sum is kept by a row of its own that outweighs the others.
    held = np.vstack([response / scale, np.full((1, n), _KEPT / total)])
    asked = np.append((target - even + response @ np.full(n, total / n)) / scale, _KEPT)
    found = lsq_linear(held, asked, bounds=(0.0, springs.most)).x
    return tuple(float(force) for force in found)


def _pressures(die: Die, springs: GasSprings, shape: Shape) -> Floats:
    """Pressure of each station (s,), MPa, with every contact held shut."""
    holder = die.blank_holder
    assert holder is not None
    body = ring_body(holder)
    rows, load = -body.rows, on_springs(body, springs)
    solved = solve_contact(
        symmetric(rows @ body.answer) + np.diag(face_give(die, holder) / body.patches.area),
        rows @ body.plate.rigid,
        -shape(body.patches.centre) + rows @ body.unheld(load),
        -(body.plate.rigid.T @ load),
        np.ones(body.patches.area.size, dtype=bool),
    )
    return np.asarray(body.mean @ (solved.force / body.patches.area))


def leaks(die: Die, shape: Shape = flat) -> tuple[Leak, ...]:
    """What happens when each spring in turn has no pressure left; springs on one line lose theirs together, so that
    none is told here."""
    holder = die.blank_holder
    if holder is None or holder.carried is None or holder.carried.springs is None or holder.carried.springs.coupled:
        return ()
    carried, springs = holder.carried, holder.carried.springs
    sound = pressed_ring(die, shape)
    told = []
    for number in range(len(springs.springs)):
        forces = tuple(0.0 if k == number else s.force for k, s in enumerate(springs.springs))
        left = replace(holder, carried=replace(carried, springs=springs.with_forces(forces)))
        try:
            ring = pressed_ring(replace(die, blank_holder=left), shape)
        except MechanicsFailed:
            told.append(Leak(number, 0.0, np.inf, 0.0, np.inf))
            continue
        share = ring.body.mean @ ring.pressure / sound.wanted
        told.append(
            Leak(
                number,
                ring.force / sound.force,
                float(np.hypot(*(ring.tilt - sound.tilt))),
                float(share.min()),
                float(np.abs(share - 1).max()),
            )
        )
    return tuple(told)

"""Beams that touch, lift and stack: closed forms, against narrow plates in unilateral contact.

Strips have nu = 0 and a thickness of 1/500 of their length: shear is below 0.01 %.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache, partial

import numpy as np
import scipy.sparse as sparse

from deflect.checks.bench.grounded import Grounded, across, ground, strip
from deflect.checks.bench.plates import SIDE, YOUNG, even_pressure
from deflect.checks.check import Check, Row
from deflect.mechanics.arrays import Floats
from deflect.mechanics.contact import solve_contact
from deflect.sources import Source, Tag

ORDER, HEADING = 80, "Beams that touch, lift and stack"
_CONTACT = "deflect.mechanics.contact.solve_contact"
LENGTH, WIDTH, THICKNESS = SIDE, 50.0, 2.0
EI = YOUNG * WIDTH * THICKNESS**3 / 12
# The solver wants a layer in every contact: a millionth of the strip's own compliance.
LAYER = 1e-6 * LENGTH**3 / (48 * EI)
GAP = 1.0
FIRST_TOUCH = 384 * EI * GAP / (5 * LENGTH**4)
_ELEMENTS = 100


@dataclass(frozen=True, eq=False)
class _Floored:
    place: Floats
    spacing: float
    state: Grounded

    @property
    def force(self) -> Floats:
        return self.state.solved.force


def _on_floor(load: float, gap: float = 0.0, lift: tuple[float, float] | None = None, held: bool = False) -> _Floored:
    """A strip under an even load (N/mm) over a rigid floor; lift: place and size of a pull up; held: at its ends."""
    plate = strip(LENGTH, WIDTH, THICKNESS, _ELEMENTS)
    place = np.linspace(-LENGTH / 2, LENGTH / 2, _ELEMENTS + 1)
    total = even_pressure(plate, load / WIDTH)
    if lift is not None:
        total = total + across(plate, np.array([lift[0]])).T @ np.array([lift[1]])
    room, bilateral = np.full(place.size, gap), np.zeros(place.size, dtype=bool)
    if held:
        room[[0, -1]], bilateral[[0, -1]] = 0.0, True
    layer = np.full(place.size, LAYER)
    state = ground(plate, across(plate, place), total, layer, room, bilateral, plate.rigid[:, :2])
    return _Floored(place, float(place[1] - place[0]), state)


def _touching(share: float, touches: int) -> Sequence[Row]:
    load = share * FIRST_TOUCH
    beam = _on_floor(load, GAP, held=True)
    floor = beam.force[1:-1]
    count = int((floor > 0).sum())
    rows = [Row("points that touch (3: more than two)", touches, min(count, 3), 0.0, absolute=True)]
    if touches == 1:
        exact = 48 * EI / LENGTH**3 * (5 * load * LENGTH**4 / (384 * EI) - GAP)
        total = load * LENGTH
        rows.append(Row("force of the point over the load", exact / total, floor.max() / total, 1e-3, absolute=True))
    return rows


def _lying(free_span: float) -> Sequence[Row]:
    span = free_span * LENGTH
    load = 24 * EI * GAP / span**4
    beam = _on_floor(load, GAP, held=True)
    force, place = beam.force, beam.place
    first = 1 + int(np.flatnonzero(force[1:-1] > 0)[0])
    middle = np.abs(place) < LENGTH / 2 - span - 3.5 * beam.spacing
    left = place < 0
    # The rest of its half is the rim's force and the load that lies on the same ports.
    rim = force[1:][left[1:] & ~middle[1:]].sum() - load * (place[middle][0] - beam.spacing / 2 + LENGTH / 2 - span)
    return (
        Row("free span over length", free_span, (place[first] + LENGTH / 2) / LENGTH, 1 / _ELEMENTS, absolute=True),
        Row("force of the end, q s", 0.5, float(force[0]) / (load * span), 0.01),
        Row("force of the rim, q s", 0.5, float(rim) / (load * span), 0.01),
        Row("pressure where it lies, q", 1.0, float(force[middle].mean()) / (load * beam.spacing), 0.02),
    )


def _lifted_middle(lifted: float) -> Sequence[Row]:
    weight, reach = 1.0, lifted * LENGTH
    beam = _on_floor(weight, lift=(0.0, 4 * weight * reach / 3))
    touching = np.abs(beam.place[beam.force > 0]).min()
    exact = weight * reach**4 / (72 * EI)
    return (
        Row("lifted half over length", lifted, touching / LENGTH, 1 / _ELEMENTS, absolute=True),
        Row("height, q s^4/(72 EI)", 1.0, beam.state.height.max() / exact, 0.01),
    )


def _lifted_end(lifted: float) -> Sequence[Row]:
    weight, reach = 1.0, lifted * LENGTH
    beam = _on_floor(weight, lift=(-LENGTH / 2, weight * reach / 2))
    touching = (beam.place[beam.force > 0] + LENGTH / 2).min()
    exact = weight * reach**4 / (24 * EI)
    return (
        Row("lifted part of the length", lifted, touching / LENGTH, 1 / _ELEMENTS, absolute=True),
        Row("height, q s^4/(24 EI)", 1.0, beam.state.height[0] / exact, 0.01),
    )


@dataclass(frozen=True, eq=False)
class _Stack:
    """Deflection of the lower strip at mid and gap there, p L^4/EI2; contact forces, N."""

    lower: float
    gap: float
    force: Floats


REACH = 0.2 * LENGTH  # half the upper strip's length
PRESSED = 1.0  # N/mm on the upper strip
UNIT = PRESSED * LENGTH**4 / EI
# The upper strip's stiffness over the lower one's, below which the gap at mid closes: derived.
LIMIT = 5 * 0.2 / (6 * (1.0 - 0.4))


@lru_cache(maxsize=8)
def _stacked(stiffness_ratio: float, elements: int = 40) -> _Stack:
    """The upper strip (EI1 = ratio EI2, length 0.4 L) pressed evenly, the lower one held at its ends."""
    lower = strip(LENGTH, WIDTH, THICKNESS, elements)
    upper = strip(2 * REACH, WIDTH, THICKNESS * stiffness_ratio ** (1 / 3), elements)
    place = np.linspace(-REACH, REACH, 2 * elements + 1)
    above, n = across(upper, place), place.size
    on_lower = sparse.vstack([-across(lower, place), across(lower, np.array([-LENGTH / 2, LENGTH / 2]))]).tocsr()
    load = even_pressure(upper, PRESSED / WIDTH)
    answer = lower.respond(on_lower)
    compliance = on_lower @ answer
    compliance[:n, :n] += above @ upper.respond(above)
    compliance = (compliance + compliance.T) / 2 + LAYER * np.eye(n + 2)
    modes = np.zeros((n + 2, 4))
    modes[:, :2], modes[:n, 2:] = on_lower @ lower.rigid[:, :2], above @ upper.rigid[:, :2]
    unheld = upper.respond(sparse.csr_array(load[None, :]))[:, 0]
    resultant = np.concatenate([[0.0, 0.0], -(upper.rigid[:, :2].T @ load)])
    bilateral = np.concatenate([np.zeros(n, dtype=bool), [True, True]])
    solved = solve_contact(compliance, modes, np.concatenate([above @ unheld, [0.0, 0.0]]), resultant, bilateral)
    motion = answer @ solved.force + lower.rigid[:, :2] @ solved.rigid[:2]
    middle = -float((across(lower, np.zeros(1)) @ motion)[0])
    return _Stack(middle / UNIT, float(solved.gap[n // 2]) / UNIT, solved.force[:n])


def _stiff_above(ratio: float) -> Sequence[Row]:
    a, span = 0.2, 1.0
    arm = span / 2 - a
    stack, ends = _stacked(ratio), PRESSED * REACH
    return (
        Row("gap at mid, p L^4/EI2", a**3 * arm / 2 - 5 * a**4 / (24 * ratio), stack.gap, 5e-3),
        Row("lower beam at mid, p L^4/EI2", a * arm * (3 * span**2 - 4 * arm**2) / 24, stack.lower, 1e-3),
        Row("force of one end, p a", 1.0, stack.force[0] / ends, 1e-6),
        Row("force in between, p a", 0.0, stack.force[1:-1].max() / ends, 1e-12, absolute=True),
    )


def _near_limit(share: float, lifts: bool) -> Sequence[Row]:
    opens = _stacked(share * LIMIT).gap > 1e-8
    return (Row("the gap at mid is open (1) or closed (0)", float(lifts), float(opens), 0.0, absolute=True),)


def _soft_above() -> Sequence[Row]:
    stack = _stacked(0.1)
    return (
        Row("lower beam at mid, p L^4/EI2", 7.236e-3, stack.lower, 5e-3),
        Row("sum of the contact forces over the load", 1.0, stack.force.sum() / (2 * PRESSED * REACH), 1e-9),
    )


_BEAMS = Source("elementary bending theory, classical (see A. D. Kerr, D. W. Coffin, Int. J. Solids Struct. 28 (1991) "
                "413 for beams on foundations)", Tag.MEMORY)  # fmt: skip
_STACKED = Source(
    "derived: bending theory of both beams; receding contact: L. M. Keer, J. Dundurs, K. C. Tsai, J. Appl. Mech. 39 "
    "(1972) 1115",
    Tag.DERIVED,
)
_PORTS = "The contact ends between two of 100 ports: one spacing in length, 1 % in what grows with it."

CHECKS = (
    Check(
        "U05",
        "A supported beam sags onto a flat: first touch at 384 EI d/(5 L^4), one point up to five times that.",
        _BEAMS,
        _CONTACT,
        "Counts are exact. The point's force is a difference of two deflections: 0.1 % of the load.",
        {
            f"q/q1 = {share:g}": partial(_touching, share, touches)
            for share, touches in ((0.995, 0), (1.005, 1), (3.0, 1), (4.9, 1), (6.0, 3))
        },
    ),
    Check(
        "U05b",
        "A supported beam that lies down on a flat: free span (24 EI d/q)^(1/4), forces q s/2 at end and rim.",
        _BEAMS,
        _CONTACT,
        _PORTS + " The rim's force is shared by the ports next to it.",
        {f"s/L = {span:g}": partial(_lying, span) for span in (0.4, 0.3, 0.2)},
    ),
    Check(
        "U06",
        "A heavy beam on a floor lifted in the middle: lifted half 3P/(4q), height q s^4/(72 EI).",
        _BEAMS,
        _CONTACT,
        _PORTS,
        {f"s/L = {lifted:g}": partial(_lifted_middle, lifted) for lifted in (0.2, 0.3)},
    ),
    Check(
        "U06b",
        "A heavy beam on a floor lifted at its end: lifted length 2P/q, height q s^4/(24 EI).",
        _BEAMS,
        _CONTACT,
        _PORTS,
        {f"s/L = {lifted:g}": partial(_lifted_end, lifted) for lifted in (0.3, 0.5)},
    ),
    Check(
        "U09",
        "A stiff beam pressed onto a supported one touches it at its two ends only and leaves a gap between.",
        _STACKED,
        _CONTACT,
        "The gap is a difference of two deflections: 0.5 %; forces are statics.",
        {f"EI1/EI2 = {ratio:g}": partial(_stiff_above, ratio) for ratio in (1.0, 0.5)},
    ),
    Check(
        "U09b",
        "The gap between stacked beams closes at mid where EI1/EI2 falls below 5a/(6(L - 2a)).",
        _STACKED,
        _CONTACT,
        "Two per cent on either side of the limit: open or closed.",
        {"2 % above": partial(_near_limit, 1.02, True), "2 % below": partial(_near_limit, 0.98, False)},
    ),
    Check(
        "U09c",
        "A soft beam on a supported one spreads its contact.",
        Source("ours: another finite element program, 80 elements", Tag.OURS),
        _CONTACT,
        "0.5 %: the other program's own mesh; the sum is statics.",
        {"EI1/EI2 = 0.1": _soft_above},
    ),
)

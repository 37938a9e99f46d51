"""Friction and creep of a rigid strip on a floor that it stretches over and back: closed forms.

In each half of a cycle the strip has one neutral point, where the friction on one side and the bias balance that
on the other: f(0..x_e) = (F - H)/2 while the strain grows, f(0..x_c) = (F + H)/2 while it falls; the creep per
cycle is eps (x_c - x_e).  F = mu N is all of the friction, H the bias, h = H/F.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise

import numpy as np

from deflect.checks.bench.compliant import rings, rod_modes, sphere_modes
from deflect.checks.check import Check, Row
from deflect.mechanics.arrays import Floats
from deflect.mechanics.friction import Footing, SlipState, Stance, Step, step
from deflect.mechanics.march import Creep, march
from deflect.sources import Source, Tag

ORDER, HEADING = 100, "Friction and creep"
_MARCH, _STEP = "deflect.mechanics.march.march", "deflect.mechanics.friction.step"
LENGTH, STRAIN, FRICTION, NORMAL = 4000.0, 5e-5, 0.15, 3e5
STRETCH = STRAIN * LENGTH  # 0.2 mm
LIMIT = FRICTION * NORMAL
PATCHES = 400
PLACE = (np.arange(PATCHES) + 0.5) / PATCHES  # shares of the length
EVEN = np.full(PATCHES, 1.0 / PATCHES)
# Elastic slip before sliding, as a share of the stretch, where none is wanted.
NO_SLACK = 1e-3
# The same where bodies stretch themselves: as a share of the movement that full friction makes.
_LEAST_SLACK = 1e-4


def footing(spread: Floats = EVEN, slack: float = NO_SLACK, angle: float = 0.0) -> Footing:
    """The strip along ``angle``; each patch slides after ``slack`` times the stretch, under the force of NORMAL."""
    along = (PLACE - 0.5) * LENGTH
    places = np.column_stack([along * np.cos(angle), along * np.sin(angle)])
    return Footing(places, FRICTION, spread * LIMIT / (slack * STRETCH))


def stance(strain: float, bias: float, normal: float = NORMAL, spread: Floats = EVEN, angle: float = 0.0) -> Stance:
    """The strip stretched by ``strain``; ``bias``: share of the friction of NORMAL, along the strip."""
    heading = np.array([np.cos(angle), np.sin(angle)])
    stretched = np.outer((PLACE - 0.5) * LENGTH * strain, heading)
    return Stance(normal * spread, stretched, np.array([*(bias * LIMIT * heading), 0.0]))


def cycle(bias: float, spread: Floats = EVEN, strain: float = STRAIN, angle: float = 0.0) -> list[Stance]:
    """Strain up and down in even steps under a steady bias."""
    down = [stance(strain * t, bias, spread=spread, angle=angle) for t in np.linspace(0, 1, 13)]
    return [*down, *down[-2::-1]]


def _creep(bias: float, spread: Floats = EVEN, slack: float = NO_SLACK) -> float:
    """Creep per cycle as a share of the stretch; not a number where the march did not settle."""
    creep = march(footing(spread, slack), cycle(bias, spread))
    return float(creep.shift[0]) / STRETCH if creep.steady else float("nan")


def _even(bias: float) -> Sequence[Row]:
    # Twice the slack is lost in every cycle and is taken out here.
    return (Row("creep over eps L", bias, _creep(bias) + 2 * NO_SLACK, 5e-3),)


def _slack(bias: float, slack: float) -> Sequence[Row]:
    return (Row("creep over eps L", max(0.0, bias - 2 * slack), _creep(bias, slack=slack), 2e-3, absolute=True),)


def _triangle(bias: float) -> Sequence[Row]:
    exact = float(np.sqrt((1 + bias) / 2) - np.sqrt((1 - bias) / 2))
    return (Row("creep over eps L", exact, _creep(bias, PLACE / PLACE.sum()) + 2 * NO_SLACK, 1e-2),)


def _two_supports(share: float) -> Sequence[Row]:
    left, right = 0.6, 0.4
    ends = np.array([[-LENGTH / 2, 0.0], [LENGTH / 2, 0.0]])
    normal = np.array([left, right]) * NORMAL
    bias = np.array([share * (left - right) * LIMIT, 0.0, 0.0])
    down = [Stance(normal, ends * STRAIN * t, bias) for t in np.linspace(0, 1, 13)]
    creep = march(Footing(ends, FRICTION, FRICTION * normal / (NO_SLACK * STRETCH)), [*down, *down[-2::-1]])
    # The lighter end's friction swings both ends once over and back: each gives by its own stiffness.
    slack = 2 * NO_SLACK * (1 + right / left)
    exact = 1 - slack if share > 1 else 0.0
    return (Row("creep over eps L", exact, float(creep.shift[0]) / STRETCH, 1e-4, absolute=True),)


def _two_halves(down: tuple[float, float], up: tuple[float, float]) -> Sequence[Row]:
    """Each pair: normal force and bias, as shares of NORMAL and of its friction."""
    shares = np.linspace(0, 1, 13)
    stroke = [stance(STRAIN * t, down[1], down[0] * NORMAL) for t in shares]
    stroke += [stance(STRAIN * t, up[1], up[0] * NORMAL) for t in shares[::-1]]
    stroke += [stance(0.0, down[1], down[0] * NORMAL)]
    creep = march(footing(), stroke)
    exact = (down[1] / down[0] + up[1] / up[0]) / 2
    return (Row("creep over eps L", exact, float(creep.shift[0]) / STRETCH + NO_SLACK * (down[0] + up[0]), 1e-2),)


def _growing(ratio: float) -> Sequence[Row]:
    bias = 0.2 / ratio
    level = np.geomspace(1.0, 1.0 + ratio, 60)
    down = [stance(STRAIN * (held - 1) / ratio, bias, NORMAL * held / ratio) for held in level]
    creep = march(footing(slack=1e-5), [*down, *down[-2::-1]])
    return (Row("creep over eps L", float(bias * np.log(1 + ratio)), float(creep.shift[0]) / STRETCH, 1.5e-2),)


def _dissipation(bias: float) -> Sequence[Row]:
    footed, stroke = footing(slack=5e-4), cycle(bias)
    state, spent, least = SlipState(np.zeros(3), stroke[0].breathing), 0.0, 0.0
    for _ in range(3):
        spent = 0.0
        for now in stroke[1:]:
            after = step(footed, state, now).state
            # Force of the floor along what slides: the elastic stretch that is left, times the stiffness.
            left = now.breathing + after.shift[:2] - after.slid
            work = float((footed.stiffness[:, None] * left * (after.slid - state.slid)).sum()) / (LIMIT * STRETCH)
            spent, least, state = spent + work, min(least, work), after
    return (
        Row("loss per cycle over mu N eps L", (1 + bias**2) / 2, spent, 1e-2),
        Row("least loss in a step", 0.0, least, 1e-9, absolute=True),
    )


def _jenkins() -> Sequence[Row]:
    """A spring in series with a slider, moved by X to either side, against a patch that holds."""
    force, stiffness, reach = 1.0, 2.0, 1.5
    places = np.array([[0.0, 0.0], [0.0, 100.0], [0.0, -100.0]])
    footed = Footing(places, 1.0, np.array([stiffness, 1e9, 1e9]))
    normal = np.array([force, 1e3, 1e3])
    path = reach * np.concatenate([np.linspace(0, 1, 7), np.linspace(1, -1, 13)[1:], np.linspace(-1, 1, 13)[1:]])
    stances = [Stance(normal, np.array([[x, 0.0], [0.0, 0.0], [0.0, 0.0]]), np.zeros(3)) for x in path]
    state, spent = SlipState(np.zeros(3), stances[0].breathing), 0.0
    for k, now in enumerate(stances[1:], 1):
        after = step(footed, state, now).state
        left = float(now.breathing[0, 0] + after.shift[0] - after.slid[0, 0])
        if k > 6:
            spent += stiffness * left * float(after.slid[0, 0] - state.slid[0, 0])
        state = after
    return (Row("loss per cycle, N mm", 4 * force * (reach - force / stiffness), spent, 1e-4),)


def _to_and_fro(footed: Footing, normal: Floats, force: float) -> tuple[Step, float]:
    """A force along x that rises, turns round and comes back: the state at its first rise, and the loss of a cycle."""
    still = np.zeros((len(normal), 2))
    state, taken = SlipState(np.zeros(3), still), list[Step]()
    for pull in (force, -force, force):
        guess = taken[-1].moved if taken else None
        taken.append(step(footed, state, Stance(normal, still, np.array([pull, 0.0, 0.0])), guess))
        state = taken[-1].state
    lost = [float((b.friction * (a.state.slid - b.state.slid)).sum()) for a, b in pairwise(taken)]
    return taken[0], sum(lost)


def _rod(share: float) -> Sequence[Row]:
    """A rod pulled at its end by so much of what its bed can hold."""
    patches, length, stiffness, friction = 100, 1000.0, 1e4, 2.0
    force, each = share * friction * length, np.full(patches, friction * length / patches)
    moved = force**2 / (2 * friction * stiffness)
    footed = Footing(np.zeros((patches, 2)), 1.0, each / (_LEAST_SLACK * moved), rod_modes(patches, length, stiffness))
    risen, lost = _to_and_fro(footed, each, force)
    slid = float((risen.state.slid[:, 0] > 0).sum()) / patches
    return (
        Row("length that slips over that of the rod", share, slid, 0.5 / patches + 1e-9, absolute=True),
        Row("movement of the end over P^2/(2 f EA)", 1.0, float(risen.state.shift[0]) / moved, 1e-3),
        Row("loss per cycle over 2 P^3/(3 f EA)", 1.0, lost * 3 * friction * stiffness / (2 * force**3), 2e-3),
    )


def _sphere(share: float) -> Sequence[Row]:
    """Two like spheres pressed together and pulled along by so much of their friction."""
    count, radius, shear_modulus, normal = 60, 10.0, 10.0, 1e3
    edges = rings(count, radius)
    # Hertz: pressure over the contact as an ellipsoid.
    pressed = -normal * np.diff((1 - (edges / radius) ** 2).clip(0) ** 1.5)
    moved = 3 * FRICTION * normal / (4 * radius * shear_modulus)
    footed = Footing(
        np.zeros((count, 2)),
        FRICTION,
        FRICTION * pressed / (_LEAST_SLACK * moved),
        sphere_modes(edges, shear_modulus),
    )
    risen, lost = _to_and_fro(footed, pressed, share * FRICTION * normal)
    stick = edges[np.flatnonzero(risen.state.slid[:, 0] > 0).min()] / radius
    left = 1 - share
    loop = 24 / 5 * (1 - left ** (5 / 3) - 5 * share / 6 * (1 + left ** (2 / 3)))
    return (
        Row("radius that sticks over that of the contact", left ** (1 / 3), stick, 0.02, absolute=True),
        Row("movement over that of full sliding", 1 - left ** (2 / 3), float(risen.state.shift[0]) / moved, 5e-4),
        Row("loss per cycle over mu P times that", loop, lost / (FRICTION * normal * moved), 2e-3),
    )


def _marched(bias: float, strain: float = STRAIN, angle: float = 0.0) -> Creep:
    return march(footing(angle=angle), cycle(bias, strain=strain, angle=angle))


def _symmetries() -> Sequence[Row]:
    plain = _marched(0.4).shift[0] / STRETCH
    return (
        Row("opposite bias, over eps L", -plain, _marched(-0.4).shift[0] / STRETCH, 1e-8, absolute=True),
        Row(
            "opposite strain, over eps L", plain, _marched(0.4, strain=-STRAIN).shift[0] / STRETCH, 1e-8, absolute=True
        ),
        Row("no bias, over eps L", 0.0, _marched(0.0).shift[0] / STRETCH, 1e-8, absolute=True),
    )


def _turned(angle: float) -> Sequence[Row]:
    plain, turned = _marched(0.4).shift[0], _marched(0.4, angle=angle).shift
    along = turned[:2] @ [np.cos(angle), np.sin(angle)]
    across = turned[:2] @ [-np.sin(angle), np.cos(angle)]
    return (
        Row("creep along the strip over eps L", plain / STRETCH, float(along) / STRETCH, 1e-6, absolute=True),
        Row("creep across the strip over eps L", 0.0, float(across) / STRETCH, 1e-6, absolute=True),
        Row("turn of the strip times L over eps L", 0.0, float(turned[2]) / STRAIN, 1e-6, absolute=True),
    )


def _shakedown(share: float) -> Sequence[Row]:
    """Drift in the last of eight cycles of a strip below its threshold 2 g = eps L h."""
    slack = 0.1
    bias = share * 2 * slack
    footed, stroke = footing(slack=slack), cycle(bias)
    state = SlipState(np.zeros(3), stroke[0].breathing)
    ends = []
    for _ in range(8):
        for now in stroke[1:]:
            state = step(footed, state, now).state
        ends.append(float(state.shift[0]) / STRETCH)
    return (Row("drift in the eighth cycle over eps L", 0.0, ends[-1] - ends[-2], 1e-6, absolute=True),)


_MOSELEY = "H. Moseley, Proc. R. Soc. 7 (1855) 333"
_NEUTRAL = "derived: one neutral point in each half of the cycle"

CHECKS = (
    Check(
        "F01",
        "Creep under even pressure: eps L H/(mu N), as lead creeps down a roof.",
        Source(f"{_MOSELEY}; C. Davison, Q. J. Geol. Soc. 44 (1888) 232", Tag.MEMORY),
        _MARCH,
        "A neutral point falls inside one of 400 patches: 0.5 %.  The slack, twice lost, is taken out.",
        {f"h = {bias:g}": partial(_even, bias) for bias in (0.06798, 0.2, 0.6, 0.9)},
    ),
    Check(
        "F02",
        "Elastic slip is a threshold: creep = eps L h - 2 g, and none below.",
        Source("derived: each patch gives by g before it slides, once each way", Tag.DERIVED),
        _MARCH,
        "A neutral point falls inside one of 400 patches: 0.2 % of eps L.",
        {f"h = {h:g}, g/(eps L) = {g:g}": partial(_slack, h, g) for h in (0.6, 0.3) for g in (0.05, 0.1, 0.2)},
    ),
    Check(
        "F04",
        "Two unequal supports: no creep below h = (N1 - N2)/N, the whole of eps L above.",
        Source(_NEUTRAL, Tag.DERIVED),
        _MARCH,
        "The slack is taken out of the exact figure; round-off alone is left.",
        {"5 % below": partial(_two_supports, 0.95), "5 % above": partial(_two_supports, 1.05)},
    ),
    Check(
        "F06",
        "Pressure that rises from one end: creep = eps L (sqrt((1 + h)/2) - sqrt((1 - h)/2)).",
        Source(_NEUTRAL, Tag.DERIVED),
        _MARCH,
        "The slack counts for about twice itself here too: 1 %.",
        {f"h = {bias:g}": partial(_triangle, bias) for bias in (0.2, 0.6)},
    ),
    Check(
        "F07",
        "Pressure and bias that differ on the way back: creep = eps L (h1 + h2)/2.",
        Source(_NEUTRAL, Tag.DERIVED),
        _MARCH,
        "Each half loses its own slack; changes of force slide a little: 1 %.",
        {
            f"N and H {down[0]:g}, {down[1]:g}, then {up[0]:g}, {up[1]:g}": partial(_two_halves, down, up)
            for down, up in (
                ((1.0, 0.4), (1.0, 0.4)), ((1.0, 0.4), (1.0, 0.0)), ((1.0, 0.2), (0.5, 0.2)), ((0.3, 0.2), (1.0, 0.6))
            )
        },
    ),
    Check(
        "F08",
        "Force that grows in step with the strain: creep = (eps L H/(mu P)) ln(1 + P/N0).",
        Source("derived: the even strip's creep, integrated over the growing force", Tag.DERIVED),
        _MARCH,
        "Sixty steps, over each of which the force is taken as constant: 1.5 %.",
        {f"P/N0 = {ratio:g}": partial(_growing, ratio) for ratio in (3.0, 20.0, 120.0)},
    ),
    Check(
        "F09",
        "Loss per cycle: mu N eps L (1 + h^2)/2, of which H times the creep is fed by the bias.",
        Source(_NEUTRAL, Tag.DERIVED),
        _STEP,
        "The slack is lost twice a cycle: 1 %.",
        {f"h = {bias:g}": partial(_dissipation, bias) for bias in (0.0, 0.3, 0.6)},
    ),
    Check(
        "F10",
        "A spring and slider in series, moved to and fro: loss 4 F (X - F/k).",
        Source("I. M. Jenkins 1962; W. D. Iwan, J. Appl. Mech. 33 (1966) 893", Tag.MEMORY),
        _STEP,
        "The anchoring patches give a billionth; the path meets its corners.",
        {"F = 1, k = 2, X = 1.5": _jenkins},
    ),
    Check(
        "F11",
        "A rod on a bed of friction, pulled to and fro at its end: slip length P/f, P^2/(2 f EA), 2 P^3/(3 f EA).",
        Source("L. E. Goodman, J. H. Klumpp, J. Appl. Mech. 23 (1956) 421; derived again: friction f per length takes "
               "the force up", Tag.MEMORY),
        _STEP,
        "A hundred patches: the slip ends within half of one, the movement is known to 0.03 %, the loss to 0.05 %.",
        {f"P = {share:g} f L": partial(_rod, share) for share in (0.302, 0.803)},
        "The rod's stretch enters as what friction bends, with as many modes as patches.",
    ),
    Check(
        "F12",
        "Two like spheres pulled along each other below sliding: stick radius, movement and loss per cycle.",
        Source("C. Cattaneo, Rend. Lincei 27 (1938) 342; R. D. Mindlin, J. Appl. Mech. 16 (1949) 259; K. L. Johnson, "
               "Contact Mechanics, 1985, section 7.4", Tag.MEMORY),
        _STEP,
        "Sixty rings: the stick radius falls on one, 0.02 of the radius; movement 0.02 %, loss 0.12 %.",
        {f"Q = {share:g} mu P": partial(_sphere, share) for share in (0.3, 0.6, 0.9)},
        "Without Poisson's effect, for which the classical answer is exact.",
    ),
    Check(
        "F13",
        "Below its threshold the strip shakes down: the drift dies out.",
        Source("the shakedown of frictional contacts: A. Klarbring, M. Ciavarella, J. R. Barber, Int. J. Solids "
               "Struct. 44 (2007) 8355", Tag.MEMORY),
        _STEP,
        "Exact but for round-off after eight cycles.",
        {f"h at {share:.0%} of the threshold": partial(_shakedown, share) for share in (0.5, 0.9)},
    ),
    Check(
        "F14",
        "The opposite bias creeps the other way, the opposite strain the same way, no bias not at all.",
        Source("derived: mirror symmetry", Tag.DERIVED),
        _MARCH,
        "Exact but for the march's own balance.",
        {"": _symmetries},
    ),
    Check(
        "F15",
        "A strip that lies askew creeps along itself, and does not turn.",
        Source("derived: turning the axes", Tag.DERIVED),
        _MARCH,
        "Exact but for the march's own balance.",
        {f"at {angle:g} rad": partial(_turned, angle) for angle in (0.5, 1.5707963267948966, 2.5)},
    ),
)  # fmt: skip

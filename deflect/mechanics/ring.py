"""The blank holder as a plate between what carries it and the upper face.

The ring, solid or ribbed, bends and shears; below it stand cushion pins of given heights on a cushion that rises and,
where its guides are stated, tilts against them, or gas springs of given force; above it lies the upper face as it is
bent under the whole force.  The sheet between them only presses.  How the upper die bends under the difference of an
even ring pressure to the real one is left out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import scipy.sparse as sparse
from scipy.stats import qmc

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Integers, Sparse, symmetric
from deflect.mechanics.body import GRAVITY, PATCH_POINTS
from deflect.mechanics.closing import sheet_give
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.footprint import from_table
from deflect.mechanics.loads import Patches, patch_grid, ring_parts
from deflect.mechanics.mesh import PlanMesh, graded_lines
from deflect.mechanics.plate import Plate, bending_stress
from deflect.mechanics.ring_layout import ring_layout, ring_squeeze
from deflect.mechanics.support import FACE_GIVE
from deflect.model.die import BlankHolder, Die
from deflect.model.press import CushionGuides
from deflect.model.ring import GasSprings, Wanted
from deflect.model.values import Interval

# Elements and patches of the ring: so many across its width, and no longer than this along it, mm.
_ACROSS = 2
_ALONG = 100.0
# The pressure is judged as the mean over such a length of the ring and its whole width, mm: what holds the sheet back
# adds up along its way (ours).
STATION = 300.0
# Draws of the pins' heights within their scatter: enough for the range of one number (ours).
_DRAWS = 8
_SEED = 21
# Tilts of the cushion are counted as movement at this distance, mm, so that they are of the size of its rise.
_ARM = 1000.0
# Critical force over force that a bar in compression keeps at least (common practice, no source).
BUCKLING_RESERVE = 3.0

Shape = Callable[[Floats], Floats]
"""By how much the upper face stands down, towards the ring, at points (m, 2) in die axes (m,), mm."""


@dataclass(frozen=True, eq=False)
class RingBody:
    """A blank holder as a plate; patches (f,) under the sheet, rows (f, N) that read it there, answer (N, f) to unit
    forces on them, pressed down.  mean (s, f): averages of patches over stations; side (s,): 0 left, 1 right, 2 front,
    3 back; place (s, 2): of each station, mm."""

    plate: Plate
    patches: Patches
    rows: Sparse
    answer: Floats
    weight: Floats
    mean: Floats
    side: Integers
    place: Floats

    def unheld(self, load: Floats) -> Floats:
        """How the ring bends (N,) under a load (N,) that its faces and carriers balance."""
        return self.plate.respond(sparse.csr_array(load[None, :]))[:, 0]


@dataclass(frozen=True, eq=False)
class Ring:
    """A solved ring.  pressure (f,), wanted (s,): MPa; pins (p,): force of each, N; springs carry none.

    uneven: greatest difference from what is wanted, as a share of it; least: lowest pressure as a share of it;
    stress: of the ring, MPa; tilt (2,): of its best plane against that of the face, rad; force: on the sheet, N;
    buckling: critical force over the force with which friction presses a side together.  cushion_tilt (2,): along x
    and y, rad, up on the far side; none of a cushion that is guided level.
    """

    body: RingBody
    pressure: Floats
    wanted: Floats
    pins: Floats
    stress: float
    tilt: Floats
    buckling: float
    cushion_tilt: Floats
    solved: ContactSolution

    @property
    def force(self) -> float:
        return float(self.pressure @ self.body.patches.area)

    @property
    def share(self) -> Floats:
        """Pressure of each station over what is wanted there (s,)."""
        return np.asarray(self.body.mean @ self.pressure / np.maximum(self.wanted, np.finfo(float).tiny))

    @property
    def uneven(self) -> float:
        return float(np.abs(self.share - 1).max())

    @property
    def least(self) -> float:
        return float(self.share.min())

    @property
    def lowest_at(self) -> tuple[float, float]:
        x, y = self.body.place[int(self.share.argmin())]
        return float(x), float(y)


def flat(points: Floats) -> Floats:
    """An upper face that does not bend."""
    return np.zeros(len(points))


@lru_cache(maxsize=32)
def ring_body(holder: BlankHolder) -> RingBody:
    """Mesh and factorise a blank holder."""
    outer, inner = holder.pattern.outer, holder.pattern.inner
    layout = ring_layout(holder)
    at_x, at_y = layout.lines(outer)
    x = graded_lines([*at_x, inner.left, inner.right], _ALONG)
    y = graded_lines([*at_y, inner.front, inner.back], _ALONG)
    mesh = PlanMesh.with_openings(x, y, (inner,))
    plate = Plate(mesh, layout.sections, layout.kinds(mesh))
    grids, stations, sides = list[Patches](), list[Integers](), list[int]()
    for number, part in enumerate(ring_parts(outer, inner)):
        upright = number < 2
        across = np.linspace(0.0, 1.0, _ACROSS + 1)
        low, high = (part.front, part.back) if upright else (part.left, part.right)
        count = max(1, round((high - low) / STATION))
        # Whole patches in every station, so that all of them are alike.
        lines = np.linspace(low, high, count * int(np.ceil((high - low) / count / _ALONG - 1e-9)) + 1)
        width = (part.left + across * part.length) if upright else (part.front + across * part.width)
        grids.append(patch_grid(width, lines) if upright else patch_grid(lines, width))
        along = grids[-1].centre[:, 1 if upright else 0]
        stations.append(len(sides) + np.floor((along - low) / (high - low) * count).astype(np.int64))
        sides += [number] * count
    patches = Patches(
        np.concatenate([g.centre for g in grids]),
        np.concatenate([g.length for g in grids]),
        np.concatenate([g.width for g in grids]),
    )
    points, average = patches.quadrature(PATCH_POINTS)
    rows = (average @ plate.at(points).surface).tocsr()
    mean = (np.arange(len(sides))[:, None] == np.concatenate(stations)[None, :]) * patches.area
    mean = mean / mean.sum(axis=1, keepdims=True)
    weight = plate.own_weight() * GRAVITY
    return RingBody(
        plate, patches, rows, -plate.respond(rows), weight, mean, np.array(sides), np.asarray(mean @ patches.centre)
    )


def on_springs(body: RingBody, springs: GasSprings) -> Floats:
    """Load (N,) of the ring's weight and of the springs below it, N."""
    push = np.array([spring.force for spring in springs.springs])
    return np.asarray(body.weight + body.plate.at(np.array(springs.places)).deflection.T @ push)


def wanted_pressure(body: RingBody, wanted: Wanted, force: float) -> Floats:
    """What is asked of each station (s,), MPa, all of them together carrying ``force``."""
    shares = np.array([wanted.left, wanted.right, wanted.front, wanted.back])[body.side]
    return np.asarray(shares * force / (shares @ _areas(body)))


def _areas(body: RingBody) -> Floats:
    """Area of each station (s,), mm2."""
    return np.asarray((body.mean > 0) @ body.patches.area)


def pressed_ring(
    die: Die, shape: Shape = flat, heights: Floats | None = None, guides: CushionGuides | None = None
) -> Ring:
    """The ring of ``die`` pressed against an upper face of some shape; heights (p,): of its pins, mm, in place of the
    stated ones; guides: of the cushion, which stays level without them.  Raises MechanicsFailed where nothing is said
    of what carries it, or where it tips."""
    holder = die.blank_holder
    if holder is None or holder.carried is None:
        raise MechanicsFailed("nothing is said of what carries the blank holder")
    carried = holder.carried
    body = ring_body(holder)
    f = body.patches.area.size
    give = face_give(die, holder) / body.patches.area
    if carried.springs is not None:
        places, load = np.array(carried.springs.places), on_springs(body, carried.springs)
        rows, answer, layer, gap, cushion = -body.rows, body.answer, give, -shape(body.patches.centre), None
        pins, guides = 0, None
    else:
        places = np.array(die.cushion_pins or ())
        pins = len(places)
        if pins == 0:
            raise MechanicsFailed("the blank holder stands on no pins")
        up = np.array(carried.heights or np.zeros(pins)) if heights is None else heights
        read = body.plate.at(places).deflection
        rows = sparse.vstack([-body.rows, read]).tocsr()
        answer = np.hstack([body.answer, body.plate.respond(read)])
        layer = np.append(give, np.full(pins, 1 / carried.stiffness))
        gap = np.append(-shape(body.patches.centre), -up)
        load = body.weight
        # Its middle is that of the press.
        levers = places - from_table(die.placing, np.zeros((1, 2)))
        cushion = _Cushion(die.cushion_force, levers, guides)
    unheld = body.unheld(load)
    solved = _press(body, rows, answer, layer, gap + rows @ unheld, load, cushion)
    motion = answer @ solved.force[: f + pins] + unheld + body.plate.rigid @ solved.rigid[:3]
    pressure = solved.force[:f] / body.patches.area
    force = float(solved.force[:f].sum())
    return Ring(
        body=body,
        pressure=pressure,
        wanted=wanted_pressure(body, carried.wanted, force),
        pins=solved.force[f : f + pins],
        stress=bending_stress(body.plate, motion, body.patches.centre),
        tilt=_plane(body, body.rows @ motion) - _plane(body, -shape(body.patches.centre)),
        buckling=_buckling(holder, places, force, carried.friction.high),
        cushion_tilt=np.zeros(2) if guides is None else solved.rigid[4:] / _ARM,
        solved=solved,
    )


@dataclass(frozen=True, eq=False)
class _Cushion:
    """What the pins stand on: force, N, levers (p, 2) of the pins about its middle, mm, guides (None: it is level)."""

    force: float
    levers: Floats
    guides: CushionGuides | None


def _press(
    body: RingBody,
    rows: Sparse,
    answer: Floats,
    layer: Floats,
    gap: Floats,
    load: Floats,
    cushion: _Cushion | None,
) -> ContactSolution:
    """The ring between its ports: faces, then pins, then the guides of a cushion that tilts, which push and pull.

    gap: at each port with the ring bent by ``load`` alone, mm.
    """
    compliance = symmetric(rows @ answer) + np.diag(layer)
    modes = rows @ body.plate.rigid
    resultant = -(body.plate.rigid.T @ load)
    bilateral = np.zeros(layer.size, dtype=bool)
    if cushion is None:
        return solve_contact(compliance, modes, gap, resultant, bilateral)
    pins = len(cushion.levers)
    moved = np.zeros((layer.size, 1))
    moved[-pins:] = -1.0
    resultant = np.append(resultant, -cushion.force)
    if cushion.guides is None:
        return solve_contact(compliance, np.hstack([modes, moved]), gap, resultant, bilateral)
    tilted = np.zeros((layer.size, 2))
    tilted[-pins:] = -cushion.levers / _ARM
    held = np.hstack([np.zeros((2, modes.shape[1] + 1)), np.eye(2)])
    give = np.full(2, _ARM**2 / cushion.guides.tilt_stiffness)
    return solve_contact(
        np.block([[compliance, np.zeros((layer.size, 2))], [np.zeros((2, layer.size)), np.diag(give)]]),
        np.vstack([np.hstack([modes, moved, tilted]), held]),
        np.append(gap, np.zeros(2)),
        np.append(resultant, np.zeros(2)),
        np.append(bilateral, np.ones(2, dtype=bool)),
    )


def face_give(die: Die, holder: BlankHolder) -> float:
    """By how much sheet, ring and the face over it are squeezed under pressure, mm/MPa; the face as much as the ring
    (ours)."""
    return sheet_give(die.sheet) + 2 * FACE_GIVE * ring_squeeze(holder)


def _plane(body: RingBody, height: Floats) -> Floats:
    plane = np.column_stack([np.ones(body.patches.area.size), body.patches.centre])
    return np.asarray(np.linalg.lstsq(plane, height, rcond=None)[0][1:])


def _buckling(holder: BlankHolder, places: Floats, force: float, friction: float) -> float:
    """Critical force of the longest free length between carriers over the force that friction presses it with.

    The sheet that is drawn in below the ring and above it pulls each side inwards with twice its friction; the sides
    next to it carry half of that each as bars.  Derived; Euler's pinned bar of the ring's section.
    """
    longest = max(holder.length, holder.width)
    push = 2 * friction * force * longest / holder.girth / 2
    critical = np.pi**2 * holder.material.youngs_modulus * holder.inertia / _free_length(holder, places) ** 2
    return float(critical / push) if push > 0 else np.inf


def _free_length(holder: BlankHolder, places: Floats) -> float:
    """Greatest distance along any side of the ring from carrier to carrier, or to a corner, mm."""
    worst = 0.0
    for axis, half, across in ((0, holder.length / 2, holder.width / 2), (1, holder.width / 2, holder.length / 2)):
        for sign in (-1.0, 1.0):
            near = np.abs(places[:, 1 - axis] - sign * across) <= holder.ring
            stops = np.sort(np.concatenate([[-half, half], places[near, axis]]))
            worst = max(worst, float(np.diff(stops).max()))
    return worst


def uneven_range(die: Die, usual: Ring, shape: Shape = flat, guides: CushionGuides | None = None) -> Interval:
    """By how much the ring pressure differs from what is wanted, over the scatter of the pins' heights."""
    holder = die.blank_holder
    if holder is None or holder.carried is None or holder.carried.scatter == 0 or holder.carried.springs is not None:
        return Interval.exactly(usual.uneven)
    carried, count = holder.carried, len(die.cushion_pins or ())
    stated = np.array(carried.heights or np.zeros(count))
    drawn = carried.scatter * (2 * qmc.LatinHypercube(d=count, rng=_SEED).random(_DRAWS) - 1)
    found = [pressed_ring(die, shape, stated + off, guides).uneven for off in drawn]
    return Interval(min(usual.uneven, *found), usual.uneven, max(usual.uneven, *found))

"""The slide on its points, two halves closed on a sheet, the blank holder: closed forms and a Ritz series."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np
import scipy.sparse as sparse

from deflect.checks.bench.plates import SIDE, YOUNG, even_pressure, rigidity
from deflect.checks.bench.presses import (
    FORCE,
    LAND,
    POINT,
    RIGID,
    SOFT,
    SPAN,
    THICKNESS,
    WIDTH,
    beam,
    block,
    closed,
    soft_block,
)
from deflect.checks.check import Check, Row
from deflect.checks.exact.corner_plate import on_four_points
from deflect.mechanics.arrays import Floats
from deflect.mechanics.body import Table
from deflect.mechanics.contact import solve_contact
from deflect.mechanics.hanging import condense_slide
from deflect.mechanics.ring import pressed_ring
from deflect.model.die import BlankHolder, Die, Half, Limits, Operation, Placing, Sheet
from deflect.model.force import Patch
from deflect.model.material import Material
from deflect.model.press import Slide
from deflect.model.ring import Carried, GasSpring, GasSprings
from deflect.model.slide import SlideBody
from deflect.model.values import Interval, Rectangle
from deflect.sources import Source, Tag

ORDER, HEADING = 95, "The upper half, and both halves closed"
_SLIDE = "deflect.mechanics.hanging.condense_slide"
_CLOSURE = "deflect.mechanics.closure.close_pair"
_RING = "deflect.mechanics.ring.pressed_ring"
SEAT = 2.0
_EI = YOUNG * WIDTH * THICKNESS**3 / 12
_THIN = 10.0


def _hung(length: float, width: float, poisson: float, points: tuple[tuple[float, float], ...]) -> Table:
    material = Material("check", YOUNG, poisson, 1e-6, 100.0)
    body = SlideBody(_THIN, material, 1.0, points, Interval.exactly(1.0), SEAT)
    return condense_slide(Slide(length, width, body=body), SIDE / 10)


def _sinking(table: Table, read: Floats) -> Floats:
    """By how much points (m, 2) lie below the hanging points under an even pressure of 1 MPa (m,), mm."""
    load = even_pressure(table.plate)
    rows, n = table.land_rows, table.land.area.size
    answer = table.land_answer
    compliance = rows @ answer
    compliance = (compliance + compliance.T) / 2 + 1e-9 * np.abs(compliance).max() * np.eye(n)
    unheld = table.plate.respond(sparse.csr_array(load[None, :]))[:, 0]
    rigid = table.plate.rigid
    solved = solve_contact(compliance, rows @ rigid, rows @ unheld, -(rigid.T @ load), np.ones(n, dtype=bool))
    motion = answer @ solved.force + unheld + rigid @ solved.rigid
    return np.asarray((rows @ motion).mean() - table.plate.at(read).deflection @ motion)


def _corners() -> Sequence[Row]:
    at = (SIDE - SEAT) / 2
    table = _hung(SIDE, SIDE, 0.3, tuple((x, y) for x in (-at, at) for y in (-at, at)))
    unit = SIDE**4 / rigidity(_THIN)
    return (
        Row("middle, q a^4/D", on_four_points(2 * at / SIDE), float(_sinking(table, np.zeros((1, 2)))[0]) / unit, 5e-3),
    )


def _overhanging(share: float) -> Sequence[Row]:
    """A strip on two points, ``share`` of its length between them; Poisson's ratio 0."""
    between = share * SIDE
    over = (SIDE - between) / 2
    # A strip one element wide is held from tipping across by a pair of points at either place.
    points = tuple((x, y) for x in (-between / 2, between / 2) for y in (-20.0, 20.0))
    table = _hung(SIDE, 50.0, 0.0, points)
    found = _sinking(table, np.array([(0.0, 0.0), (SIDE / 2, 0.0)]))
    flexural = YOUNG * _THIN**3 / 12
    middle = between**4 * 5 / 384 - over**2 * between**2 / 16
    end = over * (3 * over**3 + 6 * over**2 * between - between**3) / 24
    unit = SIDE**4
    return (
        Row("middle, q L^4/EI", middle / unit, float(found[0]) * flexural / unit, 1e-5, absolute=True),
        Row("end, q L^4/EI", end / unit, float(found[1]) * flexural / unit, 1e-5, absolute=True),
    )


def _series(stiffness: float) -> Sequence[Row]:
    closure, case = closed(block(), block(), stiffness)
    faces = SPAN * WIDTH
    land = case.press.bolster.plan.area - case.press.bed.opening.area
    exact = FORCE * (1 / (4 * POINT) + 1 / (LAND * land) + 1 / (stiffness * faces))
    even = closure.pressure * faces / FORCE
    return (
        Row("travel of the drive, mm", exact, closure.travel, 1e-3),
        Row("greatest pressure over the mean", 1.0, float(even.max()), 1e-3),
        Row("force of one hanging point over a quarter", 1.0, float(closure.points_force.max()) * 4 / FORCE, 1e-6),
    )


def _squeezed() -> Sequence[Row]:
    """Soft blocks without Poisson's ratio, pressed on the whole of both faces: each is shortened by p t/E."""
    stiffness = 50.0
    rigid, soft = closed(block(), block(), stiffness)[0], closed(soft_block(), soft_block(), stiffness)[0]
    exact = 2 * FORCE * THICKNESS / (SPAN * WIDTH * SOFT.youngs_modulus)
    return (Row("travel beyond that of rigid blocks, mm", exact, soft.travel - rigid.travel, 5e-3),)


def _pressure(reach: float, place: Floats) -> Floats:
    """Pressure over its mean of a supported beam against a rigid face through a Winkler layer, at places in half spans.

    EI v'''' + k v = 0 for the layer's give v; even, and without moment at the ends.
    """

    def shape(x: Floats) -> Floats:
        turn = np.tanh(reach) * np.tan(reach)
        return np.asarray(np.cosh(reach * x) * np.cos(reach * x) + turn * np.sinh(reach * x) * np.sin(reach * x))

    nodes, weights = np.polynomial.legendre.leggauss(24)
    mean = float(weights @ shape(nodes)) / 2
    return np.asarray(shape(place) / mean)


def _layer(reach: float, both: bool) -> Sequence[Row]:
    """``reach`` is beta L/2 with beta^4 = k/(4 EI), k the layer as one beam sees it."""
    seen = 4 * _EI * (2 * reach / SPAN) ** 4 / WIDTH
    # Between two beams that bend alike each sees half of the layer.
    closure, _ = closed(beam(), beam() if both else block(), seen / 2 if both else seen)
    place = closure.faces.patches.centre[:, 0] / (SPAN / 2)
    exact, found = _pressure(reach, place), closure.pressure * SPAN * WIDTH / FORCE
    middle, end = int(np.abs(place).argmin()), int(place.argmax())
    return (
        Row("pressure in the middle over the mean", float(exact[middle]), float(found[middle]), 0.01),
        Row("pressure at the end over the mean", float(exact[end]), float(found[end]), 0.01),
    )


def _camber() -> Sequence[Row]:
    closure, _ = closed(beam(), block(), 1.0)
    place = closure.faces.patches.centre[:, 0]
    load = FORCE / SPAN

    def sag(x: float) -> float:
        return load * (SPAN**2 / 4 - x**2) * (5 * SPAN**2 / 4 - x**2) / (24 * _EI)

    middle, end = int(np.abs(place).argmin()), int(place.argmax())
    found = closure.lower_error[middle] - closure.lower_error[end]
    exact = sag(float(place[middle])) - sag(float(place[end]))
    return (Row("camber from the end to the middle, mm", exact, float(found), 0.01),)


def _eccentric(off: float) -> Sequence[Row]:
    """A rigid ring on four springs, of which those on the right push more: F/A + M x/I on its own area."""
    length, width, ring, thickness = 1600.0, 800.0, 200.0, 100.0
    total = 4e5
    share = off / (length / 2)
    forces = [total / 4 * (1 + np.sign(x) * share) for x in (-1, -1, 1, 1)]
    places = [(x, y) for x in (-length / 2, length / 2) for y in (-width / 2, width / 2)]
    springs = tuple(GasSpring(x, y, f) for (x, y), f in zip(places, forces, strict=True))
    holder = BlankHolder(length, width, ring, thickness, RIGID, Carried(4e5, springs=GasSprings(springs, False, 1e6)))
    nothing = Interval.exactly(0.0)
    half = Half(1.0, 0.0, False)
    face = Patch(1.0, Rectangle(0.0, 0.0, 100.0, 100.0))
    die = Die("check", Operation.DRAW, block(), half, half, 1e6, 0.0, (face,), Placing(), Limits(1, 1, 1), nothing,
              blank_holder=holder, sheet=Sheet(1.0, 300.0, 0.1, 1.0))  # fmt: skip
    found = pressed_ring(die)
    patches = found.body.patches
    outer, inner = holder.pattern.outer, holder.pattern.inner
    area = outer.area - inner.area
    inertia = (outer.width * outer.length**3 - inner.width * inner.length**3) / 12
    exact = total / area + total * off * patches.centre[:, 0] / inertia
    worst, least = int(exact.argmax()), int(exact.argmin())
    # The layer of a patch gives by its own mean pressure: patches of 100 mm carry their own inertia less.
    return (
        Row("greatest pressure of a patch, MPa", float(exact[worst]), float(found.pressure[worst]), 5e-3),
        Row("least pressure of a patch, MPa", float(exact[least]), float(found.pressure[least]), 1e-2),
    )


_BOOK = Source(
    "S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, on plates supported at their corners; exact "
    "figure by a Ritz series of ours",
    Tag.DERIVED,
)
_OVERHANG = Source(
    "beam with overhangs: handbooks of strength of materials (Roark), from memory; derived anew", Tag.DERIVED
)
_WINKLER = Source(
    "derived from EI v'''' + k v = 0; M. Hetenyi, Beams on Elastic Foundation, 1946, has the parts", Tag.DERIVED
)
_STATICS = Source("statics, derived", Tag.DERIVED)

CHECKS = (
    Check(
        "S01",
        "A square slide hung at its four corners under an even pressure.",
        _BOOK,
        _SLIDE,
        "Ten elements a side next to point supports, and shear of a plate of 1/100: 0.5 %.",
        {"": _corners},
        "A figure of 0.0257 is remembered for points at the very corners; the exact one here is for the seat's middle.",
    ),
    Check(
        "S02",
        "A narrow slide on two places with overhangs under an even pressure: middle and end.",
        _OVERHANG,
        _SLIDE,
        "Shear of a strip of 1/100, and seats of 2 mm: some parts in a hundred thousand of q L^4/EI.",
        {f"{share:.0%} between them": partial(_overhanging, share) for share in (0.5, 0.6)},
    ),
    Check(
        "S03",
        "Rigid halves on a rigid table: hanging points, sheet and land give in series, and press evenly.",
        _STATICS,
        _CLOSURE,
        "The bodies are a hundred thousand times as stiff as steel: 0.1 %.",
        {f"sheet of {stiffness:g} N/mm³": partial(_series, stiffness) for stiffness in (0.5, 50.0)},
    ),
    Check(
        "S03b",
        "Soft blocks are squeezed through: the give of both faces of each adds up to p t/E.",
        _STATICS,
        _CLOSURE,
        "The face and the rows of patches below it are the same area: 0.5 %.",
        {"": _squeezed},
    ),
    Check(
        "S04",
        "A beam on its ends closed against a rigid face through an elastic layer: how the pressure spreads.",
        _WINKLER,
        _CLOSURE,
        "Patches of a twentieth of the span, pads of 10 mm and shear at 3 % of the span: 1 %.",
        {f"βL/2 = {reach:g}": partial(_layer, reach, False) for reach in (0.5, 1.0, 1.3)},
    ),
    Check(
        "S05",
        "Two such beams closed on each other: each sees half of the layer between them.",
        _WINKLER,
        _CLOSURE,
        "As for one beam: 1 %.",
        {f"βL/2 = {reach:g}": partial(_layer, reach, True) for reach in (0.5, 1.0, 1.3)},
    ),
    Check(
        "S06",
        "The camber that a beam on its ends wants is its sag under an even pressure.",
        Source("elementary bending theory, q (L²/4 - x²)(5 L²/4 - x²)/(24 EI)", Tag.DERIVED),
        _CLOSURE,
        "Means over patches of a twentieth of the span, and shear: 1 %.",
        {"": _camber},
    ),
    Check(
        "S07",
        "A rigid blank holder pushed off its middle: F/A + M x/I over the ring's own area.",
        _STATICS,
        _RING,
        "Patches of 100 mm carry the mean of a pressure that varies over them: 0.5 %, of the small end 1 %.",
        {f"{off:g} mm off": partial(_eccentric, off) for off in (0.0, 50.0, 150.0)},
    ),
)

"""Plates and beams on springs: those that pull as well (bonded), and those that only press (tensionless)."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache, partial

import numpy as np
import scipy.sparse as sparse
from scipy.optimize import brentq
from scipy.special import bei, beip, ber, berp, kei, ker, kerp

from deflect.checks.bench.grounded import Grounded, across, bedding, ground, strip
from deflect.checks.bench.plates import (
    SIDE,
    YOUNG,
    even_pressure,
    held,
    moments,
    patch_force,
    point_force,
    rectangle,
    rigidity,
    sinking,
    slab,
)
from deflect.checks.check import Check, Row
from deflect.checks.exact.rectangles import NU
from deflect.mechanics.arrays import Floats, Sparse
from deflect.mechanics.mesh import PlanMesh
from deflect.mechanics.plate import Plate, factorise
from deflect.model.values import Rectangle
from deflect.sources import Source, Tag

ORDER, HEADING = 70, "Elastic and tensionless beds"
_CONTACT = "deflect.mechanics.contact.solve_contact"
_PLATE = "deflect.mechanics.plate.Plate"
_BOOK = "S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959"
_BEAM = "M. Hetenyi, Beams on Elastic Foundation, 1946"
THICKNESS = 1.0
# Characteristic length of the plate on its bed, (D/k)^(1/4), mm.
REACH = 60.0
# w of an infinite plate on springs under a point force, P l^2/(8D), is the unit here.
_SCALE = 8 * rigidity(THICKNESS) / REACH**2


@lru_cache(maxsize=1)
def _wide() -> tuple[Plate, Floats, Sparse, Floats]:
    """A plate so wide that its edges are not felt: elements of 0.4 l in the middle, growing outwards; below it
    springs up to 8 l each way: their areas, rows and the plate's answer to them."""
    half = np.concatenate([np.linspace(0, 3.2, 9), 3.2 + np.cumsum([0.8, 0.8, 1.6, 1.6, 3.2, 6.4, 12.8])]) * REACH
    lines = np.concatenate([-half[:0:-1], half])
    plate = Plate.uniform(PlanMesh.with_openings(lines, lines, ()), slab(THICKNESS))
    patches, rows = bedding(plate)
    pick = np.flatnonzero((np.abs(patches.centre) < 8.2 * REACH).all(axis=1))
    return plate, patches.area[pick], rows[pick], plate.respond(rows[pick])


def _bedded(load: Floats, tension: bool) -> tuple[Grounded, Floats]:
    """The wide plate on its springs under ``load``; also the springs' areas."""
    plate, area, rows, answer = _wide()
    layer = REACH**4 / rigidity(THICKNESS) / area
    gap, bilateral = np.zeros(area.size), np.full(area.size, tension)
    return ground(plate, rows, load, layer, gap, bilateral, answer=answer), area


def _point_bonded() -> Sequence[Row]:
    plate = _wide()[0]
    state, _ = _bedded(point_force(plate, 0, 0), True)
    return [
        Row(f"w 8D/(P l^2) at r/l = {r}", -4 / np.pi * float(kei(r)) if r else 1.0,
            sinking(plate, state.motion, r * REACH) * _SCALE, 8e-3, absolute=True)
        for r in (0, 1, 2, 3, 4)
    ]  # fmt: skip


def _patch_bonded(size: float) -> Sequence[Row]:
    """Exact: the point's deflection integrated over the patch."""
    plate = _wide()[0]
    side = size * REACH
    state, _ = _bedded(patch_force(plate, Rectangle(0, 0, side, side), 1.0, side / 8), True)
    node, weight = np.polynomial.legendre.leggauss(40)
    place = size / 4 * (node + 1)
    mean = float(weight @ kei(np.hypot(place[:, None], place)) @ weight) / 4
    return (Row("w 8D/(P l^2)", -4 / np.pi * mean, sinking(plate, state.motion) * _SCALE, 8e-3),)


def _lifting_radius() -> tuple[float, float]:
    """Contact radius over l, and w 8D/(P l^2) at the force, of a weightless infinite plate on a bed that only presses.

    Inside, w = -(4/pi) kei + A ber + B bei; outside c0 + c1 ln r, so that w, its Laplacian and that one's slope
    vanish at the contact's edge.
    """

    def constants(r: float) -> Floats:
        system = np.array([[-bei(r), ber(r)], [-beip(r), berp(r)]])
        return np.asarray(np.linalg.solve(system, 4 / np.pi * np.array([ker(r), kerp(r)])))

    def edge(r: float) -> float:
        return float(-4 / np.pi * kei(r) + constants(r) @ [ber(r), bei(r)])

    radius = float(brentq(edge, 2.0, 3.5, xtol=1e-12))
    return radius, 1.0 + float(constants(radius)[0])


def _point_tensionless() -> Sequence[Row]:
    plate = _wide()[0]
    state, area = _bedded(point_force(plate, 0, 0), False)
    radius, deflection = _lifting_radius()
    contact = float(np.sqrt(area[state.solved.force > 0].sum() / np.pi)) / REACH
    return (
        Row("w 8D/(P l^2) at the force", deflection, sinking(plate, state.motion) * _SCALE, 8e-3),
        Row("contact radius over l", radius, contact, 0.02),
    )


_LENGTH, _WIDTH, _STRIP = SIDE, 20.0, 2.0
_EI = YOUNG * _WIDTH * _STRIP**3 / 12
# Characteristic 1/beta of the beam on its bed, mm; its springs, N/mm2.
_BETA = 1 / 50.0
_SPRING = 4 * _EI * _BETA**4
_PORTS = 161


def _beam(tension: bool, length: float = _LENGTH) -> tuple[Floats, Floats, Floats]:
    """Places, deflections downwards under 1 N at mid, and forces of a strip on springs at evenly spaced ports."""
    plate = strip(length, _WIDTH, _STRIP, 80)
    place = np.linspace(-length / 2, length / 2, _PORTS)
    share = np.full(_PORTS, length / (_PORTS - 1))
    share[[0, -1]] /= 2
    load = across(plate, np.zeros(1)).T @ np.array([-1.0])
    rows, none = across(plate, place), np.zeros(_PORTS)
    state = ground(plate, rows, load, 1 / (_SPRING * share), none, np.full(_PORTS, tension), plate.rigid[:, :2])
    return place, -state.height, state.solved.force


def _hetenyi_infinite() -> Sequence[Row]:
    place, down, _ = _beam(True)
    unit = 2 * _SPRING / _BETA
    rows = []
    for x in (0.0, 1.0, 2.0, 3.0):
        at = int(np.abs(place - x / _BETA).argmin())
        along = _BETA * place[at]
        exact = float(np.exp(-along) * (np.cos(along) + np.sin(along)))
        rows.append(Row(f"w 2k/(P beta) at beta x = {x:g}", exact, down[at] * unit, 2e-3, absolute=True))
    return rows


def _hetenyi_finite(reach: float) -> Sequence[Row]:
    """Length ``reach``/beta, free ends, force at mid."""
    _, down, _ = _beam(True, reach / _BETA)
    exact = (np.cosh(reach) + np.cos(reach) + 2) / (np.sinh(reach) + np.sin(reach))
    ends = 4 * np.cosh(reach / 2) * np.cos(reach / 2) / (np.sinh(reach) + np.sin(reach))
    unit = 2 * _SPRING / _BETA
    return (
        Row("w 2k/(P beta) at mid", float(exact), float(down[_PORTS // 2]) * unit, 2e-3),
        Row("w 2k/(P beta) at the ends", float(ends), float(down[0]) * unit, 2e-3, absolute=True),
    )


def _beam_tensionless() -> Sequence[Row]:
    """The part in touch is a finite beam of length pi/beta whose ends just do not press."""
    place, down, force = _beam(False)
    exact = 1 / np.tanh(np.pi / 2)
    return (
        Row("w 2k/(P beta) at the force", float(exact), float(down[_PORTS // 2]) * 2 * _SPRING / _BETA, 5e-3),
        Row("half contact times beta", np.pi / 2, float(np.abs(place[force > 0]).max()) * _BETA,
            1.01 * _BETA * _LENGTH / (_PORTS - 1), absolute=True),
    )  # fmt: skip


def _rigid_block(eccentricity: float) -> Sequence[Row]:
    """A block so thick that it stays plane, pressed at e/L off its middle: no pull, hence it lifts beyond a sixth."""
    length, width, bed = 400.0, 100.0, 1e-3
    plate = rectangle(slab(400.0), length, width, 20, 2)
    patches, rows = bedding(plate, 2)
    load = patch_force(plate, Rectangle(eccentricity * length, 0, 20.0, 20.0))
    area = patches.area
    state = ground(plate, rows, load, 1 / (bed * area), np.zeros(area.size), np.zeros(area.size, dtype=bool))
    mean = 1.0 / (length * width)
    lifts = eccentricity > 1 / 6
    exact = 2 / (3 * (0.5 - eccentricity)) if lifts else 1 + 6 * eccentricity
    touching = 3 * (0.5 - eccentricity) if lifts else 1.0
    edge_down = -float((plate.at(np.array([[length / 2, 0.0]])).deflection @ state.motion)[0])
    spread = float(area[state.solved.force > 0].sum()) / (length * width)
    return (
        Row("pressure at the edge over the mean", exact, edge_down * bed / mean, 5e-3),
        Row("share of the block in contact", touching, spread, 1 / 40 + 1e-9, absolute=True),
    )


def _supported(reach: float) -> Sequence[Row]:
    """Springs below a supported square of side reach times l; exact: Navier's series with k in the denominator."""
    plate = rectangle(slab(THICKNESS), SIDE, SIDE, 20, 20)
    d = rigidity(THICKNESS)
    bed = d * (reach / SIDE) ** 4
    patches, rows = bedding(plate, 2)
    stiffness = (plate.stiffness + rows.T @ sparse.diags_array(bed * patches.area) @ rows).tocsc()
    load = even_pressure(plate)
    free = np.setdiff1d(np.arange(load.size), held(plate, "hard"))
    motion = np.zeros(load.size)
    motion[free] = factorise(stiffness, free).solve(load[free])
    m = np.arange(1, 400, 2)
    sign = (-1.0) ** ((m - 1) // 2)
    kx, ky = (m * np.pi)[:, None] ** 2, (m * np.pi)[None, :] ** 2
    shape = 16 / np.pi**2 * np.outer(sign / m, sign / m) / ((kx + ky) ** 2 + reach**4)
    rows_out = [Row("w D/(q a^4)", float(shape.sum()), sinking(plate, motion) * d / SIDE**4, 2e-3)]
    if reach < 10:
        rows_out.append(
            Row("Mx/(q a^2)", float((shape * (kx + NU * ky)).sum()), moments(plate, motion)[0] / SIDE**2, 1e-2)
        )
    return rows_out


_SPRINGS = "Springs act on patches of 0.4 l, wider ones outside, with even pressure on each: 0.5 %."

CHECKS = (
    Check(
        "W01",
        "An infinite plate on springs under a point force.",
        Source(f"H. Hertz 1884; H. M. Westergaard 1926; {_BOOK}, section 57", Tag.MEMORY),
        _CONTACT,
        _SPRINGS,
        {"": _point_bonded},
    ),
    Check(
        "W02",
        "An infinite plate on springs under a square patch of force.",
        Source("derived: Hertz's point force, integrated over the patch", Tag.DERIVED),
        _CONTACT,
        _SPRINGS,
        {f"side over l = {size:g}": partial(_patch_bonded, size) for size in (0.8, 1.6, 3.2)},
    ),
    Check(
        "W03",
        "A long beam on springs under a force, along its length.",
        Source(f"{_BEAM}, infinite beam", Tag.MEMORY),
        _CONTACT,
        "Springs stand at ports of an eighth of 1/beta: 0.1 %.",
        {"": _hetenyi_infinite},
    ),
    Check(
        "W04",
        "A supported square on springs under even pressure, from a soft to a stiff bed.",
        Source(f"{_BOOK}, section 58", Tag.MEMORY),
        _PLATE,
        "Springs act on patches of 1/40 of the side; moments are read at a corner of four elements.",
        {f"a/l = {reach:g}": partial(_supported, reach) for reach in (3.0, 5.0, 7.0, 10.0)},
    ),
    Check(
        "W05",
        "Short beams with free ends on springs under a force at mid.",
        Source(f"{_BEAM}, finite beam with free ends", Tag.MEMORY),
        _CONTACT,
        "Springs at 160 ports along the beam: 0.1 %.",
        {f"beta L = {reach:g}": partial(_hetenyi_finite, reach) for reach in (1.0, 2.0, 3.0)},
    ),
    Check(
        "U01",
        "A weightless beam on a bed that only presses: contact pi/(2 beta) to either side, whatever the force.",
        Source(f"{_BEAM} (beta L = pi); N. C. Tsai, R. A. Westmann, J. Eng. Mech. Div. 93 (1967)", Tag.MEMORY),
        _CONTACT,
        "The contact ends between two ports, an eighth of 1/beta apart; w is hardly touched by that.",
        {"": _beam_tensionless},
    ),
    Check(
        "U02",
        "A weightless plate on a bed that only presses: contact within 2.849 l of the force.",
        Source("derived: ber, bei and kei inside, a logarithm outside; the problem: Y. Weitsman, J. Appl. Mech. 37 "
               "(1970) 1019 (from memory)", Tag.DERIVED),
        _CONTACT,
        "Patches as above: 0.6 % in w; the radius by the area in contact, 2 %.",
        {"": _point_tensionless},
    ),
    Check(
        "U03",
        "A rigid block on a bed that only presses lifts once its force leaves the middle third.",
        Source("the middle third of masonry and footings, elementary statics", Tag.DERIVED),
        _CONTACT,
        "The block bends a little; the contact's end is known to one of forty rows of patches.",
        {f"e/L = {e:g}": partial(_rigid_block, e) for e in (0.0, 0.1, 0.25, 0.35)},
    ),
)  # fmt: skip

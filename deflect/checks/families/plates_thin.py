"""Thin rectangular plates: a thickness of 1/1000 of the side, where shear adds 0.0007 % and nothing else differs."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

import numpy as np

from deflect.checks.bench.plates import (
    SIDE,
    bend,
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
from deflect.checks.exact.rectangles import Bending, levy_even, levy_point, navier
from deflect.checks.exact.thin_ritz import thin_plate
from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.plate import Plate
from deflect.model.values import Rectangle
from deflect.sources import Source, Tag

ORDER, HEADING = 10, "Thin plates"
PLATE = "deflect.mechanics.plate.Plate"
THICKNESS = SIDE / 1000
# Discretisation alone: 0.003 % is seen under pressure, 0.01 % under a point force.
DEFLECTION = 2e-4
_BOOK = "S. Timoshenko, S. Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959"
_EDGES = {"F": None, "S": "hard", "C": "clamped"}
_SIDES = ("left", "right", "front", "back")


def _plate(ratio: float, elements: int) -> Plate:
    return rectangle(slab(THICKNESS), SIDE, ratio * SIDE, elements, round(elements * ratio))


def _held(plate: Plate, edges: str) -> Integers:
    kinds = {side: kind for side, letter in zip(_SIDES, edges, strict=True) if (kind := _EDGES[letter])}
    return np.unique(np.concatenate([held(plate, kind, (side,)) for side, kind in kinds.items()]))


def _read(plate: Plate, motion: Floats, ratio: float, per_force: bool) -> Bending:
    """As shares of q a^4/D and q a^2, or of P a^2/D and P."""
    power, unit = (2, 1.0) if per_force else (4, SIDE**2)
    mx, my, _ = moments(plate, motion) / unit
    return Bending(
        sinking(plate, motion) * rigidity(THICKNESS) / SIDE**power,
        mx,
        my,
        moments(plate, motion, SIDE / 2, 0)[0] / unit,
        moments(plate, motion, 0, ratio * SIDE / 2)[1] / unit,
    )


def _pressed(edges: str, ratio: float, elements: int) -> Bending:
    plate = _plate(ratio, elements)
    return _read(plate, bend(plate, even_pressure(plate), _held(plate, edges)), ratio, per_force=False)


def _patched(edges: str, ratio: float, elements: int, patch: tuple[float, float]) -> Bending:
    plate = _plate(ratio, elements)
    load = patch_force(plate, Rectangle(0, 0, patch[0] * SIDE, patch[1] * SIDE))
    return _read(plate, bend(plate, load, _held(plate, edges)), ratio, per_force=True)


def _pointed(edges: str, ratio: float, elements: int) -> float:
    plate = _plate(ratio, elements)
    return _read(plate, bend(plate, point_force(plate, 0, 0), _held(plate, edges)), ratio, per_force=True).deflection


def _levy(ratio: float, printed: tuple[str, str, str]) -> Sequence[Row]:
    exact, computed = levy_even(ratio), _pressed("SSSS", ratio, 14)
    return (
        Row("w D/(q a^4)", exact.deflection, computed.deflection, DEFLECTION, printed[0]),
        Row("Mx/(q a^2)", exact.mx, computed.mx, 5e-3, printed[1]),
        Row("My/(q a^2)", exact.my, computed.my, 5e-3, printed[2]),
    )


def _navier() -> Sequence[Row]:
    exact, computed = navier(), _pressed("SSSS", 1.0, 14)
    return (
        Row("w D/(q a^4)", exact.deflection, computed.deflection, DEFLECTION, "0.00406"),
        Row("Mx/(q a^2)", exact.mx, computed.mx, 5e-3, "0.0479"),
        Row("My/(q a^2)", exact.my, computed.my, 5e-3, "0.0479"),
    )


def _line() -> Sequence[Row]:
    plate = _plate(1.0, 20)
    motion = bend(plate, even_pressure(plate), held(plate, "hard"))
    m = np.arange(1, 200, 2)
    weight = 16 / np.pi**6 / np.outer(m, m) / (m[:, None] ** 2 + m**2) ** 2 * (-1.0) ** ((m - 1) // 2)
    rows = []
    for place in (0.05, 0.2, 0.35):
        exact = float((np.sin(m * np.pi * place)[:, None] * weight).sum())
        computed = sinking(plate, motion, (place - 0.5) * SIDE) * rigidity(THICKNESS) / SIDE**4
        rows.append(Row(f"w D/(q a^4) at x/a = {place:g}", exact, computed, 5e-4))
    return rows


def _point(ratio: float, printed: str) -> Sequence[Row]:
    return (Row("w D/(P a^2)", levy_point(ratio), _pointed("SSSS", ratio, 16), DEFLECTION, printed),)


def _patch(ratio: float, elements: int, patch: tuple[float, float], moment: float) -> Sequence[Row]:
    exact, computed = navier(ratio, patch), _patched("SSSS", ratio, elements, patch)
    return (
        Row("w D/(P a^2)", exact.deflection, computed.deflection, DEFLECTION),
        Row("Mx/P", exact.mx, computed.mx, moment),
        Row("My/P", exact.my, computed.my, moment),
    )


def _clamped(ratio: float, printed: tuple[str, ...]) -> Sequence[Row]:
    exact, computed = thin_plate("CCCC", ratio).bending(), _pressed("CCCC", ratio, 24 if ratio == 1 else 20)
    return (
        Row("w D/(q a^4)", exact.deflection, computed.deflection, DEFLECTION, printed[0]),
        Row("Mx/(q a^2)", exact.mx, computed.mx, 6e-3, printed[1]),
        Row("My/(q a^2)", exact.my, computed.my, 6e-3, printed[2]),
        Row("Mx/(q a^2), long edge", exact.edge_x, computed.edge_x, 1e-2, printed[3]),
        Row("My/(q a^2), short edge", exact.edge_y, computed.edge_y, 1e-2, printed[4]),
    )


def _clamped_point(ratio: float, printed: str) -> Sequence[Row]:
    fine, coarse = (thin_plate("CCCC", ratio, point=True, order=order).read(0, 0) for order in (24, 12))
    # The Ritz method gains two orders under a point force: take the known order out.
    exact = fine + (fine - coarse) / 3
    return (Row("w D/(P a^2)", exact, _pointed("CCCC", ratio, 20), 1e-3, printed),)


def _clamped_patch(patch: float) -> Sequence[Row]:
    exact = thin_plate("CCCC", 1.0, (patch, patch), order=24).bending()
    computed = _patched("CCCC", 1.0, 24, (patch, patch))
    return (
        Row("w D/(P a^2)", exact.deflection, computed.deflection, DEFLECTION),
        Row("Mx/P", exact.mx, computed.mx, 1e-2),
        Row("Mx/P, edge", exact.edge_x, computed.edge_x, 1e-2),
    )


def _mixed(edges: str) -> Sequence[Row]:
    exact, plate = thin_plate(edges), _plate(1.0, 24)
    motion = bend(plate, even_pressure(plate), _held(plate, edges))
    computed, bent = _read(plate, motion, 1.0, per_force=False), exact.bending()
    rows = [
        Row("w D/(q a^4)", bent.deflection, computed.deflection, 5e-4),
        Row("Mx/(q a^2)", bent.mx, computed.mx, 5e-3),
        Row("My/(q a^2)", bent.my, computed.my, 5e-3),
    ]
    if edges[1] == "F":
        at_edge = sinking(plate, motion, SIDE / 2) * rigidity(THICKNESS) / SIDE**4
        rows.append(Row("w D/(q a^4), free edge", exact.read(1, 0), at_edge, 5e-4))
    return rows


_THIN = "Discretisation alone: 0.003 % is seen in w (0.01 % under a point force). "
_CORNER = "Moments are read at a corner of four elements, where their error falls with the square of the size. "

CHECKS = (
    Check(
        "P01",
        "A simply supported thin square under even pressure sags and bends as Navier's double series says.",
        Source(f"L. Navier, 1823; {_BOOK}, table 8", Tag.MEMORY),
        PLATE,
        _THIN + _CORNER,
        {"": _navier},
    ),
    Check(
        "P02",
        "Simply supported thin rectangles of every ratio follow Levy's single series.",
        Source(f"M. Levy, C. R. Acad. Sci. 129 (1899); {_BOOK}, section 30 and table 8", Tag.MEMORY),
        PLATE,
        _THIN + _CORNER,
        {
            f"b/a = {ratio:g}": partial(_levy, ratio, printed)
            for ratio, printed in (
                (1.2, ("", "0.0627", "0.0501")),
                (1.5, ("0.00772", "0.0812", "0.0498")),
                (2.0, ("0.01013", "0.1017", "0.0464")),
                (3.0, ("0.01223", "0.1189", "0.0406")),
                (5.0, ("0.01297", "0.1246", "")),
            )
        },
        "The book prints w = 0.00564 at b/a = 1.2 and My = 0.0375 at b/a = 5; the series gives 0.00565 and 0.0377.",
    ),
    Check(
        "P03",
        "A central point force on simply supported thin rectangles.",
        Source(f"M. Levy 1899; {_BOOK}, section 34 and table 23", Tag.MEMORY),
        PLATE,
        _THIN + "In so thin a plate the logarithm of shear under the point is 0.001 % and not yet seen.",
        {
            f"b/a = {ratio:g}": partial(_point, ratio, printed)
            for ratio, printed in ((1.0, "0.01160"), (1.4, "0.01486"), (2.0, ""), (3.0, ""))
        },
        "The book prints 0.01651 at b/a = 2; the series gives 0.01652.",
    ),
    Check(
        "P04",
        "A centred square patch of force on a simply supported thin square.",
        Source(f"L. Navier, 1823; {_BOOK}, section 34 and table 20", Tag.MEMORY),
        PLATE,
        _THIN + "Under the smallest patch the moment's peak is four elements wide: 1.2 %.",
        {
            f"u/a = {patch:.3g}": partial(
                _patch, 1.0, 40 if patch < 0.3 else 20, (patch, patch), 1.2e-2 if patch < 0.15 else 4e-3
            )
            for patch in (0.1, 0.2, 0.4, 0.5, 2 / 3)
        },
    ),
    Check(
        "P05",
        "A centred patch of force on a simply supported thin rectangle of two to one.",
        Source(f"L. Navier, 1823; {_BOOK}, section 34", Tag.MEMORY),
        PLATE,
        _THIN + "Under the small patch the moment's peak is about five elements wide: 0.8 %.",
        {
            "0.2 a x 0.2 a": partial(_patch, 2.0, 24, (0.2, 0.2), 1e-2),
            "2/3 a x 4/3 a": partial(_patch, 2.0, 24, (2 / 3, 4 / 3), 1e-2),
        },
    ),
    Check(
        "P06",
        "A clamped thin square under even pressure, at its centre and at its edges.",
        Source(f"H. Hencky, 1913; T. H. Evans, J. Appl. Mech. 6 (1939); {_BOOK}, table 35", Tag.MEMORY),
        PLATE,
        _THIN + "At the clamped edge the moment is read one-sidedly where it changes fastest: 0.8 %.",
        {"": partial(_clamped, 1.0, ("0.00126", "", "", "-0.0513", "-0.0513"))},
        "The book prints 0.0231 for the moments at the centre; Hencky's and Evans's equations give 0.0229.",
    ),
    Check(
        "P07",
        "Clamped thin rectangles under even pressure.",
        Source(f"H. Hencky, 1913; T. H. Evans, J. Appl. Mech. 6 (1939); {_BOOK}, table 35", Tag.MEMORY),
        PLATE,
        _THIN + "At the clamped edge the moment is read one-sidedly where it changes fastest: 0.8 %.",
        {
            "b/a = 1.5": partial(_clamped, 1.5, ("0.00220", "0.0368", "0.0203", "-0.0757", "-0.0570")),
            "b/a = 2": partial(_clamped, 2.0, ("0.00254", "0.0412", "0.0158", "-0.0829", "")),
        },
        "At the short edge of b/a = 2 the book prints -0.0571; the Ritz method gives -0.0570.",
    ),
    Check(
        "P08",
        "A central point force on clamped thin rectangles.",
        Source(f"{_BOOK}, table 37; exact figures by a Ritz method, ours", Tag.MEMORY),
        PLATE,
        "The Ritz method's own extrapolation leaves 0.05 %, the mesh 0.02 %.",
        {
            f"b/a = {ratio:g}": partial(_clamped_point, ratio, printed)
            for ratio, printed in ((1.0, ""), (2.0, "0.00722"))
        },
        "The book prints 0.00560 for the square; the Ritz method and the mesh agree on 0.00561.",
    ),
    Check(
        "P09",
        "A centred square patch of force on a clamped thin square.",
        Source("no published table known to us; exact figures by a Ritz method", Tag.OURS),
        PLATE,
        _THIN + "Moments: the Ritz method's own error below the patch is 0.3 %, the mesh's 0.4 %.",
        {f"u/a = {patch:.3g}": partial(_clamped_patch, patch) for patch in (0.2, 0.5, 2 / 3)},
    ),
    Check(
        "P10",
        "Thin squares with clamped, supported and free edges under even pressure (left, right, front, back).",
        Source(f"{_BOOK}, sections 41 to 47; exact figures by a Ritz method, ours", Tag.MEMORY),
        PLATE,
        "Discretisation: 0.03 % along a free edge. " + _CORNER,
        {edges: partial(_mixed, edges) for edges in ("CCSS", "CSSS", "CSCS", "CFSS", "SFSS", "FFSS")},
    ),
    Check(
        "P11",
        "Not at the centre alone: the deflection of a supported thin square along its middle line.",
        Source("L. Navier, 1823: the double series at other places", Tag.DERIVED),
        PLATE,
        "0.04 % is seen next to the edge.",
        {"": _line},
    ),
)

"""The press's own acceptance test: its table alone, under rated force over a stated share."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy.sparse as sparse
from scipy.optimize import brentq

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, symmetric
from deflect.mechanics.bed_walls import wall_answer
from deflect.mechanics.body import condense_table, on_material
from deflect.mechanics.contact import solve_contact
from deflect.mechanics.contract import TableBody
from deflect.mechanics.loads import rectangle_points
from deflect.mechanics.support import LAND_GIVE, land_compliance
from deflect.model.press import Press
from deflect.model.values import Interval, Rectangle

# Where only the allowed deflection is known, the press is taken to use this share of it (common
# practice, no source: makers keep a reserve, and few keep more than half).
USED_SHARE = (0.5, 0.75, 1.0)
# Stiffness of a land in N/mm3 between which a fit is sought: softer is no press, stiffer is rigid.
SOFTEST, STIFFEST = 2.0, 2000.0
# Points along each half of a reference line.
_LINE_POINTS = 41


@dataclass(frozen=True)
class Sag:
    """Sag of the table's top along x and y, mm, each over its reference length (mm); sinking: mean
    movement of the ends, mm downward."""

    along_x: float
    along_y: float
    reference_length: float
    reference_width: float
    sinking: float

    @property
    def slope(self) -> float:
        """The greater sag per reference length, mm/mm."""
        return max(self.along_x / self.reference_length, self.along_y / self.reference_width)


def reference(press: Press) -> tuple[float, float]:
    """Reference length along x and width along y, mm: the press's own, else the bed opening's."""
    if press.acceptance is None:
        return press.bed.opening.length, press.bed.opening.width
    return press.acceptance.reference_length, press.acceptance.reference_width


def measure_sag(table: TableBody, motion: Floats, press: Press) -> Sag:
    """Read the sag off a movement (N,) of the table from the unloaded state."""
    middle = (press.bed.opening.x, press.bed.opening.y)
    depth, ends, measured = [], [], []
    for axis, extent in enumerate(reference(press)):
        half_table = (press.bolster.length if axis == 0 else press.bolster.width) / 2
        reach = min(extent / 2, half_table - abs(middle[axis]))
        points = np.tile(middle, (_LINE_POINTS, 1)).astype(float)
        points[:, axis] += np.linspace(-reach, reach, _LINE_POINTS)
        on = on_material(table, points)
        place = points[on, axis]
        if place.size < 3:
            raise MechanicsFailed(
                "the line along which the table's sag is measured lies over a cut-out of the bolster: check "
                "acceptance.reference_length and reference_width against the cut-outs"
            )
        height = table.top(points[on]).surface @ motion
        chord = np.interp(place, [place[0], place[-1]], [height[0], height[-1]])
        depth.append(float(np.max(chord - height)))
        measured.append(float(place[-1] - place[0]))
        ends += [height[0], height[-1]]
    return Sag(depth[0], depth[1], measured[0], measured[1], -float(np.mean(ends)))


def acceptance_sag(press: Press, bed_stiffness: float, land_give: float = LAND_GIVE[1]) -> Sag:
    """Sag of the table alone under rated force, spread as the acceptance test says (0.6 if it is not stated)."""
    table = condense_table(press.bolster.as_plate, press.bed.opening)
    share = 0.6 if press.acceptance is None else press.acceptance.loaded_share
    bolster = press.bolster
    points, weight = rectangle_points(Rectangle(0.0, 0.0, share * bolster.length, share * bolster.width))
    on = on_material(table, points)
    if not on.any():
        raise MechanicsFailed("the loaded area of the acceptance test lies over a cut-out of the bolster")
    points, weight = points[on], weight[on]
    load = table.plate.at(points).surface.T @ (-weight * (press.rated_force / weight.sum()))
    free = table.plate.respond(sparse.csr_array(load[None, :]))[:, 0]
    rows = table.land_rows
    compliance = rows @ table.land_answer
    compliance = symmetric(compliance)
    land = land_compliance(table.land_squeeze, bed_stiffness, land_give)
    compliance[np.diag_indices_from(compliance)] += land / table.land.area
    if press.bed.land.walls is not None:
        compliance += wall_answer(press.bed.land.walls, table.land.centre)
    rigid = table.plate.rigid
    solved = solve_contact(compliance, rows @ rigid, rows @ free, -(rigid.T @ load))
    motion = table.land_answer @ solved.force + free + rigid @ solved.rigid
    return measure_sag(table, motion, press)


def land_from_allowance(press: Press) -> Interval:
    """Stiffness of the land, N/mm3, at which the table uses 50 to 100 % of its allowed deflection.

    Raises MechanicsFailed, naming the inputs, where the bolster alone exceeds the allowance.
    """
    if press.acceptance is None:
        raise MechanicsFailed(
            f'press "{press.name}": nothing tells how stiff the bed is: give bed.land_stiffness, or bed.walls, '
            "or acceptance.allowed_deflection"
        )
    allowed = press.acceptance.slope

    def excess(logarithm: float, share: float) -> float:
        return acceptance_sag(press, float(np.exp(logarithm))).slope - share * allowed

    low, high = np.log(SOFTEST), np.log(STIFFEST)
    alone = acceptance_sag(press, np.inf).slope
    if alone > allowed:
        raise MechanicsFailed(
            f'press "{press.name}": inputs contradict each other: the bolster alone ({press.bolster.thickness:g} mm '
            f"{press.bolster.material.name} over an opening of {press.bed.opening.length:g} x "
            f"{press.bed.opening.width:g} mm) sags {alone * 1e3:.3f} mm/m under the rated force even on a rigid bed, "
            f"more than the allowed {allowed * 1e3:.3f} mm/m: look again at bolster.thickness, bed.opening, "
            "rated_force, acceptance.loaded_share and acceptance.allowed_deflection"
        )

    def stiffness(share: float) -> float:
        if excess(high, share) >= 0:
            return STIFFEST
        if excess(low, share) <= 0:
            return SOFTEST
        return float(np.exp(brentq(excess, low, high, args=(share,), xtol=0.02)))

    stiff, usual, soft = (stiffness(share) for share in USED_SHARE)
    return Interval(min(soft, usual), usual, max(stiff, usual))


def bed_stiffness(press: Press) -> Interval:
    """Stiffness of the bed below the land, N/mm3: the measured or stated one, else from the allowed deflection."""
    if press.calibration is not None:
        return press.calibration.land_stiffness
    stated = press.bed.land.stiffness
    return land_from_allowance(press) if stated is None else stated

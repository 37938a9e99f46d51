"""Ribs and walls seen from above: a frame whose members bend sideways as the body twists.

A twisted body's ribs shift at their feet so that crossing ones no longer stand square: each bends into an S between
the ones that cross it, and the joints turn until they are in balance.  In a body of few bays the outer walls are a
large part of that frame, and their corners stiff; one endless formula for all bays does not know of them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import scipy.sparse as sparse
import scipy.sparse.linalg as sparse_linalg

from deflect.faults import MechanicsFailed
from deflect.mechanics.arrays import Floats, Integers
from deflect.mechanics.sections.plate_section import SHEAR_CORRECTION
from deflect.model.material import Material
from deflect.model.ribs import RibPattern
from deflect.model.values import Rectangle

# Share of a crossing rib's thickness over which a rib does not bend sideways: ours, from cells of solid elements
# (17 open patterns, one value for all).
JOINT = 0.6
# Torsion of a rib b x h on a skin: b^3 h / 3, less what its free end loses, this times b^4, and more by what the joint
# with the skin gains (M. H. El Darwish, B. G. Johnston, Torsion of structural shapes, J. Struct. Div. ASCE 91 (1965)
# 203, as constructional steel tables print it for T-joints; from memory).
FREE_END = 0.105
_T_JOINT = (-0.042, 0.2204, -0.0725)
# Derived: the mean square of 1 - 6 s (1 - s), by which the slope of a beam bent into an S departs from its mean.
_PARABOLA = 0.2
# How far the lines along x and along y turn as the angle between them closes by one: half of it each.
_TURNED = (0.5, -0.5)


@dataclass(frozen=True)
class RibGrid:
    """Ribs and walls along x and along y: (middle across, thickness) of each, in order, mm.

    reach: how far those along x, and those along y, go: their product is the plan over which all is smeared.
    repeat: distances along x and y after which an endless grid of one rib each way begins anew; None: it has an end.
    """

    along_x: tuple[tuple[float, float], ...]
    along_y: tuple[tuple[float, float], ...]
    reach: tuple[float, float]
    repeat: tuple[float, float] | None = None

    @staticmethod
    def of(pattern: RibPattern, plan: Rectangle) -> RibGrid:
        """All ribs and outer walls of a body."""
        return RibGrid(pattern.rib_strips(plan, "x"), pattern.rib_strips(plan, "y"), (plan.length, plan.width))

    @staticmethod
    def endless(thickness: tuple[float, float], pitch: tuple[float, float], bay: tuple[float, float]) -> RibGrid:
        """Ribs along x and y without an end, each standing for ``pitch`` and ``bay`` apart; no thickness: none so."""
        lines = [((0.0, b),) if b > 0 else () for b in thickness]
        # A rib that none crosses: a piece of it is as good as all of it.
        reach = tuple(p if b > 0 else 1.0 for b, p in zip(thickness[::-1], pitch[::-1], strict=True))
        return RibGrid(lines[0], lines[1], (reach[0], reach[1]), (bay[1], bay[0]))

    @property
    def area(self) -> float:
        return self.reach[0] * self.reach[1]

    def shear(self, material: Material) -> float:
        """Shear stiffness in plan of a unit height, smeared, MPa: of beams with bending and shear.  Derived.

        For a square grid of thin ribs it tends to E (b/p)^3 / 2 (L. J. Gibson, M. F. Ashby, Cellular Solids, 1988;
        from memory).
        """
        return _shear(self, material)[0]

    def torsion(self, height: float, skin: float, material: Material) -> float:
        """What the ribs' own torsion adds to the twisting stiffness, N mm: a quarter of G J per pitch, of both ways.

        A rib twists as its slope in the bent frame grows with its height; thick walls stay nearly straight in it.
        height: of the ribs below the skin, skin: its thickness, mm; 0: the ribs stand alone.
        """
        total, turning = 0.0, _shear(self, material)[1]
        for way, lines in enumerate((self.along_x, self.along_y)):
            members = self._members(way)
            twist = members.twist(turning / _TURNED[way], material)
            for number, (_, thickness) in enumerate(lines):
                own, length = members.line == number, self.reach[way]
                if own.any():
                    share = float(np.average(twist[own], weights=members.span[own]))
                    ends = turning[[members.start[own][0], members.end[own][-1]]] / _TURNED[way]
                    # Beyond its last joints a wall twists as they turn.
                    beyond = length - float(members.span[own].sum()) if self.repeat is None else 0.0
                    length = (length - beyond) * share + beyond * float(np.mean(ends**2))
                total += rib_torsion(height, thickness, skin) * length
        return material.shear_modulus * total / (4 * self.area)

    def _members(self, way: int) -> _Members:
        """The pieces between crossings of all ribs along x (0) or y (1)."""
        lines, across = (self.along_x, self.along_y) if way == 0 else (self.along_y, self.along_x)
        place, joint = np.array(across).reshape(-1, 2).T
        first = np.arange(place.size)
        if self.repeat is None:
            first = first[:-1]
            after, span = first + 1, np.diff(place)
        else:
            after, span = first, np.full(first.size, self.repeat[way])
        count, each = len(lines), first.size
        line = np.repeat(np.arange(count), each)
        first, after, span = (np.tile(v, count) for v in (first, after, span))
        step = (len(self.along_y), 1) if way == 0 else (1, len(self.along_y))
        return _Members(
            line=line,
            start=line * step[0] + first * step[1],
            end=line * step[0] + after * step[1],
            span=span,
            thickness=np.array([thickness for _, thickness in lines])[line],
            offset=JOINT / 2 * np.array([joint[first], joint[after]]),
        )


@dataclass(frozen=True, eq=False)
class _Members:
    """Pieces of ribs: their line, the joints at both ends, length, thickness, how far the joints are stiff (2, n)."""

    line: Integers
    start: Integers
    end: Integers
    span: Floats
    thickness: Floats
    offset: Floats

    @property
    def clear(self) -> Floats:
        return np.asarray(self.span - self.offset.sum(axis=0))

    def twist(self, turning: Floats, material: Material) -> Floats:
        """Mean square of the twist along each piece against that of the whole body.  Derived.

        turning: of the joints, as a share of how far a line of this way turns.  A rib twists as its sideways slope
        grows with height: by the joints' turning over their stiff length, and between them by the slope of a beam,
        whose mean makes up the rest, with a straight part (bending alone) and a parabola (an S).
        """
        ends = turning[np.stack([self.start, self.end])]
        mean = (self.span - (self.offset * ends).sum(axis=0)) / self.clear
        both, differ = ends.mean(axis=0) - mean, (ends[1] - ends[0]) / 2
        straight = 1.0 / (1.0 + self.softness(material))
        between = mean**2 + differ**2 / 3 + _PARABOLA * (both * straight) ** 2
        return np.asarray((between * self.clear + (self.offset * ends**2).sum(axis=0)) / self.span)

    def softness(self, material: Material) -> Floats:
        """Shear against bending of each piece, 12 E I / (k G A L^2) of Timoshenko's beam."""
        carried = SHEAR_CORRECTION * material.shear_modulus * self.clear**2
        return np.asarray(_plate_modulus(material) * self.thickness**2 / carried)


@lru_cache(maxsize=256)
def _shear(grid: RibGrid, material: Material) -> tuple[float, Floats]:
    """Shear stiffness of a unit height, and how far each joint turns under a unit angle."""
    joints = len(grid.along_x) * len(grid.along_y)
    if joints == 0:
        return 0.0, np.zeros(0)
    rows, columns, values = [], [], []
    load, direct = np.zeros(joints), 0.0
    for way, turned in enumerate(_TURNED):
        members = grid._members(way)
        clear = members.clear
        if (clear <= 0).any():
            raise MechanicsFailed("ribs stand so close that nothing is left between them: check their pitch")
        softness = members.softness(material)
        one = _plate_modulus(material) * members.thickness**3 / (12 * clear * (1 + softness))
        stiffness = np.moveaxis(one * np.array([[4 + softness, 2 - softness], [2 - softness, 4 + softness]]), 2, 0)
        # How the ends turn against the line between them: by the joints' turning, and by the unit angle of the whole.
        by_joints = np.eye(2) + np.repeat((members.offset / clear).T[:, None, :], 2, axis=1)
        by_angle = np.repeat((-turned * members.span / clear)[:, None], 2, axis=1)
        at = np.stack([members.start, members.end], axis=1)
        coupled = np.einsum("nki,nkl,nlj->nij", by_joints, stiffness, by_joints)
        pushed = np.einsum("nki,nkl,nl->ni", by_joints, stiffness, by_angle)
        rows.append(np.repeat(at, 2, axis=1).ravel())
        columns.append(np.tile(at, (1, 2)).ravel())
        values.append(coupled.ravel())
        np.add.at(load, at, pushed)
        direct += float(np.einsum("nk,nkl,nl->", by_angle, stiffness, by_angle))
    entries = (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns)))
    matrix = sparse.csc_array(sparse.coo_array(entries, shape=(joints, joints)))
    turning = -np.atleast_1d(sparse_linalg.spsolve(matrix, load))
    return (direct + float(load @ turning)) / grid.area, turning


def _plate_modulus(material: Material) -> float:
    """Modulus of a rib that is too tall to narrow as it bends sideways."""
    return material.youngs_modulus / (1 - material.poisson_ratio**2)


def rib_torsion(height: float, thickness: float, skin: float) -> float:
    """Saint-Venant torsion constant that a rib adds to its skin (0: it stands alone, with two free ends), mm4."""
    short, tall = sorted((height, thickness))
    ends = 1 if skin > 0 else 2
    plain = short**3 * tall / 3 - ends * FREE_END * short**4
    if skin == 0.0:
        return plain
    # The greatest circle in the joint touches the outer face and both corners; below a thin skin it is the rib's; in a
    # low, wide rib it touches both faces.
    circle = min(skin + thickness**2 / (4 * skin) if thickness < 2 * skin else thickness, skin + height)
    share = min(thickness / skin, 1.0)
    gain = float(np.polynomial.polynomial.polyval(share, _T_JOINT))
    return plain + max(gain, 0.0) * circle**4

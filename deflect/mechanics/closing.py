"""Lower half against upper half, through the sheet: both stacks and the faces between them in one contact problem.

Each half is a body on its own ports (contact, land or hanging points, guides); the faces are ports that both halves
share.  The drive of the slide is a body without elasticity that moves the upper ends of all hanging points alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from deflect.mechanics.arrays import Flags, Floats, Integers, symmetric
from deflect.mechanics.body import PATCH_POINTS
from deflect.mechanics.contact import ContactSolution, solve_contact
from deflect.mechanics.contract import BaseBody
from deflect.mechanics.hanging import Hanging
from deflect.mechanics.loading import Loads, Response, downward, working_loads
from deflect.mechanics.loads import Patches, PointForces, patch_grid, pattern_forces, ring_parts
from deflect.mechanics.standing import Assumptions, Standing, couple
from deflect.mechanics.support import FACE_GIVE, FAR_FACE_GIVE
from deflect.model.case import Case
from deflect.model.die import Die, Sheet
from deflect.model.force import Line, Patch, Pattern, Ring
from deflect.model.values import Rectangle

# Sides of a patch of the face, mm, at most: as those below the base.
FACE_PATCH = 100.0
# Stiffness of a sheet of steel under pressure through its thickness: E/t, E of steel in MPa (EN 1993-1-1, 3.2.6;
# from memory).  What oil and roughness give comes on top and is not known: the sheet's own input.
STEEL = 210e3


@dataclass(frozen=True, eq=False)
class FaceGrid:
    """Where the faces close on the sheet: patches (f,) in die axes, even: force of each if all press alike, N;
    pattern (f,): number of the closing pattern that each belongs to."""

    patches: Patches
    even: Floats
    pattern: Integers

    @property
    def count(self) -> int:
        return self.patches.area.size


def closing_patterns(die: Die) -> tuple[tuple[Pattern, ...], tuple[Pattern, ...]]:
    """The patterns where the faces close solid, and those whose force is given."""
    solid = tuple(p for p in die.patterns if p.bottoms and not isinstance(p, Line))
    return solid, tuple(p for p in die.patterns if p not in solid)


def face_grid(die: Die, force: float) -> FaceGrid:
    """Patches over the areas that close solid; ``force``: on all patterns together, N."""
    grids, even, counts = list[Patches](), list[Floats](), list[int]()
    for pattern in closing_patterns(die)[0]:
        assert not isinstance(pattern, Line)
        areas = ring_parts(pattern.outer, pattern.inner) if isinstance(pattern, Ring) else [pattern.area]
        parts = [patch_grid(*(_lines(a.left, a.right), _lines(a.front, a.back))) for a in areas]
        whole = sum(float(part.area.sum()) for part in parts)
        grids += parts
        counts.append(sum(part.area.size for part in parts))
        even += [part.area * (pattern.share * force / whole) for part in parts]
    centre = np.concatenate([g.centre for g in grids])
    length, width = (np.concatenate([getattr(g, side) for g in grids]) for side in ("length", "width"))
    return FaceGrid(Patches(centre, length, width), np.concatenate(even), np.repeat(np.arange(len(counts)), counts))


def patterns_as_closed(die: Die, faces: FaceGrid, pressure: Floats, force: float) -> tuple[Pattern, ...]:
    """The force patterns of a die with each that closes solid replaced by its patches, as hard as they press.

    pressure (f,): MPa; force: on all patterns together, N.
    """
    solid, given = closing_patterns(die)
    patches, share = faces.patches, pressure * faces.patches.area / force
    closed = []
    for k, number in enumerate(faces.pattern):
        (x, y), pattern = patches.centre[k], solid[number]
        area = Rectangle(float(x), float(y), float(patches.length[k]), float(patches.width[k]))
        closed.append(Patch(float(share[k]), area, pattern.name, pattern.on_return, bottoms=True))
    return (*closed, *given)


def reading_grid(area: Rectangle) -> FaceGrid:
    """Patches over a working surface that closes nowhere: they are read, and carry nothing."""
    patches = patch_grid(_lines(area.left, area.right), _lines(area.front, area.back))
    return FaceGrid(patches, np.zeros(patches.area.size), np.zeros(patches.area.size, dtype=np.int64))


def _lines(low: float, high: float) -> Floats:
    return np.linspace(low, high, max(1, int(np.ceil((high - low) / FACE_PATCH - 1e-9))) + 1)


@dataclass(frozen=True, eq=False)
class Half:
    """One half with its faces' ports, in its own direction: up for the lower half, down for the upper one.

    compliance (n, n) mm/N, modes (n, 6), gap (n,) mm under weights and given forces, bilateral (n,).
    across (n, f): what unit forces on the face open at the ports; face_compliance (f, f): by what they press the
    face back; face_modes (f, 6): by what rigid motions open the faces; face_gap (f,): by what the given loads do;
    face_answer (N_d, f): the base's motion under them.  guide_give, guide_lever: of an upper half's guides.
    """

    standing: Standing
    taking_part: Flags
    loads: Response
    compliance: Floats
    modes: Floats
    gap: Floats
    bilateral: Flags
    across: Floats
    face_compliance: Floats
    face_modes: Floats
    face_gap: Floats
    face_answer: Floats
    guide_give: Floats
    guide_lever: float = 0.0

    @property
    def count(self) -> int:
        return self.gap.size

    def pressed(self, face_force: Floats, start: Flags | None = None) -> tuple[ContactSolution, Floats]:
        """The half alone under given forces on its face (f,), N: its contact, and by what its face opens (f,), mm."""
        solved = solve_contact(
            self.compliance,
            self.modes,
            self.gap + self.across @ face_force,
            self.face_modes.T @ -face_force - self.loads.resultant,
            self.bilateral,
            start,
        )
        return solved, self.opening(solved.force, face_force, solved.rigid)

    def opening(self, force: Floats, face_force: Floats, rigid: Floats) -> Floats:
        """By what the face lies back from where it was made (f,), mm."""
        moved = self.face_gap + self.across.T @ force + self.face_compliance @ face_force
        return np.asarray(moved + self.face_modes @ rigid)

    def base_motion(self, force: Floats, face_force: Floats, rigid: Floats) -> Floats:
        """Motion of the die base (N_d,)."""
        s = self.standing
        elastic = s.base_answer @ force[: s.contacts] + self.loads.base + self.face_answer @ face_force
        return np.asarray(elastic + s.base.rigid @ rigid[3:])

    def tilt(self, force: Floats) -> Floats:
        """Tilt of the slide against its guides along x and y (2,), rad, in its own direction; none without guides."""
        give, lever = self.guide_give, self.guide_lever
        return np.zeros(2) if lever == 0 else np.asarray(-force[self.count - give.size :] * give / lever)


def lower_half(standing: Standing, assumptions: Assumptions, case: Case, faces: FaceGrid) -> Half:
    """The lower half on its table, under its weight, its clamps and the forces that are given."""
    forces = _forces(closing_patterns(case.die)[1], case.base_force)
    loads = working_loads(case, standing.table, standing.base, forces)
    return _half(standing, assumptions, _pressed(standing, forces, loads), faces)


def upper_half(hanging: Hanging, assumptions: Assumptions, case: Case, faces: FaceGrid) -> Half:
    """The upper half below its slide; the blank holder presses on it with the cushion's force."""
    standing, die = hanging.standing, case.die
    forces = _forces(closing_patterns(die)[1], case.base_force)
    if die.blank_holder is not None and die.cushion_force > 0:
        ring = _forces((die.blank_holder.pattern,), die.cushion_force)
        forces = PointForces(np.vstack([forces.points, ring.points]), np.append(forces.force, ring.force))
    loads = Loads(np.zeros(standing.table.motions), downward(standing.base, forces))
    half = _half(standing, assumptions, _pressed(standing, forces, loads), faces)
    return _guided(half, hanging)


def _forces(patterns: Sequence[Pattern], total: float) -> PointForces:
    return pattern_forces(patterns, total) if patterns else PointForces(np.zeros((0, 2)), np.zeros(0))


def _pressed(standing: Standing, forces: PointForces, loads: Loads) -> Response:
    """Weights, clamps and given forces, and what their pressure lifts at the underside."""
    return standing.constant + standing.pressed(loads, forces)


def _half(standing: Standing, assumptions: Assumptions, loads: Response, faces: FaceGrid) -> Half:
    coupled = couple(standing, assumptions)
    base, contacts = standing.base, standing.contacts
    points, average = faces.patches.quadrature(PATCH_POINTS)
    rows = (average @ base.top(points).surface).tocsr()
    answer = -base.respond(rows)
    squeeze = base.squeeze[_nearest(base, faces.patches.centre)]
    through = _through(standing, faces)
    across = np.zeros((standing.compliance.shape[0], faces.count))
    across[:contacts] = standing.base_rows @ answer + through
    own = -(rows @ answer)
    own = symmetric(own)
    own[np.diag_indices(faces.count)] += FACE_GIVE * squeeze / faces.patches.area
    modes = np.zeros((faces.count, 6))
    modes[:, 3:] = -(rows @ base.rigid)
    return Half(
        standing=standing,
        taking_part=coupled.taking_part,
        loads=loads,
        compliance=coupled.compliance,
        modes=standing.modes[coupled.index],
        gap=(coupled.gap + loads.ports)[coupled.index],
        bilateral=coupled.bilateral,
        across=across[coupled.index],
        face_compliance=own,
        face_modes=modes,
        face_gap=-(rows @ loads.base),
        face_answer=answer,
        guide_give=np.zeros(0),
    )


def _nearest(base: BaseBody, points: Floats) -> Floats:
    """Numbers of the base's patches that points (m, 2) lie in."""
    column, row = (
        np.clip(np.searchsorted(lines, points[:, axis]) - 1, 0, lines.size - 2) for axis, lines in enumerate(base.lines)
    )
    return np.asarray(column * (base.lines[1].size - 1) + row)


def _through(standing: Standing, faces: FaceGrid) -> Floats:
    """What a unit force on each patch of the face opens below the base by its squeeze alone (n_c, f), mm/N.

    By reciprocity the same opens the face under a unit force below; where both sides of a section differ, the stiffer
    one is taken, so that the matrix stays definite.
    """
    base, pick = standing.base, np.flatnonzero(standing.bears)
    give = FAR_FACE_GIVE * np.minimum(base.squeeze, base.squeeze_below)[pick]
    below, above = base.patches, faces.patches
    shared = np.ones((pick.size, faces.count))
    for axis, (low, high) in enumerate(((below.length, above.length), (below.width, above.width))):
        a, b = below.centre[pick, axis][:, None], above.centre[:, axis][None, :]
        half_a, half_b = low[pick][:, None] / 2, high[None, :] / 2
        shared *= np.maximum(np.minimum(a + half_a, b + half_b) - np.maximum(a - half_a, b - half_b), 0.0)
    return np.asarray(give[:, None] * shared / below.area[pick][:, None] / above.area[None, :])


def _guided(half: Half, hanging: Hanging) -> Half:
    """The same half with ports at the slide's guides."""
    rows, standing = hanging.guide_rows, half.standing
    g = rows.shape[0]
    if g == 0:
        return half
    answer = standing.table.respond(rows)
    cross = (standing.signed_rows @ answer)[half.taking_part]
    own = rows @ answer
    own = symmetric(own) + np.diag(hanging.guide_give)
    modes = np.zeros((g, 6))
    modes[:, :3] = rows @ standing.table.rigid
    return replace(
        half,
        compliance=np.block([[half.compliance, cross], [cross.T, own]]),
        modes=np.vstack([half.modes, modes]),
        gap=np.append(half.gap, rows @ half.loads.table),
        bilateral=np.append(half.bilateral, np.ones(g, dtype=bool)),
        across=np.vstack([half.across, np.zeros((g, half.across.shape[1]))]),
        guide_give=hanging.guide_give,
        guide_lever=hanging.slide.guides.length / 2 if hanging.slide.guides is not None else 0.0,
    )


def sheet_give(sheet: Sheet | None) -> float:
    """By how much the sheet is squeezed under pressure, mm/MPa; a die without a sheet closes metal on metal."""
    if sheet is None:
        return 0.0
    return 1 / sheet.stiffness if sheet.stiffness is not None else sheet.thickness / STEEL


@dataclass(frozen=True, eq=False)
class Closed:
    """Both halves closed on the sheet: forces (f,) N and gaps (f,) mm of the faces, forces of either half's ports,
    rigid motions of both and of the drive, and the evidence."""

    lower: Half
    upper: Half
    faces: FaceGrid
    solved: ContactSolution

    @property
    def lower_force(self) -> Floats:
        return self.solved.force[: self.lower.count]

    @property
    def upper_force(self) -> Floats:
        return self.solved.force[self.lower.count : self.lower.count + self.upper.count]

    @property
    def face_force(self) -> Floats:
        return self.solved.force[self.lower.count + self.upper.count :]

    @property
    def face_gap(self) -> Floats:
        """What is open between the sheet and a face (f,), mm."""
        return self.solved.gap[self.lower.count + self.upper.count :]

    @cached_property
    def lower_motion(self) -> Floats:
        return self.lower.base_motion(self.lower_force, self.face_force, self.solved.rigid[:6])

    @cached_property
    def upper_motion(self) -> Floats:
        return self.upper.base_motion(self.upper_force, self.face_force, self.solved.rigid[6:12])


def close(
    lower: Half,
    upper: Half,
    faces: FaceGrid,
    hanging: Hanging,
    force: float,
    gap: Floats,
    give: float,
    start: tuple[Flags, Flags] | None = None,
) -> Closed:
    """Close the halves under ``force`` at the slide, N; gap (f,): between the faces as made, mm, beyond a rigid fit.

    give: of the sheet, mm/MPa; start: ports of either half that are closed in a state like it.
    Raises MechanicsFailed where what is described cannot hold the halves.
    """
    a, b, f = lower.count, upper.count, faces.count
    compliance = np.zeros((a + b + f, a + b + f))
    compliance[:a, :a], compliance[a : a + b, a : a + b] = lower.compliance, upper.compliance
    compliance[:a, a + b :], compliance[a + b :, :a] = lower.across, lower.across.T
    compliance[a : a + b, a + b :], compliance[a + b :, a : a + b] = upper.across, upper.across.T
    compliance[a + b :, a + b :] = lower.face_compliance + upper.face_compliance + np.diag(give / faces.patches.area)
    modes = np.zeros((a + b + f, 13))
    modes[:a, :6], modes[a : a + b, 6:12] = lower.modes, upper.modes
    modes[a + b :, :6], modes[a + b :, 6:12] = lower.face_modes, upper.face_modes
    # The drive presses on the hanging points with what the halves close with, less what hangs.
    first = a + hanging.standing.contacts
    modes[first : first + hanging.points, 12] = -1.0
    resultant = -np.concatenate([lower.loads.resultant, upper.loads.resultant, [force - _hung(hanging)]])
    closed = np.concatenate([*(start or (np.ones(a, dtype=bool), np.ones(b, dtype=bool))), np.ones(f, dtype=bool)])
    bilateral = np.concatenate([lower.bilateral, upper.bilateral, np.zeros(f, dtype=bool)])
    opened = np.concatenate([lower.gap, upper.gap, gap + lower.face_gap + upper.face_gap])
    return Closed(lower, upper, faces, solve_contact(compliance, modes, opened, resultant, bilateral, closed))


def _hung(hanging: Hanging) -> float:
    """Weight of slide and upper half, N: what the constant loads pull away from the slide."""
    resultant = hanging.standing.constant.resultant
    return float(resultant[0] + resultant[3])

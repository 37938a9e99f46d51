"""What would make a stand-in press behave like the production press: each measure sized by solving it anew."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache

import numpy as np
from scipy.optimize import minimize_scalar

from deflect.mechanics.arrays import Flags
from deflect.mechanics.difference import Difference, Shape, face_difference, shape_of
from deflect.mechanics.likeness import Setting, Told, told_of
from deflect.mechanics.mounting import reaches
from deflect.mechanics.standing import Standing, State
from deflect.model.case import EDGE_SLACK, Case
from deflect.model.die import Shim
from deflect.model.press import SubPlate, SupportPost
from deflect.model.values import Rectangle
from deflect.sizing.face_shims import fields_of, shims_for_face
from deflect.sizing.post_places import MOST, STEP, WIDEST, post_places

# Forces are set in steps of this, N; at least this share of the stated one is tried, in so many places (ours).
FORCE_STEP, LEAST_FORCE, _FORCES = 1e5, 0.3, 8
# No die is pressed harder than on its production press by more than this (ours).
MOST_FORCE = 1.1
# The cushion is set in steps of this, N, between these shares of its stated force: beyond them the panel is another
# one (ours).
CUSHION_STEP, LEAST_CUSHION, MOST_CUSHION = 5e4, 0.5, 1.5
# A die is moved in T-slot pitches, else by this, mm; so many of them at most (ours).
MOVE, _MOVES = 200.0, 2
# Sub-plates that are tried, mm; how far they reach beyond the die, mm (common practice, no source).
PLATES, OVERHANG = (60.0, 100.0, 150.0), 150.0
# Shims: fields of about this size, in steps of this thickness, mm (common practice, no source).
SHIM_FIELD, SHIM_STEP = 400.0, 0.05
# A post out of reach stands this far below the bolster, mm.
_AWAY = 100.0
# A die that stands on less of its base than this, and on less than without the measure, rocks (common practice).
LEAST_CONTACT = 0.5
# What is left must fall by this share for a measure to count as helping (ours).
_HELPS = 0.02

Progress = Callable[[str], None]


class Kind(StrEnum):
    """The measures, the least effort first."""

    FORCE = "force"
    CUSHION = "cushion"
    MOVE = "move"
    SHIMS = "shims"
    FORCE_AND_SHIMS = "force and shims"
    POSTS = "posts"
    SUB_PLATE = "sub-plate"


@dataclass(frozen=True, eq=False)
class Measure:
    """One measure as it was solved: the changed case, what it leaves of the face's difference, and what gap, contact
    and sag become.  continuous: what shims of any thickness would leave, mm; fields: their grid (die axes)."""

    kind: Kind
    case: Case
    left: Difference
    told: Told
    setting: Setting
    continuous: float | None = None
    fields: tuple[Rectangle, ...] = ()

    @property
    def shims(self) -> tuple[Shim, ...]:
        return self.case.die.placing.shims


@dataclass(frozen=True, eq=False)
class Emulation:
    """Every measure that was tried, by effort; before, contact: what is left without any, mm, and the contact share
    then; tolerance, mm."""

    before: float
    contact: float
    tolerance: float
    measures: tuple[Measure, ...]

    @property
    def chosen(self) -> Measure | None:
        """The least effort that reaches the tolerance and leaves the die standing on its base."""
        return next((one for one in self.measures if one.left.spread <= self.tolerance and self.stands(one)), None)

    def stands(self, one: Measure) -> bool:
        """Whether enough of the base carries with a measure."""
        return one.told.contact_share >= min(LEAST_CONTACT, self.contact)

    @property
    def best(self) -> Measure | None:
        """The one that leaves least, where any helps."""
        helping = [one for one in self.measures if one.left.spread < (1 - _HELPS) * self.before and self.stands(one)]
        return min(helping, key=lambda one: one.left.spread, default=None)

    @property
    def short_by(self) -> float:
        """By how much the best of all misses the tolerance, mm; nothing where one reaches it."""
        left = [self.before, *(one.left.spread for one in self.measures if self.stands(one))]
        return max(min(left) - self.tolerance, 0.0)


def emulate(
    wanted: Shape,
    standin: Setting,
    tolerance: float,
    production_force: float,
    shim_field: float = SHIM_FIELD,
    shim_step: float = SHIM_STEP,
    progress: Progress = lambda _: None,
) -> Emulation:
    """Size every measure so that the face on the stand-in comes nearest to ``wanted``, at the usual values.

    production_force: at the slide of the production press, N.
    """
    search = _Search(wanted, standin, production_force)
    state = standin.state()
    before = search.left(standin.standing, state).spread
    contact = told_of(state, state).contact_share
    measures = []
    progress("emulating: force")
    force = search.force()
    measures += [force] if force is not None else []
    progress("emulating: cushion")
    cushion = search.cushion()
    measures += [cushion] if cushion is not None else []
    progress("emulating: place of the die")
    measures += list(search.moves())
    progress("emulating: shims")
    fields = fields_of(standin.case.die.base, shim_field)
    measures.append(search.shims(standin, fields, shim_step, Kind.SHIMS))
    if force is not None and min(one.left.spread for one in measures) > tolerance:
        progress("emulating: force and shims")
        measures.append(search.shims(force.setting, fields, shim_step, Kind.FORCE_AND_SHIMS))
    progress("emulating: support posts")
    posts = search.posts()
    measures += [posts] if posts is not None else []
    progress("emulating: sub-plate")
    plates = list(search.plates())
    measures += [min(plates, key=lambda one: one.left.spread)] if plates else []
    order = list(Kind)
    return Emulation(before, contact, tolerance, tuple(sorted(measures, key=lambda one: order.index(one.kind))))


@dataclass(frozen=True, eq=False)
class _Search:
    wanted: Shape
    standin: Setting
    production_force: float

    def left(self, standing: Standing, state: State) -> Difference:
        return face_difference(self.wanted, shape_of(standing, state))

    def measure(
        self, kind: Kind, setting: Setting, state: State | None = None, continuous: float | None = None,
        fields: tuple[Rectangle, ...] = (),
    ) -> Measure:  # fmt: skip
        assumptions = setting.assumptions()
        state = state or setting.state()
        rest = setting.standing.solve(0.0, assumptions, state.closed)
        left = self.left(setting.standing, state)
        return Measure(kind, setting.case, left, told_of(state, rest), setting, continuous, fields)

    def force(self) -> Measure | None:
        """Another working force, the cushion's share kept, within what press and cushion give."""
        case, standing = self.standin.case, self.standin.standing
        stated, assumptions = case.die.working_force, self.standin.assumptions()
        most = min(case.press.rated_force, MOST_FORCE * self.production_force) / stated
        if case.die.cushion_force > 0 and case.press.cushion is not None:
            most = min(most, case.press.cushion.force / case.die.cushion_force)
        least = LEAST_FORCE
        if case.die.least_force is not None and case.die.least_force <= stated:
            least = case.die.least_force / stated  # below it the panel does not come out
        shares = np.linspace(min(least, most), most, _FORCES)
        start = standing.solve(1.0, assumptions)

        def spread(share: float) -> float:
            return self.left(standing, standing.solve(share, assumptions, start.closed)).spread

        values = [spread(share) for share in shares]
        k = int(np.argmin(values))
        low, high = shares[max(k - 1, 0)], shares[min(k + 1, _FORCES - 1)]
        step = FORCE_STEP / stated
        found = minimize_scalar(spread, bounds=(low, high), method="bounded", options={"xatol": step / 4})
        share = min(round(float(found.x) / step) * step, np.floor(most / step + 1e-9) * step)
        if share < least - 1e-9 or abs(share - 1.0) < step / 2:
            return None
        return self.measure(Kind.FORCE, _at_force(self.standin, share))

    def cushion(self) -> Measure | None:
        """Another cushion force at the same working force, in whole steps, within what the cushion gives."""
        die, cushion = self.standin.case.die, self.standin.case.press.cushion
        if cushion is None or die.cushion_force <= 0:
            return None
        most = min(cushion.force, MOST_CUSHION * die.cushion_force, die.working_force - CUSHION_STEP)
        low, high = int(np.ceil(LEAST_CUSHION * die.cushion_force / CUSHION_STEP)), int(most / CUSHION_STEP)
        if high <= low:
            return None

        @cache
        def measured(steps: int) -> Measure:
            changed = replace(die, cushion_force=steps * CUSHION_STEP)
            return self.measure(Kind.CUSHION, Setting.of(replace(self.standin.case, die=changed)))

        found = minimize_scalar(
            lambda steps: measured(round(steps)).left.spread,
            bounds=(low, high),
            method="bounded",
            options={"xatol": 1.0},
        )
        best = measured(round(found.x))
        stated = self.left(self.standin.standing, self.standin.state()).spread
        return best if best.left.spread < (1 - _HELPS) * stated else None

    def moves(self) -> Iterator[Measure]:
        """Another place on the table, found step by step; the die must stay on it."""
        case = self.standin.case
        here, best = (0, 0), self.left(self.standin.standing, self.standin.state()).spread
        found: Measure | None = None
        seen = {here}
        while True:
            around = [(here[0] + a, here[1] + b) for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1))]
            tried = []
            for place in (p for p in around if p not in seen and max(map(abs, p)) <= _MOVES):
                seen.add(place)
                moved = _moved(case, place)
                if moved is not None:
                    tried.append((place, self.measure(Kind.MOVE, Setting.of(moved))))
            if not tried:
                break
            place, one = min(tried, key=lambda pair: pair[1].left.spread)
            if one.left.spread >= (1 - _HELPS) * best:
                break
            here, best, found = place, one.left.spread, one
        if found is not None:
            yield found

    def shims(self, setting: Setting, fields: Sequence[Rectangle], step: float, kind: Kind) -> Measure:
        """Shims below the die, in whole steps."""
        plan = shims_for_face(self.wanted, setting.standing, setting.assumptions(), fields, step)
        shimmed = replace(setting, case=plan.standing.case, standing=plan.standing)
        return self.measure(kind, shimmed, plan.state, plan.continuous, plan.fields)

    def posts(self) -> Measure | None:
        """Posts below the bolster, one after the other where they help most, then the gap that suits best."""
        case = self.standin.case
        posts = post_places(case.press)
        if not posts:
            return None
        setting = Setting.of(_with_posts(case, posts))

        def solved(taken: Flags, gap: float) -> tuple[Setting, State]:
            set_so = tuple(replace(p, gap=gap if t else _AWAY) for p, t in zip(posts, taken, strict=True))
            changed = _with_posts(case, set_so)
            one = replace(setting, case=changed, standing=replace(setting.standing, case=changed))
            return one, one.state()

        def spread(taken: Flags, gap: float) -> float:
            one, state = solved(taken, gap)
            return self.left(one.standing, state).spread

        taken = np.zeros(len(posts), dtype=bool)
        best = spread(taken, STEP)
        nothing = best
        for _ in range(min(MOST, len(posts))):
            tried = []
            for place in np.flatnonzero(~taken):
                one = taken.copy()
                one[place] = True
                tried.append((spread(one, STEP), one))
            now, one = min(tried, key=lambda pair: pair[0], default=(best, taken))
            if now >= (1 - _HELPS) * best:
                break
            taken, best = one, now
        if best >= (1 - _HELPS) * nothing:
            return None
        gaps = np.arange(STEP, WIDEST + STEP / 2, STEP)
        gap = float(min(gaps, key=lambda g: spread(taken, float(g))))
        chosen = tuple(replace(p, gap=round(gap, 6)) for p, t in zip(posts, taken, strict=True) if t)
        return self.measure(Kind.POSTS, Setting.of(_with_posts(case, chosen)))

    def plates(self) -> Iterator[Measure]:
        """A sub-plate below the die, of each usual thickness."""
        case, bolster = self.standin.case, self.standin.case.press.bolster
        if bolster.sub_plate is not None:
            return
        base, turned = case.die.base, bool(case.die.placing.rotation)
        length = bolster.length if case.die.placing.x or turned else min(bolster.length, base.length + 2 * OVERHANG)
        width = bolster.width if case.die.placing.y or turned else min(bolster.width, base.width + 2 * OVERHANG)
        for thickness in PLATES:
            plate = SubPlate(Rectangle(0.0, 0.0, length, width), thickness, bolster.material)
            changed = replace(bolster, sub_plate=plate, mass=bolster.mass + plate.mass)
            press = replace(case.press, bolster=changed)
            yield self.measure(Kind.SUB_PLATE, Setting.of(replace(case, press=press)))


def _at_force(setting: Setting, share: float) -> Setting:
    die = setting.case.die
    scaled = replace(die, working_force=share * die.working_force, cushion_force=share * die.cushion_force)
    case = replace(setting.case, die=scaled)
    # Every working force grows by the same share, the cushion's pull with it.
    standing = setting.standing
    working, returning = standing.working * share, standing.returning * share
    return replace(setting, case=case, standing=replace(standing, case=case, working=working, returning=returning))


def _moved(case: Case, steps: tuple[int, int]) -> Case | None:
    """The die moved by whole steps along x and y; None where it would not stand on the table."""
    slots, placing = case.press.bolster.t_slots, case.die.placing
    pitches = [slots.pitch if slots is not None and slots.direction == across else MOVE for across in ("y", "x")]
    moved = replace(placing, x=placing.x + steps[0] * pitches[0], y=placing.y + steps[1] * pitches[1])
    over = reaches(moved, case.die.base.plan, case.press.bolster.plan)
    if max(over.values()) > EDGE_SLACK:
        return None
    return replace(case, die=replace(case.die, placing=moved))


def _with_posts(case: Case, posts: Sequence[SupportPost]) -> Case:
    return replace(case, press=replace(case.press, bed=replace(case.press.bed, posts=tuple(posts))))

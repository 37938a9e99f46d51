"""The same die on a production press and on stand-ins: how differently it behaves, what would make it alike."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from deflect.advice import cautions
from deflect.casefile.apart import DieApart, PressApart
from deflect.compare.bedding import BeddingPlan, bedding_plan
from deflect.compare.sides import Side, side_of
from deflect.faults import CaseRefused, MechanicsFailed
from deflect.findings import Analysis, Warned
from deflect.mechanics.analysis import analyse
from deflect.mechanics.closure import Closure, closure_of
from deflect.mechanics.difference import Difference, Shape, closure_difference
from deflect.mechanics.holding import sag_below, share_for_bending
from deflect.mechanics.likeness import Likeness, Setting, likeness
from deflect.model.case import Case
from deflect.sizing.emulation import SHIM_FIELD, SHIM_STEP, Emulation, Measure, emulate

# Draws over which the headline numbers of each press are ranged.
_SAMPLES = 16

Progress = Callable[[str], None]


class Likely(StrEnum):
    """What a stand-in comes to."""

    ALIKE = "behaves alike"
    AFTER_MEASURES = "alike after measures"
    REDONE = "bedding must be redone"
    NOT_IN = "does not go in as it stands"


@dataclass(frozen=True)
class HolderPressure:
    """The blank holder: mean pressure over its ring, MPa, and share of the cushion's force that bends it."""

    mean: float
    bending_share: float


@dataclass(frozen=True, eq=False)
class Solved:
    """One press solved: bodies ready, headline numbers with their ranges, the blank holder where there is one, both
    halves closed where slide and upper die are described."""

    setting: Setting
    analysis: Analysis
    shape: Shape
    holder: HolderPressure | None
    closure: Closure | None


@dataclass(frozen=True, eq=False)
class Compared:
    """One stand-in against the production press.

    if_it_went_in: what it would come to, were it not for heights, slots, pins and masses.  solved, likeness, bedding:
    None where nothing can be solved; failed: why.  emulation: None where the stand-in behaves alike by itself; after:
    the likeness with the chosen measure, else with the best one, over the draws.  closure: difference of what parts
    lower and upper face, None where a press does not describe its slide, or the die its upper half; closure_after:
    the same with the measure.
    """

    side: Side
    if_it_went_in: Likely
    solved: Solved | None = None
    likeness: Likeness | None = None
    emulation: Emulation | None = None
    after: Likeness | None = None
    bedding: BeddingPlan | None = None
    closure: Difference | None = None
    closure_after: Difference | None = None
    failed: str = ""
    cautions: tuple[Warned, ...] = ()

    @property
    def verdict(self) -> Likely:
        """What it comes to as it stands."""
        return self.if_it_went_in if self.side.goes_in else Likely.NOT_IN

    @property
    def measure(self) -> Measure | None:
        """What is worth doing: the least effort that reaches the tolerance, else what comes nearest."""
        return None if self.emulation is None else self.emulation.chosen or self.emulation.best

    @property
    def sure(self) -> float:
        """Share of the draws that agree with the verdict at the usual values."""
        judged = self.after if self.if_it_went_in is Likely.AFTER_MEASURES else self.likeness
        if judged is None:
            return 1.0
        return 1.0 - judged.alike if self.if_it_went_in is Likely.REDONE else judged.alike


@dataclass(frozen=True, eq=False)
class Comparison:
    """A die on its production press and on the stand-ins; tolerance: of the difference of face and closure, mm."""

    production: Side
    solved: Solved
    tolerance: float
    compared: tuple[Compared, ...]
    cautions: tuple[Warned, ...]
    shim_step: float = SHIM_STEP
    shim_field: float = SHIM_FIELD

    @property
    def closure(self) -> bool:
        """Whether lower against upper face is in every comparison."""
        return all(one.closure is not None for one in self.compared if one.likeness is not None)

    def __post_init__(self) -> None:
        if not self.cautions:
            raise ValueError("cautions are part of every result")


def compare(
    die: DieApart,
    production: PressApart,
    standins: Sequence[PressApart],
    forces: Mapping[str, float] | None = None,
    shim_field: float = SHIM_FIELD,
    shim_step: float = SHIM_STEP,
    progress: Progress = lambda _: None,
) -> Comparison:
    """Put a die on its production press and on stand-ins, each at its own force.

    forces: stated for a press by the name under which it was given, N.  Raises CaseRefused with every mistake,
    MechanicsFailed where the production press cannot be solved.
    """
    stated = forces or {}
    _refuse(die, production, standins)
    first = side_of(die, production, stated.get(production.told))
    if first.lacking or not first.stands:
        from deflect.casefile.apart import pair_faults

        raise CaseRefused(pair_faults(die, production))
    kept: dict[Case, Solved] = {}
    progress(f"solving {first.case.press.name}")
    solved = _solve(first.case, kept)
    tolerance = first.case.die.limits.spotting
    compared = []
    for press in standins:
        side = side_of(die, press, stated.get(press.told))
        progress(f"solving {side.case.press.name}")
        compared.append(_compare(side, solved, tolerance, kept, (shim_field, shim_step), progress))
    warned = cautions(solved.analysis)
    return Comparison(first, solved, tolerance, tuple(compared), warned, shim_step, shim_field)


def _refuse(die: DieApart, production: PressApart, standins: Sequence[PressApart]) -> None:
    faults = [*die.faults, *(fault for press in (production, *standins) for fault in press.faults)]
    if faults:
        raise CaseRefused(dict.fromkeys(faults))


def _solve(case: Case, kept: dict[Case, Solved]) -> Solved:
    """Solve a case once: a press that is its own stand-in is the same solution."""
    if case not in kept:
        analysis = analyse(case, _SAMPLES, mesh_error=False)
        setting = Setting.of(case)
        kept[case] = Solved(setting, analysis, setting.shape(), _holder(analysis), closure_of(case))
    return kept[case]


def _holder(analysis: Analysis) -> HolderPressure | None:
    die = analysis.case.die
    holder = die.blank_holder
    if holder is None or die.cushion_force <= 0:
        return None
    share = share_for_bending(holder, sag_below(holder, analysis.solution), die.cushion_force)
    return HolderPressure(die.cushion_force / (holder.girth * holder.ring), share)


def _compare(
    side: Side, first: Solved, tolerance: float, kept: dict[Case, Solved], shims: tuple[float, float],
    progress: Progress,
) -> Compared:  # fmt: skip
    if not side.stands:
        return Compared(side, Likely.NOT_IN, failed="the base does not stand on this table")
    try:
        second = _solve(side.case, kept)
        alike = likeness(first.setting, second.setting, tolerance)
    except MechanicsFailed as failed:
        return Compared(side, Likely.NOT_IN, failed=str(failed))
    warned = cautions(second.analysis)
    closure = _closure(first, second.closure)
    if alike.face.spread <= tolerance and _within(closure, tolerance):
        bedding = bedding_plan(first.shape, alike)
        return Compared(side, Likely.ALIKE, second, alike, bedding=bedding, closure=closure, cautions=warned)
    found = emulate(first.shape, second.setting, tolerance, first.setting.case.die.working_force, *shims, progress)
    measure = found.chosen or found.best
    after = None if measure is None else likeness(first.setting, measure.setting, tolerance)
    closed = None if measure is None or closure is None else _closure(first, closure_of(measure.case))
    reached = found.chosen is not None and _within(closed, tolerance)
    verdict = Likely.AFTER_MEASURES if reached else Likely.REDONE
    bedding = bedding_plan(first.shape, after if after is not None else alike)
    return Compared(side, verdict, second, alike, found, after, bedding, closure, closed, cautions=warned)


def _closure(first: Solved, second: Closure | None) -> Difference | None:
    """How differently lower and upper face close; None where either is not described."""
    one = first.closure
    if one is None or second is None or one.faces.count != second.faces.count:
        return None
    patches = one.faces.patches
    apart = [closure.lower_error + closure.upper_error for closure in (one, second)]
    return closure_difference(patches.centre, patches.area, *apart)


def _within(told: Difference | None, tolerance: float) -> bool:
    """Whether a difference is within the tolerance; what is not modelled does not decide."""
    return told is None or told.spread <= tolerance

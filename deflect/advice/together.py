"""Several remedies on one case at once, each at the size that was found for it alone, or why that cannot be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import reduce
from typing import Any

from deflect.advice.trying import JOINED, combined, full, is_guarded
from deflect.findings import Assessment, Outcome, Proposal
from deflect.model.case import Case
from deflect.model.values import Rectangle

# Entries of a die's place, and of what is set to suit that place.
_PLACE = ("x", "y", "rotation")
_SUITED = ("clamps", "keyed", "keys", "coned", "cones")


@dataclass(frozen=True)
class Excluded:
    """Remedies that cannot be combined, and why, in a sentence."""

    why: str


class _TwoValues(Exception):
    """Both sides change one entry, to different values."""

    def __init__(self, path: tuple[str, ...]) -> None:
        self.words = " ".join(path).replace("_", " ")


def joined(case: Case, outcomes: Sequence[Outcome]) -> Case | Excluded:
    """The case with the changes of every remedy.

    Each remedy changed the case by itself; what it left as it was is taken from the others.  Nothing is solved.
    """
    changed, titles = case, ""
    taken: set[str] = set()
    for outcome in outcomes:
        title, parts = outcome.remedy.title, set(outcome.remedy.id.split(JOINED))
        if parts & taken:
            return Excluded(f"{titles} and {_small(title)} have a remedy in common: one or the other.")
        try:
            changed = _merged(case, changed, outcome.proposal.case, ())
        except _TwoValues as both:
            return Excluded(f"{titles} and {_small(title)} both change the {both.words}: one or the other.")
        titles = f"{titles}, {_small(title)}" if titles else title
        taken |= parts
    moving, suited = ([one for one in outcomes if _differs(one, case, names)] for names in (_PLACE, _SUITED))
    if any(one is not other for one in moving for other in suited):
        return Excluded(
            f"{titles}: where clamps, keys and cones go depends on the place of the die. Write the new place into the "
            "form; what suits it follows with the verdict."
        )
    bearing, shims = changed.die.base.bearing, changed.die.placing.shims
    if bearing and not all(any(_overlap(shim.area, area) for area in bearing) for shim in shims):
        return Excluded(f"{titles}: a shim would lie where the base no longer bears.")
    if changed.die.placing.keyed and changed.die.placing.coned:
        return Excluded(f"{titles}: keys and cones would hold the die twice and work against each other.")
    return changed


def together(before: Assessment, outcomes: Sequence[Outcome]) -> Outcome | Excluded:
    """Several remedies solved as one: at the usual values, with creep, judged with the ranges of ``before``.

    Raises MechanicsFailed.
    """
    case = joined(before.analysis.case, outcomes)
    if isinstance(case, Excluded):
        return case
    remedy = reduce(combined, (outcome.remedy for outcome in outcomes))
    sizes = "; and ".join(outcome.proposal.size for outcome in outcomes)
    hazards = " ".join(filter(None, (outcome.proposal.hazard for outcome in outcomes)))
    found = full(remedy, before, Proposal(case, sizes, hazards))
    if is_guarded(found, before):
        return found
    guarding = [f.rule.title.lower() for f in found.findings if f.rule.guards]
    return Excluded(f"{remedy.title}: not proposed, for together they leave too little ({', '.join(guarding)}).")


def _merged(was: Any, first: Any, then: Any, path: tuple[str, ...]) -> Any:
    """A value with what both sides changed of it; what bears another name is another thing, and is taken whole."""
    if then in (was, first):
        return first
    if first == was:
        return then
    alike = type(was) is type(first) is type(then) and is_dataclass(was)
    if not alike or len({getattr(value, "name", None) for value in (was, first, then)}) > 1:
        raise _TwoValues(path)
    names = [one.name for one in fields(was)]
    values = {
        name: _merged(getattr(was, name), getattr(first, name), getattr(then, name), (*path, name)) for name in names
    }
    return replace(first, **values)


def _overlap(first: Rectangle, second: Rectangle) -> bool:
    apart = abs(first.x - second.x), abs(first.y - second.y)
    return 2 * apart[0] < first.length + second.length and 2 * apart[1] < first.width + second.width


def _differs(outcome: Outcome, case: Case, names: tuple[str, ...]) -> bool:
    was, now = case.die.placing, outcome.proposal.case.die.placing
    return any(getattr(was, name) != getattr(now, name) for name in names)


def _small(title: str) -> str:
    return title[0].lower() + title[1:]

"""Places in words and numbers: where the gap is, and where a remedy puts shims and posts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np

from deflect.findings import Advice, Analysis, Outcome, Step
from deflect.model.case import Case
from deflect.model.die import Shim
from deflect.model.press import SupportPost
from deflect.report import wording

MIDDLE = "below the middle of the base"
CORNERS = "at the corners of the base"
# Corners whose gaps differ by no more than this share of the greatest are told as one.
_ALIKE = 0.02
# Places that the terminal tells of each kind.
_TOLD = 4
_T = TypeVar("_T")


def gap_place(analysis: Analysis) -> str:
    """Where the greatest gap is, in words (die axes); all four corners where they are open alike."""
    solution = analysis.solution
    told = wording.place(*solution.greatest_gap_at, analysis.case.die.base.plan)
    if told.endswith("corner of the base"):
        four = solution.outline_gap[[0, 0, -1, -1], [0, -1, 0, -1]]
        if np.isfinite(four).all() and four.max() > 0 and np.ptp(four) <= _ALIKE * four.max():
            return CORNERS
    return told


def added_shims(outcome: Outcome, case: Case) -> tuple[Shim, ...]:
    """Shims of a remedy beyond those of the case (die axes)."""
    return _added(outcome.proposal.case.die.placing.shims, case.die.placing.shims)


def added_posts(outcome: Outcome, case: Case) -> tuple[SupportPost, ...]:
    """Support posts of a remedy beyond those of the case (bolster axes)."""
    return _added(outcome.proposal.case.press.bed.posts, case.press.bed.posts)


def _added(now: Sequence[_T], before: Sequence[_T]) -> tuple[_T, ...]:
    left = list(before)
    new = []
    for one in now:
        if one in left:
            left.remove(one)
        else:
            new.append(one)
    return tuple(new)


def told_in_short(outcome: Outcome, case: Case) -> tuple[str, ...]:
    """Where shims and posts go, a line for each kind that the remedy adds."""
    shims = [
        f"{s.thickness:.2f} mm at x {wording.whole(s.area.left)} to {wording.whole(s.area.right)}, "
        f"y {wording.whole(s.area.front)} to {wording.whole(s.area.back)}"
        for s in added_shims(outcome, case)
    ]
    posts = [f"x {wording.whole(p.x)}, y {wording.whole(p.y)}" for p in added_posts(outcome, case)]
    lines = (
        ("shims, mm from the middle of the base", shims),
        ("posts, mm from the middle of the bolster", posts),
    )
    return tuple(f"{kind}: {_first(places)}" for kind, places in lines if places)


def places_of(step: Step, advice: Advice) -> tuple[str, ...]:
    """Where the shims and posts of a step go."""
    case = advice.assessment.analysis.case
    meant = (o for o in advice.outcomes if (o.remedy.id, o.proposal.size) == (step.remedy, step.size))
    return next((told_in_short(outcome, case) for outcome in meant), ())


def _first(places: Sequence[str]) -> str:
    more = len(places) - _TOLD
    return "; ".join([*places[:_TOLD], *([f"and {more} more in the report"] if more > 0 else [])])

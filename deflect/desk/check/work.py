"""What the verdict's own process does: the usual values first, then the ranges, then the remedies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from deflect.advice import advise_on, assess, cautions, together
from deflect.desk.errand import Tell
from deflect.findings import Advice, Assessment, Outcome, Warned
from deflect.model.case import Case


@dataclass(frozen=True, eq=False)
class Assessed:
    """Every rule asked, at the usual values (``ranged`` False) or over the ranges, and the cautions."""

    assessment: Assessment
    cautions: tuple[Warned, ...]
    ranged: bool


def work_out(tell: Tell, case: Case) -> None:
    """Tell an ``Assessed`` at the usual values, one over the ranges, words on the way, and the ``Advice`` last."""
    tell("solving at the usual values")
    usual = assess(case, 0, mesh_error=False)
    tell(Assessed(usual, cautions(usual.analysis), ranged=False))
    tell("solving over the ranges")
    ranged = assess(case)
    tell(Assessed(ranged, cautions(ranged.analysis), ranged=True))
    advice: Advice = advise_on(ranged, tell)
    tell(advice)


def try_together(tell: Tell, before: Assessment, outcomes: Sequence[Outcome]) -> None:
    """Tell several remedies solved as one, an ``Outcome``, or why they are ``Excluded``."""
    tell(together(before, outcomes))

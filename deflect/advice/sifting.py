"""What a screening comes to: which pairs are clear, which are beyond a limit, and which it leaves open."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from deflect.findings import Finding, Status
from deflect.mechanics.meeting import first_met
from deflect.mechanics.screening import Screened
from deflect.mechanics.solution import FEELER, LEAST_CONTACT
from deflect.model.case import Case
from deflect.rules.creep import LEAST_STROKES

# A screening knows the usual values alone.  It calls a number clear that keeps this share of its limit, and beyond
# that passes it by this factor; between the two the ranges may decide (ours).
CLEAR, BEYOND = 0.5, 2.0
# Of contact, what is missing to all of the bearing is held against the limit in the same way.
_MOST_OPEN = 1.0 - LEAST_CONTACT


class Sifted(StrEnum):
    """What screening makes of a pair."""

    CLEAR = "clear"
    OPEN = "open"
    BEYOND = "beyond a limit"
    NOT_IN = "does not go in"


@dataclass(frozen=True)
class Sifting:
    """What a pair comes to, and why, a sentence each."""

    sifted: Sifted
    reasons: tuple[str, ...]


def sift(
    case: Case, mounting: tuple[Finding, ...], screened: Screened | None, others: tuple[Finding, ...] = ()
) -> Sifting:
    """Judge a screened pair; screened: None where it was not solved; others: what needs no solution, mounting apart."""
    broken = tuple(f"{f.rule.title}: breaks" for f in mounting if f.status is Status.BREAKS)
    if broken or screened is None:
        return Sifting(Sifted.NOT_IN, broken)
    shares = {
        "gap": screened.gap / FEELER,
        "contact": (1.0 - screened.contact_share) / _MOST_OPEN,
    }
    if case.press.acceptance is not None:
        shares["table sag"] = screened.sag_slope / case.press.acceptance.slope
    beyond = tuple(f"{what} {share:.1f} times its limit" for what, share in shares.items() if share > BEYOND)
    if beyond:
        return Sifting(Sifted.BEYOND, beyond)
    near = [f"{what} at {100 * share:.0f} % of its limit" for what, share in shares.items() if share > CLEAR]
    near += [f"{f.rule.title}: {f.status.value}" for f in others if f.status in (Status.BREAKS, Status.UNDECIDED)]
    near += [f"{f.rule.title}: undecided" for f in mounting if f.status is Status.UNDECIDED]
    if not case.die.placing.held:
        if screened.may_slide:
            near.append("may slide: the side thrust may pass what friction holds")
        elif strokes_at_bound(case, screened.creep_bound) < LEAST_STROKES:
            near.append(f"creep is bounded only, by {1e3 * screened.creep_bound:.0f} µm a stroke")
    return Sifting(Sifted.OPEN if near else Sifted.CLEAR, tuple(near))


def strokes_at_bound(case: Case, bound: float) -> float:
    """Strokes until a free die that crept by its bound, mm a stroke, along the worst of x and y, met anything."""
    ways = (np.array([bound, 0.0, 0.0]), np.array([0.0, bound, 0.0]))
    return min(first_met(case, sign * way).strokes for way in ways for sign in (1.0, -1.0))

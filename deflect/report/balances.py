"""The sums that are made line by line, as plain data: lift-off, cut, match of the halves."""

from __future__ import annotations

from typing import Any

from deflect.findings import Analysis
from deflect.mechanics.cutting import clearance, shear_force
from deflect.mechanics.lift_off import Pull, lift_off
from deflect.mechanics.matching import WHAT_TO_DO, bending, budget, creep_until_setting
from deflect.model.values import Interval

Plain = dict[str, Any]
KILO = 1e3
"""N in a kN, µm in a mm."""


def interval(value: Interval, factor: float = 1.0) -> Plain:
    """Low, usual and high value, in a unit ``1 / factor`` as large."""
    return {"low": value.low * factor, "usual": value.nominal * factor, "high": value.high * factor}


def lift(analysis: Analysis) -> Plain:
    """The balance of the lower half on the return stroke."""
    found = lift_off(analysis.case)
    return {
        "pulls": [_force(one) for one in found.pulls],
        "holds": [_force(one) for one in found.holds],
        "pull_kN": interval(found.pull, 1 / KILO),
        "holding_kN": interval(found.holding, 1 / KILO),
        "reserve_times": interval(found.reserve),
        "required_times": found.required,
        "located_by": found.located,
        "clamps_stated": found.clamps,
        "clamps_asked": found.clamps_asked,
    }


def _force(one: Pull) -> Plain:
    return {"cause": one.source, "force_kN": interval(one.force, 1 / KILO), "comes_about": one.how}


def shear(analysis: Analysis) -> Plain | None:
    """What the cut asks for."""
    found = shear_force(analysis.case.die)
    if found is None:
        return None
    return {"sharp_edges_kN": interval(found.sharp, 1 / KILO), "dull_edges_kN": interval(found.dull, 1 / KILO)}


def eaten(analysis: Analysis) -> Plain | None:
    """The cutting clearance and what eats it."""
    found = clearance(analysis.case.die, bending(analysis)[0], creep_until_setting(analysis))
    if found is None:
        return None
    return {
        "least_um": found.least * KILO,
        "most_um": found.most * KILO,
        "bending_um": interval(found.bending, KILO),
        "creep_um": interval(found.creep, KILO),
        "left_um": interval(found.left, KILO),
    }


def match(analysis: Analysis) -> Plain:
    """The budget of the match."""
    found, given = budget(analysis), analysis.case.die.matching
    return {
        "at": found.at,
        "is_stated": given.stated,
        "fitted": given.fitted.value,
        "target_um": found.target * KILO,
        "lines": [
            {"cause": line.cause.value, "value_um": interval(line.value, KILO), "comes_about": line.how}
            for line in found.lines
        ],
        "left_out": [cause.value for cause in found.left_out],
        "worst_case_um": interval(found.worst, KILO),
        "root_sum_square_um": interval(found.root_sum_square, KILO),
        "dominating": found.dominating.cause.value,
        "toolmaker": WHAT_TO_DO[found.dominating.cause],
        "uncertainty_um": interval(found.uncertainty, KILO),
        "can_be_measured": found.measurable,
        "strokes_to_setting": found.strokes,
    }

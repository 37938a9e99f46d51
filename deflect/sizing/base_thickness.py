"""The thickness of the die base."""

from __future__ import annotations

from collections.abc import Iterator

from deflect.findings import Analysis, Ask, Proposal
from deflect.sizing.other_base import THINNEST, least_height, other_base
from deflect.sizing.search import least_change

# Thicknesses are ordered in whole steps of this many mm (common practice, no source).
ROUND = 10.0


def base_thickness(analysis: Analysis, ask: Ask, bound: float) -> Iterator[Proposal]:
    """The case with the least change of its base's thickness that cures; bound: a share of the present one."""
    case = analysis.case
    present = case.die.base.thickness
    end = max(bound * present, THINNEST, least_height(case.die.base))
    if (end - present) * (bound - 1.0) <= 0:
        return
    for thickness in least_change(present, end, ROUND, lambda size: ask(case.with_base_thickness(size))):
        base = case.with_base_thickness(thickness).die.base
        yield other_base(analysis, base, f"{thickness:.0f} mm instead of {present:.0f} mm")

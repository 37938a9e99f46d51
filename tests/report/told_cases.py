"""The same analysis told otherwise: of a die that creeps so much, or that keys or cones hold."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from deflect.findings import Analysis


def creeping(analysis: Analysis, shift: float) -> Analysis:
    """The same with a creep of so many mm per stroke to the rear."""
    march = replace(analysis.creep.march, shift=np.array([0.0, shift, 0.0]))
    return replace(analysis, creep=replace(analysis.creep, march=march))


def told_held(analysis: Analysis, coned: bool = False) -> Analysis:
    """The same, the creep told as that of a die that keys or cones hold."""
    placing = replace(analysis.case.die.placing, keyed=not coned, coned=coned)
    case = replace(analysis.case, die=replace(analysis.case.die, placing=placing))
    return replace(analysis, case=case, creep=replace(analysis.creep, held=True))

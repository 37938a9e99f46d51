"""One plain sentence of what happens to a die on its table."""

from __future__ import annotations

from deflect.findings import Analysis
from deflect.mechanics.solution import SEATED, TOUCHING
from deflect.report.headlines import NOTHING, held_by
from deflect.report.places import CORNERS, MIDDLE, gap_place
from deflect.report.wording import figure, force

# Below half a micrometre a face error reads as nothing, mm.
_TRUE = 0.0005
# Creep below this, µm a stroke, would read as nothing.
_LEAST_CREEP = 0.05


def what_happens(analysis: Analysis) -> str:
    """Where the base carries and parts, what the face does, and whether the die creeps."""
    return f"{_gap(analysis)}, {_face(analysis)}, and {_creep(analysis)}."


def _gap(analysis: Analysis) -> str:
    solution, load = analysis.solution, force(analysis.case.base_force)
    gap = figure(solution.greatest_gap, "mm")
    where = gap_place(analysis)
    if solution.greatest_gap < TOUCHING:
        return f"Under {load} the base rests everywhere"
    if solution.greatest_gap < SEATED:
        return f"Under {load} the base rests all but everywhere: it parts from the table by no more than {gap}, {where}"
    if where == MIDDLE:
        return f"It stands on its edges: under {load} the table falls {gap} away {where}"
    if where == CORNERS:
        return f"It rides on its middle: under {load} the base hangs free by {gap} {where}"
    return f"Under {load} the base parts from the table by {gap} {where}"


def _face(analysis: Analysis) -> str:
    error = analysis.face.error_range
    if analysis.case.die.bedded is not None:
        if error < _TRUE:
            return "its face stays as it was bedded in"
        return f"its face comes out {figure(error, 'mm')} other than it was bedded in"
    return "its face stays true" if error < _TRUE else f"its face bends by {figure(error, 'mm')}"


def _creep(analysis: Analysis) -> str:
    creep, held = analysis.creep, analysis.creep.held
    by = held_by(analysis)
    if creep.march.slides:
        return f"{by} keep the die from sliding away" if held else "friction does not hold the die: it slides away"
    if creep.free <= NOTHING:
        return f"it does not creep; {by} hold it besides" if held else "it does not creep"
    micro = creep.free * 1e3
    pace = "less than 0.1 µm" if micro < _LEAST_CREEP else figure(micro, "um")
    if held:
        return f"{by} hold the die, which would creep {pace} a stroke if it were free"
    return f"the free die creeps {pace} a stroke"

"""Plate bending stress in the bolster."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading:
    material = analysis.case.press.bolster.material
    return Reading(
        analysis.spread.bolster_stress,
        material.permitted_stress,
        where=material.name,
        note="bending of the plate; notches, ribs and pockets raise it locally",
    )


RULE = Rule(
    id="bolster-stress",
    title="Bending stress in the bolster",
    question="Is the bolster bent harder than its material bears at every stroke?",
    trouble=Trouble.STRESS,
    unit="MPa",
    formula="von Mises at the outer fibres: 6 M / t^2 of a slab, E z times the curvature of ribs and skins",
    why="What bends at every stroke must stay below its fatigue strength, notches included.",
    source=Source("permitted stress from the case file or its material: common practice, no source", Tag.PRACTICE),
    breaks="150 MPa in a slab of steel that bears 120 MPa",
    holds="30 MPa in a slab of steel that bears 120 MPa",
    measure=_measure,
)

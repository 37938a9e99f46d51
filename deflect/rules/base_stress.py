"""Plate bending stress in the die base."""

from deflect.findings import Analysis, Reading, Rule, Trouble
from deflect.sources import Source, Tag


def _measure(analysis: Analysis) -> Reading:
    material = analysis.case.die.base.material
    return Reading(
        analysis.spread.base_stress,
        material.permitted_stress,
        where=material.name,
        note="bending of the plate; notches, ribs and pockets raise it locally",
    )


RULE = Rule(
    id="base-stress",
    title="Bending stress in the die base",
    question="Is the die base bent harder than its material bears at every stroke?",
    trouble=Trouble.STRESS,
    unit="MPa",
    formula="von Mises at the outer fibres: 6 M / t^2 of a slab, E z times the curvature of ribs and skins",
    why="What bends at every stroke must stay below its fatigue strength, notches included.",
    source=Source("permitted stress from the case file or its material: common practice, no source", Tag.PRACTICE),
    breaks="150 MPa in a grey iron base that bears 40 MPa",
    holds="30 MPa in a ductile iron base that bears 90 MPa",
    measure=_measure,
)

"""Cushion pins of the die against the open holes of the bolster."""

import math

from deflect.findings import Analysis, NotChecked, Reading, Rule, Trouble
from deflect.mechanics.mounting import pin_misses
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import show_point


def _measure(analysis: Analysis) -> Reading | NotChecked:
    die, bolster = analysis.case.die, analysis.case.press.bolster
    pins, field = die.cushion_pins, bolster.pin_field
    if not pins and (pins is not None or die.cushion_force == 0):
        return NotChecked("the die needs no cushion pins", applies=False)
    if pins is None or field is None:
        return NotChecked.missing({"die.cushion_pins": pins, "press.bolster.pin_holes": field})
    misses = pin_misses(die.placing, pins, bolster, field)
    worst = float(misses.max())
    if math.isinf(worst):
        return NotChecked("press.bolster.pin_holes names a region in which no whole hole lies")
    x, y = pins[int(misses.argmax())]
    number = int((misses > field.clearance).sum())
    farthest = f"{number} of {len(pins)} meet no open hole, farthest off the pin at {show_point(x, y)}"
    return Reading(
        Interval.exactly(worst),
        field.clearance,
        where=farthest if number else f"all {len(pins)} stand in open holes",
        note="a hole below the base that no pin uses does no harm",
        certain=True,
    )


RULE = Rule(
    id="cushion-pins",
    title="Cushion pins",
    question="Does every cushion pin that the die needs find an open hole in the bolster?",
    trouble=Trouble.PINS,
    unit="mm",
    formula="greatest distance of a pin, placed and turned with the die, from the middle of the nearest hole",
    why="A pin that meets the slab is not there for the blank holder, or is bent; its neighbours carry its share.",
    source=Source(
        "4 mm all round a pin unless the press file says otherwise: common practice, no source", Tag.PRACTICE
    ),
    breaks="pins 150 mm apart on holes 150 mm apart, the die set 40 mm to the right of them",
    holds="pins 300 mm apart over every second one of holes 150 mm apart",
    measure=_measure,
)

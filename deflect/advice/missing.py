"""Inputs that are missing and would decide: where to read or how to measure them, and what each outcome would mean."""

from __future__ import annotations

from collections.abc import Callable
from types import MappingProxyType

import numpy as np

from deflect.advice.numbers import figure
from deflect.findings import Analysis, Assessment, Finding, Measurement
from deflect.mechanics.cutting import edge_shift
from deflect.mechanics.footprint import to_table
from deflect.model.press import LEAST_CLAMPS

# How many missing inputs are told in full; the others stand beside the verdict.
_MOST = 2
_KG_PER_TONNE = 1e3
_N_PER_MN = 1e6
_UPPER_LEAN, _ALLOWED = 1.0, 0.25
"""What of the lower edges' lean counts at worst, and the share of the clearance that it may eat (the rule's own)."""

_SLOTS = (
    "Tape measure from the middle of the base to the middle of each slot, and across each slot; or the die drawing."
)
_FLANGE = "Calliper over the flange where the bolt's washer sits; or the die drawing."
_T_SLOTS = "Width of a throat, distance from slot to slot, and from the centre line to the nearest; or the press card."
_FACE = "Tape measure along and across the slide's face; or the press card."

# What each input is called, and where to read or how to measure it (common practice, no source).
INPUTS = MappingProxyType({
    "die.closed_height": (
        "closed height of the die",
        "Shut the die on its distance blocks or a finished panel, measure from the underside of the base to the top of "
        "the upper half at all four corners; or the die drawing.",
    ),
    "press.shut_height": (
        "shut height of the press",
        "Press card; or set the slide at bottom dead centre with the adjustment fully up, drive locked out, and "
        "measure from bolster to slide.",
    ),
    "press.slide_adjustment": (
        "slide adjustment",
        "Press card; or the difference of the two ends on the adjustment's counter.",
    ),
    "press.slide.length": ("length of the slide's face", _FACE),
    "press.slide.width": ("width of the slide's face", _FACE),
    "press.slide.t_slots": ("T-slots of the slide", _T_SLOTS),
    "press.slide.body": (
        "slide as a body",
        "Press card or drawing of the slide: its height, walls and ribs, where its screws or rods bear, its guides.",
    ),
    "die.upper.base": (
        "base of the upper half",
        "Die drawing; or length, width and height of the casting with a tape measure, ribs and walls with a calliper.",
    ),
    "press.bolster.t_slots": ("T-slots of the bolster", _T_SLOTS),
    "die.lower.flange.slots": ("slots in the lower half's flange", _SLOTS),
    "die.lower.flange.slot_width": ("width of the slots in the lower half's flange", _SLOTS),
    "die.upper.flange.slots": ("slots in the upper half's flange", _SLOTS),
    "die.upper.flange.slot_width": ("width of the slots in the upper half's flange", _SLOTS),
    "die.lower.flange.thickness": ("flange of the lower half", _FLANGE),
    "die.upper.flange.thickness": ("flange of the upper half", _FLANGE),
    "die.cushion_pins": (
        "places of the cushion pins",
        "The pin plan on the die drawing; or the pin marks below the blank holder, from the middle of the base.",
    ),
    "press.bolster.pin_holes": (
        "cushion-pin holes of the bolster",
        "Press card; or pitch, diameter and the place of one hole from the middle of the bolster.",
    ),
    "press.bolster.permitted_mass": ("mass that the bolster may carry", "Press card, or ask the press's maker."),
    "press.slide.permitted_mass": ("mass that may hang from the slide", "Press card, or ask the press's maker."),
    "die.force_height": (
        "height at which the working force begins",
        "Inch the slide down on a blank until the punch meets the sheet, stop, drive locked out, and measure what is "
        "left to bottom dead centre; or the die drawing.",
    ),
    "press.force_over_height": ("permitted force over height", "The curve on the press card."),
    "die.blank_holder": (
        "ring of the blank holder",
        "Width and thickness of the ring with a calliper, its middle line with a tape measure; or the die drawing.",
    ),
    "die.sheet": ("sheet and cutting clearance", "The process plan; a feeler gauge between punch and matrix."),
})  # fmt: skip


def missing_inputs(before: Assessment) -> tuple[Measurement, ...]:
    """What would decide the rules that could not be asked: the first of them, in the order of the rules."""
    told: list[Measurement] = []
    named: set[str] = set()
    for finding in unasked(before):
        if set(finding.missing) & named:
            continue
        named |= set(finding.missing)
        told.append(_told(finding, before.analysis))
    return tuple(told[:_MOST])


def unasked(before: Assessment) -> tuple[Finding, ...]:
    """The rules that decide on a die and could not be asked, because inputs are missing."""
    return tuple(f for f in before.findings if f.missing and f.rule.id in _OUTCOMES)


def _told(finding: Finding, analysis: Analysis) -> Measurement:
    names = [INPUTS[key][0] for key in finding.missing]
    holds, breaks = _OUTCOMES[finding.rule.id](analysis)
    return Measurement(
        uncertain=", ".join(names),
        rule=finding.rule.id,
        how=" ".join(dict.fromkeys(INPUTS[key][1] for key in finding.missing)),
        at_low=f"{holds}: {finding.rule.title} holds",
        at_high=f"{breaks}: {finding.rule.title} breaks",
    )


def _closed_height(analysis: Analysis) -> tuple[str, str]:
    press, height = analysis.case.press, analysis.case.closed_height
    shut, adjustment = press.shut_height, press.slide_adjustment
    if height is not None and adjustment is not None:
        return f"a shut height from {height:.0f} to {height + adjustment:.0f} mm", "less or more than that"
    if height is not None and shut is not None:
        return f"an adjustment of at least {shut - height:.0f} mm", "less"
    if shut is not None and adjustment is not None:
        return f"a closed height from {shut - adjustment:.0f} to {shut:.0f} mm", "above or below that"
    return "if the closed height lies between shut height less adjustment and shut height", "if above or below that"


def _upper_on_slide(analysis: Analysis) -> tuple[str, str]:
    plan = analysis.case.die.upper_plan
    corners = np.array([(x, y) for x in (plan.left, plan.right) for y in (plan.front, plan.back)])
    length, width = 2 * np.abs(to_table(analysis.case.die.placing, corners)).max(axis=0)
    return f"a slide of at least {length:.0f} by {width:.0f} mm", "a smaller one"


def _clamps(analysis: Analysis) -> tuple[str, str]:
    asked = max(analysis.case.press.clamps_required, LEAST_CLAMPS)
    return f"{asked} slots or more meet T-slots, and their bolts go through", "fewer do"


def _flange(analysis: Analysis) -> tuple[str, str]:
    taken = analysis.case.press.clamped_thickness
    return f"a flange of {taken.low:.0f} to {taken.high:.0f} mm", "a thinner or thicker one"


def _pins(analysis: Analysis) -> tuple[str, str]:
    field = analysis.case.press.bolster.pin_field
    near = "near enough to" if field is None else f"within {field.clearance:g} mm of"
    return f"every pin {near} the middle of an open hole", "one pin that is not"


def _mass_on_bolster(analysis: Analysis) -> tuple[str, str]:
    plate = analysis.case.press.bolster.sub_plate
    halves = (analysis.case.die.lower, analysis.case.die.upper)
    mass = sum(half.mass_range.high for half in halves) + (0.0 if plate is None else plate.mass)
    return f"{figure(mass / _KG_PER_TONNE, 't')} t or more", "less"


def _mass_on_slide(analysis: Analysis) -> tuple[str, str]:
    return f"{figure(analysis.case.die.upper.mass_range.high / _KG_PER_TONNE, 't')} t or more", "less"


def _force_over_height(analysis: Analysis) -> tuple[str, str]:
    die, curve = analysis.case.die, analysis.case.press.force_over_height
    force = f"{die.working_force / _N_PER_MN:.3g} MN"
    if not curve:
        height = "" if die.force_height is None else f"at {die.force_height:.0f} mm "
        return f"if {force} or more are permitted {height}above bottom dead centre", "if less"
    if die.working_force > curve[0].force:
        return f"at no height: {force} are never permitted", "at any height"
    # The force falls with height, so that the curve is read from its end.
    highest = float(np.interp(die.working_force, [p.force for p in curve[::-1]], [p.height for p in curve[::-1]]))
    return f"up to {highest:.0f} mm above bottom dead centre", "higher up"


def _holder(analysis: Analysis) -> tuple[str, str]:
    return "a ring that follows the face with less than 30 % of the cushion's force", "a stiffer one"


def _clearance(analysis: Analysis) -> tuple[str, str]:
    least = _UPPER_LEAN * edge_shift(analysis.solution) / _ALLOWED
    return f"a clearance of {figure(least, 'mm')} mm a side or more", "less, if the upper half does not lean along"


_OUTCOMES: MappingProxyType[str, Callable[[Analysis], tuple[str, str]]] = MappingProxyType({
    "closed-height": _closed_height,
    "upper-on-slide": _upper_on_slide,
    "clamps-on-bolster": _clamps,
    "clamps-on-slide": _clamps,
    "lower-flange": _flange,
    "upper-flange": _flange,
    "cushion-pins": _pins,
    "mass-on-bolster": _mass_on_bolster,
    "mass-on-slide": _mass_on_slide,
    "force-over-height": _force_over_height,
    "blank-holder": _holder,
    "cutting-clearance": _clearance,
})  # fmt: skip

"""What breaks and is mended by nothing that was tried, and what is left to do then."""

from __future__ import annotations

from collections.abc import Mapping

from deflect.findings import Assessment, Outcome, Status, Trouble

# What a tool room does when no remedy is left (common practice, no source).
LEFT_TO_DO: Mapping[Trouble, str] = {
    Trouble.HEIGHT: "choose a press that shuts to the die's height, or build the die to this one.",
    Trouble.FOOTPRINT: "choose a press with a greater bolster and slide: nothing may stand over an edge.",
    Trouble.CLAMPING: "have design and the press room agree on slots and flange before the base is machined.",
    Trouble.PINS: "set the pins of the blank holder to the holes of this press, in design.",
    Trouble.MASS: "ask for a press and a crane that carry the die; lift the halves one by one where that is enough.",
    Trouble.OVERLOAD: "take a greater press: no die may ask for more than the press is rated for.",
    Trouble.STATED_FORCE: "state the force that the cut asks for, and check the die anew with it.",
    Trouble.FORCE_OVER_HEIGHT: "let the force set in nearer to bottom dead centre, or take another press.",
    Trouble.SAG: "have the bare table measured under force; if it sags as computed, the press is for its "
    "maker to mend, not the die for the tool room. Until then run smaller forces on it.",
    Trouble.GAP: "take a table that sags less under this die, or change how the base bears, in design.",
    Trouble.ROCKING: "take a table that sags less under this die, or change how the base bears, in design.",
    Trouble.FACE: "bed the die in on the press that it will run on, and leave it there.",
    Trouble.CLOSURE: "spot the halves in the press that will run them, under its force, until they bear evenly.",
    Trouble.MATCHING: "fit one half to the other, on the bench and in the press: numbers alone do not match them.",
    Trouble.CREEP: "hold the die by keys or cones; until then look after its place every few strokes.",
    Trouble.PICK_UP: "do not run it before enough clamps hold it down: ask the press's maker and local codes.",
    Trouble.OFFSET: "move the work in the die, balance it with springs or a second station, or take a press that "
    "permits more: off its middle the slide tilts and its guides wear.",
    Trouble.PRESSURE: "give the base more area to stand on.",
    Trouble.HOLDER: "have design re-draw the blank holder.",
    Trouble.RIBS: "ask the foundry what it casts, and draw no rib thinner.",
    Trouble.STRESS: "stop here: ask design for a stronger base or bolster before any force is put on.",
}


def unmended(before: Assessment, outcomes: tuple[Outcome, ...]) -> tuple[str, ...]:
    """One sentence for each rule that breaks and that no harmless remedy takes within its limit."""
    mended = {rule for outcome in outcomes if not outcome.worsened for rule in outcome.cured}
    return tuple(
        f"{finding.rule.title} is mended by nothing that was tried: {LEFT_TO_DO[finding.rule.trouble]}"
        for finding in before.findings
        if finding.status is Status.BREAKS and finding.rule.id not in mended
    )

"""Die blocks before hands go in."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import weight
from deflect.model.press import Press
from deflect.sources import Source, Tag
from deflect.units import show_force


def _say(analysis: Analysis) -> Warned:
    case = analysis.case
    upper, rated = weight(case.die.upper.mass), case.press.rated_force
    estimated = ", its mass estimated" if case.die.upper.mass_is_estimated else ""
    return Warned(
        id="die-blocks",
        heading="Die blocks before hands go in, and never against the drive",
        words=(
            "Put die blocks in, interlocked with the drive, before anybody reaches between the halves "
            "to measure, shim, stone or adjust.",
            "Blocks carry the weight of slide and upper half at rest; they do not hold against the drive: "
            "stop it, and let it run out, first.",
            "Take every block out and count it before the press runs: one left behind is shot out.",
        ),
        numbers=(
            f"upper half alone: {show_force(upper)}{estimated}, and on top of it the slide's own weight, "
            f"{_slide(case.press)}",
            f"the drive can press with {show_force(rated)}, {rated / upper:.0f} times the upper half's weight: "
            "no block is made for that",
        ),
        defer="Blocks, their number and their rating: the press's maker and local codes.",
        source=Source("29 CFR 1910.217(d)(9)(iv); blocks left behind: DGUV Information 209-008", Tag.PUBLISHED),
    )


def _slide(press: Press) -> str:
    """What is known of the slide's weight, in words."""
    body = None if press.slide is None else press.slide.body
    if body is None:
        return "which the press file does not tell"
    return f"{show_force(weight(body.mass))} by the press file for what of it bends; screws and drive are not in it"


CAUTION = Caution("die-blocks", 5, _say)

"""Die blocks before hands go in."""

from deflect.findings import Analysis, Caution, Warned
from deflect.mechanics.lifting import weight
from deflect.sources import Source, Tag


def _say(analysis: Analysis) -> Warned:
    die = analysis.case.die
    return Warned(
        id="die-blocks",
        heading="Die blocks before hands go in",
        words=(
            "Put die blocks in, interlocked with the drive, before anybody reaches between the halves "
            "to measure, shim, stone or adjust.",
            "Blocks carry the weight of slide and upper half at rest; they do not hold against the drive.",
        ),
        numbers=(f"upper half alone: {weight(die.upper.mass) / 1e3:.0f} kN, and the slide's own weight on top of it",),
        defer="Blocks, their number and their rating: the press's maker and local codes.",
        source=Source("29 CFR 1910.217(d)(9)(iv)", Tag.PUBLISHED),
    )


CAUTION = Caution("die-blocks", 3, _say)

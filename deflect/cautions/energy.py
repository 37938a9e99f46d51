"""Energy locked out."""

from deflect.findings import Analysis, Caution, Warned
from deflect.sources import Source, Tag


def _say(analysis: Analysis) -> Warned:
    cushion = analysis.case.press.cushion
    stored = "slide, flywheel, accumulators, gas springs" + (", cushion" if cushion else "")
    return Warned(
        id="energy",
        heading="Energy locked out",
        words=(
            f"Before work in the press: drive off, locked and tried; stored energy released or blocked ({stored}).",
            "Each person who works there hangs a lock of their own and keeps its key.",
            "Mounting and unmounting a die is work for people trained on this press.",
        ),
        numbers=(),
        defer="Follow the lockout procedure of the plant and local codes.",
        source=Source("29 CFR 1910.147", Tag.PUBLISHED),
    )


CAUTION = Caution("energy", 6, _say)

"""What may lift the lower half with the rising slide."""

from __future__ import annotations

from typing import Annotated

from deflect.casefile.fields import Figure, Flag, Spread, absent, default
from deflect.casefile.parts.part import Derived, Part
from deflect.model.lift_off import LiftOff
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import AREA, FACTOR, FORCE, SHARE, parse

STRIPPING = Source(
    "5 to 10 % of the cutting force, 20 % at most; published tables differ, so common practice, no source", Tag.PRACTICE
)
GUIDES = Source("none; tight posts of a dry die up to 20 kN; ours", Tag.OURS)
STUCK = Source("none; a panel that springs into both halves up to 20 kN; ours", Tag.OURS)
SUCTION = Source("vented faces seal little; a quarter of an atmosphere where vents are clogged; ours", Tag.OURS)
RESERVE = Source("holding force 1.5 times the pull; common practice, no source", Tag.PRACTICE)
FACE_AREA = Source("the area about all forces and the blank holder; ours", Tag.OURS)
# What of the stripping force the lower half feels, by whether a pad in the upper half strips (common practice).
REACHING = {
    True: (("0 %", "10 %", "20 %"), "with an upper pad 0 to 20 % of it; common practice, no source"),
    False: (("100 %", "100 %", "100 %"), "without an upper pad all of it; common practice, no source"),
    None: (("0 %", "20 %", "100 %"), "whether an upper pad strips is not stated: none to all of it; ours"),
}


class LiftOffPart(Part):
    """Upward pull on the lower half as the slide rises, each source apart."""

    upper_pad: Annotated[bool, Flag("whether a pad in the upper half strips the sheet")] | None = absent(
        "none to all of the stripping force is taken to reach the lower half"
    )
    stripping: Annotated[Interval, Spread("stripping force as a share of the cutting force", SHARE, "0 %", "50 %")] = (
        default({"low": "5 %", "usual": "7.5 %", "high": "20 %"}, STRIPPING)
    )
    reaching: (
        Annotated[Interval, Spread("share of the stripping force that the lower half feels", SHARE, "0 %", "100 %")]
        | None
    ) = None
    guides: Annotated[Interval, Spread("pull of seized guides", FORCE, "0 kN", "10 MN")] = default(
        {"low": "0 kN", "usual": "0 kN", "high": "20 kN"}, GUIDES
    )
    stuck_panel: Annotated[Interval, Spread("pull of a panel stuck in both halves", FORCE, "0 kN", "10 MN")] = default(
        {"low": "0 kN", "usual": "0 kN", "high": "20 kN"}, STUCK
    )
    sealed_area: Annotated[float, Figure("area that may seal against air", AREA, "0 m2", "60 m2")] | None = None
    suction: Annotated[Interval, Spread("suction on that area as a share of one atmosphere", SHARE, "0 %", "100 %")] = (
        default({"low": "0 %", "usual": "5 %", "high": "25 %"}, SUCTION)
    )
    required_reserve: Annotated[float, Figure("least holding force over pull", FACTOR, "1", "10")] = default(
        "1.5", RESERVE
    )

    def build(self, face_area: float) -> LiftOff:
        """face_area: taken where the sealed area is not stated, mm2."""
        low, usual, high = (parse(text, SHARE) for text in REACHING[self.upper_pad][0])
        return LiftOff(
            stripping=self.stripping,
            reaching=self.reaching or Interval(low, usual, high),
            guides=self.guides,
            stuck_panel=self.stuck_panel,
            sealed_area=face_area if self.sealed_area is None else self.sealed_area,
            suction=self.suction,
            required=self.required_reserve,
        )

    def derived(self) -> Derived:
        shares, told = REACHING[self.upper_pad]
        return {("reaching",): (" / ".join(shares), Source(told, Tag.PRACTICE if "practice" in told else Tag.OURS))}

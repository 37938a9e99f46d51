"""The bed: its opening, the land around it, and what holds the bolster down."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import Field, create_model, model_validator

from deflect.casefile.fields import Figure, absent, default, refuse
from deflect.casefile.lands import land_kinds
from deflect.casefile.parts.holddowns import (
    ASSUMED,
    HoldDownsStated,
    OneHoldDown,
    SpreadHoldDowns,
    assumed,
    assumed_shown,
)
from deflect.casefile.parts.part import Coordinate, Derived, Extent, Part
from deflect.model.press import Bed, Land, SupportPost
from deflect.model.values import Rectangle
from deflect.sources import Source, Tag
from deflect.units import LENGTH, SPRING_STIFFNESS

KINDS = land_kinds()
CENTRED = Source("the opening lies in the middle of the bolster; common practice, no source", Tag.PRACTICE)
POST_GAP = Source("set with a feeler gauge, so that the post does not lift the empty table; ours", Tag.OURS)
POST_HEAD = Source("a square head of 200 mm; ours", Tag.OURS)
UNKNOWN_LAND = Source("nothing is stated about the bed; ours", Tag.OURS)
UNKNOWN_HOLD_DOWNS = Source("nothing is stated, so both ends are computed; ours", Tag.OURS)


class _Land(Part):
    """How the bed carries the bolster: exactly one of the kinds."""

    @model_validator(mode="after")
    def _is_one_kind(self) -> _Land:
        given = [key for key in KINDS if getattr(self, key) is not None]
        if len(given) != 1:
            found = " and ".join(given) if given else "none of the kinds"
            refuse(f"the land is described by {found}", f"exactly one of {', '.join(KINDS)}", "keep one of them")
        return self

    @property
    def key(self) -> str:
        """The key of the kind that is given."""
        return next(key for key in KINDS if getattr(self, key) is not None)

    @property
    def needs_acceptance(self) -> bool:
        """Whether this kind of land works only with an allowed deflection."""
        return KINDS[self.key].needs_acceptance

    def build(self) -> Land:
        return KINDS[self.key].build(getattr(self, self.key))


_ENTRIES: dict[str, Any] = {key: (kind.entry | None, None) for key, kind in KINDS.items()}
if TYPE_CHECKING:
    LandPart = _Land
else:
    LandPart = create_model("LandPart", __base__=_Land, __doc__=_Land.__doc__, **_ENTRIES)


class OpeningPart(Part):
    """The hollow of the bed under the bolster."""

    length: Extent
    width: Extent
    x: Coordinate = default("0 mm", CENTRED)
    y: Coordinate = default("0 mm", CENTRED)

    def build(self) -> Rectangle:
        return Rectangle(self.x, self.y, self.length, self.width)


class PostPart(Part):
    """A post in the bed opening below the bolster."""

    x: Coordinate
    y: Coordinate
    stiffness: Annotated[float, Figure("stiffness of the post", SPRING_STIFFNESS, "1 kN/mm", "100000 kN/mm")]
    gap: Annotated[float, Figure("gap left above it", LENGTH, "0 mm", "5 mm")] = default("0.05 mm", POST_GAP)
    head: Annotated[float, Figure("side of its square head", LENGTH, "50 mm", "1 m")] = default("200 mm", POST_HEAD)

    @property
    def plan(self) -> Rectangle:
        return Rectangle(self.x, self.y, self.head, self.head)

    def build(self) -> SupportPost:
        return SupportPost(self.x, self.y, self.stiffness, self.gap, self.head)


class BedPart(Part):
    """The lower structure of the press."""

    opening: OpeningPart
    land: LandPart = default({"from_allowance": True}, UNKNOWN_LAND)
    hold_downs: Annotated[HoldDownsStated, Field(description="what holds the bolster down on the bed")] = default(
        "unknown", UNKNOWN_HOLD_DOWNS
    )
    posts: Annotated[tuple[PostPart, ...], Field(min_length=1, max_length=50)] | None = absent(
        "nothing stands below the bolster in the bed opening"
    )

    def build(self, plan: Rectangle, cuts: tuple[Rectangle, ...]) -> Bed:
        opening, land = self.opening.build(), self.land.build()
        stated, posts = self.hold_downs, tuple(post.build() for post in self.posts or ())
        if stated == "unknown":
            return Bed(opening, land, assumed(plan, opening, cuts), hold_downs_known=False, posts=posts)
        if isinstance(stated, SpreadHoldDowns):
            return Bed(opening, land, stated.build(plan, opening), posts=posts)
        listed = tuple(one.build() for one in stated if isinstance(one, OneHoldDown))
        return Bed(opening, land, listed, posts=posts)

    def derived_from(self, plan: Rectangle, cuts: tuple[Rectangle, ...]) -> Derived:
        """What is assumed where the hold-downs are unknown."""
        if self.hold_downs != "unknown":
            return {}
        return {("hold_downs", "assumed"): (assumed_shown(plan, self.opening.build(), cuts), ASSUMED)}

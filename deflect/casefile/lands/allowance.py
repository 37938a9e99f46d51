"""Nothing is known of the bed: its stiffness is found from the allowed deflection, used up by 50 to 100 %."""

from __future__ import annotations

from typing import Annotated, Any

from deflect.casefile.fields import Flag, refuse
from deflect.casefile.lands.kind import LandKind
from deflect.model.press import Land


class Chosen(Flag):
    """Can only be true: without it another kind of land is given."""

    def read(self, written: Any) -> bool:
        if not super().read(written):
            refuse("from_allowance = false describes no land", "true", "give stiffness or walls instead")
        return True


def build(_chosen: bool) -> Land:
    return Land(None, "stiffness of the land found from the allowed deflection, taken as used by 50 to 100 %")


KIND = LandKind(
    key="from_allowance",
    entry=Annotated[bool, Chosen("find the stiffness from the allowed deflection")],
    build=build,
    example="from_allowance = true",
    needs_acceptance=True,
)

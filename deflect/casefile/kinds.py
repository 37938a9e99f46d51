"""The kinds of case files."""

from __future__ import annotations

from typing import Literal

from deflect.casefile.parts.die import DiePart
from deflect.casefile.parts.part import Part
from deflect.casefile.parts.press import PressPart
from deflect.casefile.parts.readings import ReadingsPart

CaseKind = Literal["press", "die", "readings"]

PARTS: dict[CaseKind, type[Part]] = {"press": PressPart, "die": DiePart, "readings": ReadingsPart}
"""What stands under the top table of each kind of file."""

FOLDERS: dict[CaseKind, str] = {"press": "presses", "die": "dies", "readings": "readings"}
"""Where the demo cases of each kind stand."""

"""Dies and presses read apart, each file once, and what is wrong with a pair of them told as faults.

For many dies on many presses, and for a press that is asked about although the die does not go on it.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from deflect.casefile.checks import pair as pair_checks
from deflect.casefile.kinds import CaseKind
from deflect.casefile.names import resolve
from deflect.casefile.parts.die import DiePart
from deflect.casefile.parts.part import Part
from deflect.casefile.parts.press import PressPart
from deflect.casefile.reading import Reading, built_die, built_press, die_reading, press_reading, told
from deflect.faults import CaseRefused, Fault
from deflect.model.die import Die
from deflect.model.press import Press

P = TypeVar("P", bound=Part)
M = TypeVar("M", Die, Press)


@dataclass(frozen=True, eq=False)
class Apart(Generic[P, M]):
    """One file: how it was named, its die or press (None where it is refused), and every mistake in it."""

    told: str
    value: M | None
    faults: tuple[Fault, ...]
    reading: Reading[P]


DieApart = Apart[DiePart, Die]
PressApart = Apart[PressPart, Press]


def die_apart(die: str | Path) -> DieApart:
    """Read a die alone; nothing is raised."""
    reading = die_reading(die)
    try:
        value = built_die(reading)
    except CaseRefused as refused:
        return Apart(str(die), None, refused.faults, reading)
    return Apart(str(die), value, (), reading)


def press_apart(press: str | Path) -> PressApart:
    """Read a press alone; nothing is raised."""
    reading = press_reading(press)
    try:
        value = built_press(reading)
    except CaseRefused as refused:
        return Apart(str(press), None, refused.faults, reading)
    return Apart(str(press), value, (), reading)


def pair_faults(die: DieApart, press: PressApart) -> tuple[Fault, ...]:
    """Every mistake of both files and of the pair, as ``read_case`` would tell them."""
    faults = [*die.faults, *press.faults]
    on, under = die.reading, press.reading
    if on.document and on.part and under.part:
        readable = {f"die.{key}" for key in on.readable} | {f"press.{key}" for key in under.readable}
        pair = pair_checks.Pair(on.part, under.part)
        faults += told(pair_checks.CHECKS.run(pair, frozenset(readable)), on.document, "die")
    return tuple(faults)


def files_in(folder: Path) -> list[Path]:
    """The case files of a folder, by name."""
    return sorted(folder.glob("*.toml"))


def content_of(case: str | Path, kind: CaseKind) -> str:
    """A hash of a file's bytes; of a file that cannot be read, nothing."""
    try:
        return hashlib.sha256(resolve(case, (kind,)).read_bytes()).hexdigest()
    except (OSError, CaseRefused):
        return ""

"""The files of a shop: dies and presses read once each, pairs made of them, inputs known by their content."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path, PurePath

from deflect.casefile.apart import DieApart, PressApart, content_of, die_apart, files_in, pair_faults, press_apart
from deflect.casefile.kinds import CaseKind
from deflect.casefile.names import demo_folder
from deflect.faults import CaseRefused, Fault, printable
from deflect.model.case import Case
from deflect.model.die import Die
from deflect.model.press import Press
from deflect.study.bodies import engine
from deflect.study.rows import REFUSED, Row, Stage

# Dies and presses are taken in blocks, so that few bodies are open at a time.
_BLOCK = 48
_LONGEST = 400
# Longer than any file's name: nothing is cut, only made harmless.
_LONGEST_NAME = 1000


@dataclass(frozen=True, eq=False)
class DieEntry:
    """A die file: its name in the study, what was read, and a hash of the content."""

    name: str
    read: DieApart
    digest: str


@dataclass(frozen=True, eq=False)
class PressEntry:
    """A press file, in the same way."""

    name: str
    read: PressApart
    digest: str


@dataclass(frozen=True, eq=False)
class Shop:
    """Dies and presses, by name."""

    dies: tuple[DieEntry, ...]
    presses: tuple[PressEntry, ...]

    @property
    def pairs(self) -> int:
        return len(self.dies) * len(self.presses)

    def blocks(self) -> Iterator[tuple[PressEntry, tuple[DieEntry, ...]]]:
        """Every pair once: a block of dies on one press after the other."""
        for start in range(0, len(self.dies), _BLOCK):
            block = self.dies[start : start + _BLOCK]
            for press in self.presses:
                yield press, block


def read_shop(dies: str | Path, presses: str | Path) -> Shop:
    """Read the die files and the press files of two folders ("demo": those that come along); a file that cannot be
    read is an entry as well.  Raises CaseRefused where a folder holds no case files."""
    die_entries = [_die(path, name) for path, name in _named(dies, "die")]
    press_entries = [_press(path, name) for path, name in _named(presses, "press")]
    return Shop(tuple(die_entries), tuple(press_entries))


def _named(folder: str | Path, kind: CaseKind) -> list[tuple[Path, str]]:
    place = demo_folder() / {"die": "dies", "press": "presses"}[kind] if str(folder) == "demo" else Path(folder)
    files = files_in(place) if place.is_dir() else [place] if place.is_file() else []
    if not files:
        problem = "there are no case files (*.toml) here"
        raise CaseRefused([Fault(str(folder), None, "", "", problem, f"a folder of {kind} files, or demo", "check it")])
    return [(path, printable(path.stem, _LONGEST_NAME)) for path in files]


def _die(path: Path, name: str) -> DieEntry:
    read = die_apart(path)
    return DieEntry(name, read, _of_file(path, "die") if read.value is None else content_of_die(read.value))


def _press(path: Path, name: str) -> PressEntry:
    read = press_apart(path)
    return PressEntry(name, read, _of_file(path, "press") if read.value is None else content_of_press(read.value))


def content_of_die(die: Die) -> str:
    """A hash of all that a die says, the press of its bedding-in included, and none of where it is written."""
    bedded = die.bedded
    if bedded is not None:
        bedded = replace(bedded, press=untold(bedded.press))
    return _hash(repr(replace(die, inputs=(), note="", bedded=bedded)))


def content_of_press(press: Press) -> str:
    """The same of a press."""
    return _hash(repr(untold(press)))


def untold(press: Press) -> Press:
    """A press without what is only told of it."""
    return replace(press, inputs=(), note="")


def _of_file(path: Path, kind: CaseKind) -> str:
    return _hash(f"refused {content_of(path, kind)}")


def _hash(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def digest_of(die: DieEntry, press: PressEntry, stage: Stage, samples: int) -> str:
    """A hash of all that a row rests on: both files, the program, and how it was asked."""
    asked = f"{stage.value} {samples if stage is Stage.FULL else ''}"
    return _hash(" ".join((die.digest, press.digest, engine(), asked)))


def case_of(die: DieEntry, press: PressEntry, stage: Stage) -> Case | Row:
    """The pair, or the row that says why there is none."""
    faults = pair_faults(die.read, press.read)
    if die.read.value is None or press.read.value is None or faults:
        return refused(die, press, stage, faults)
    return Case(untold(press.read.value), replace(die.read.value, inputs=(), note=""))


def _place(fault: Fault) -> str:
    """File and line; of the file its name alone, so that a row is the same wherever the shop lies."""
    return replace(fault, file=PurePath(fault.file).name).place


def refused(die: DieEntry, press: PressEntry, stage: Stage, faults: Iterable[Fault]) -> Row:
    """The row of a pair that cannot be read."""
    told = "; ".join(f"{_place(fault)}: {fault.key + ': ' if fault.key else ''}{fault.problem}" for fault in faults)
    return Row(
        die.name,
        press.name,
        stage.value,
        REFUSED,
        die_name=die.read.value.name if die.read.value else "",
        press_name=press.read.value.name if press.read.value else "",
        message=printable(told, _LONGEST),
    )

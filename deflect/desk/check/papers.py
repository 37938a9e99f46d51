"""Die file and press file as they lie on the desk: edited key by key, their comments kept."""

from __future__ import annotations

from pathlib import Path, PurePath
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array, Table

from deflect.casefile import CaseKind, Written, demo_cases
from deflect.casefile import read_case as read_texts
from deflect.faults import CaseRefused, Fault
from deflect.model.case import Case

KeyPath = tuple[str | int, ...]
"""Keys, and places in lists from 0."""
_ALIASES = ("lower shoe", "lower_shoe", "lower-shoe", "base plate", "base_plate", "base-plate", "die base", "die_base")


class Sheet:
    """One case file on the desk: its name, its text, and its keys."""

    def __init__(self, kind: CaseKind, name: str, text: str) -> None:
        self.kind, self.name = kind, name
        self._text = text
        self._values = _parsed(text)

    @staticmethod
    def demo(kind: CaseKind, name: str) -> Sheet:
        """A demo case, by name."""
        return Sheet(kind, name, demo_cases(kind)[name].read_text(encoding="utf-8"))

    @property
    def text(self) -> str:
        """The file's text with every edit."""
        return self._text

    @text.setter
    def text(self, text: str) -> None:
        self._text, self._values = text, _parsed(text)

    @property
    def readable(self) -> bool:
        """Whether the text is TOML, so that its keys can be edited."""
        return self._values is not None

    def value(self, path: KeyPath) -> Any:
        """What is written at a path below the file's top table; None: nothing."""
        found: Any = self._values
        for step in (self.kind, *path):
            try:
                found = found[step]
            except (KeyError, IndexError, TypeError):
                return None
        return found.unwrap() if hasattr(found, "unwrap") else found

    def write(self, path: KeyPath, value: Any) -> None:
        """Write a value at a path, or take the key out (None); tables on the way are made."""
        if self._values is None:
            return
        found: Any = self._values
        for step in (self.kind, *path[:-1]):
            if isinstance(step, str) and step not in found:
                if value is None:
                    return
                found[step] = tomlkit.table()
            found = found[step]
        last = path[-1]
        if value is not None:
            found[last] = value
        elif isinstance(last, int) or last in found:
            del found[last]
        self._text = tomlkit.dumps(self._values)

    def add(self, path: KeyPath, values: dict[str, Any]) -> None:
        """Add a table to a list of tables, made where it is missing."""
        if self._values is None:
            return
        found: Any = self._values
        for step in (self.kind, *path[:-1]):
            found = found[step]
        table = tomlkit.table()
        for key, value in values.items():
            table[key] = value
        listed = found.get(path[-1])
        if isinstance(listed, Array):
            listed.append(values)
        else:
            if not isinstance(listed, AoT):
                found[path[-1]] = listed = tomlkit.aot()
            listed.append(table)
        self._text = tomlkit.dumps(self._values)


def _parsed(text: str) -> tomlkit.TOMLDocument | None:
    try:
        values = tomlkit.parse(text)
    except (TOMLKitError, ValueError, RecursionError):
        return None
    die = values.get("die")
    if isinstance(die, Table):  # one name for the base, so that its keys can be shown and edited
        for alias in _ALIASES:
            if alias in die and "base" not in die:
                die["base"] = die.pop(alias)
    return values


def read(die: Sheet, press: Sheet, folder: Path) -> Case:
    """The case of both sheets.  Raises CaseRefused with every mistake."""
    _refuse_far_press(die)
    return read_texts(Written(die.text, _file(die), folder), Written(press.text, _file(press), folder))


def _refuse_far_press(die: Sheet) -> None:
    """A file on the desk may name a demo press or a file of the chosen folder, and nothing else of this machine."""
    named = die.value(("bedded", "press"))
    if isinstance(named, str) and (PurePath(named).name != named or "\\" in named):
        problem = "on the desk, the press of bedding-in is a demo press or a file of the chosen folder"
        told = "its name alone, without folders"
        raise CaseRefused([Fault(_file(die), None, "die.bedded.press", named, problem, told, "copy the file there")])


def _file(sheet: Sheet) -> str:
    return f"{sheet.name}.toml"

"""One case file as it stands on disk: its text read strictly, its values, and the line of every key."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from deflect.casefile.locator import Path, lines_of
from deflect.faults import CaseRefused, Fault, printable

LARGEST_FILE = 1_000_000
"""Bytes. A case file written by hand is a few kilobytes; anything much larger is a mistake."""

_UTF8_MARK = b"\xef\xbb\xbf"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_SAVE_AS_UTF8 = "save the file as UTF-8 in the editor"

_SYNTAX = (
    ("Cannot overwrite a value", "this key is given twice", "keep one of the two"),
    ("Cannot declare", "this table is given twice", "put its keys together under one heading"),
    ("Cannot mutate immutable", "this table is already complete", "put its keys together in one place"),
    ("Duplicate inline table key", "this key is given twice", "keep one of the two"),
    ("Unterminated string", "a text is not closed", 'close it with " on the same line'),
    ("Illegal character", "a text is not closed on its line, or holds a character that cannot be typed",
     'close the text with " on the same line; leave out control characters'),
    ("Unescaped '\\' in a string", "a backslash does not stand for itself within double quotes",
     "write paths with / or between single quotes"),
    ("Expected '=' after a key", "a key is not followed by =", 'write key = "value"'),
    ("Invalid initial character for a key", "a key cannot start like this",
     "use letters, digits, - and _, or put the key in double quotes"),
    ("Expected newline or end of document", "something follows the value",
     'a quantity stands in double quotes, as in "200 mm"; one key a line; remarks start with #'),
    ("Invalid value", "the value cannot be read",
     'put quantities and names in double quotes, as in "200 mm"'),
    ("Unclosed array", "a list is not closed", "close it with ]"),
    ("Unclosed inline table", "a table in braces is not closed", "close it with } on the same line"),
    ("Expected ']", "the heading of a table is not closed", "write it as [die.base] or [[die.forces]]"),
)  # fmt: skip
"""What tomllib says first, what that means, and what to do."""


_UNREADABLE_VALUE = ("Expected newline or end of document", "Invalid value", "Unclosed")
"""What tomllib says first of a quantity without quotes."""
_UNQUOTED = re.compile(r"(?P<key>[A-Za-z_-]+)\s*=\s*(?P<value>[+-]?[0-9][0-9.,]*\s*[A-Za-zµ°%][^\s,;#}\]\"]*)")
"""A key with a number and a unit that are not in quotes."""


@dataclass
class Document:
    """A case file: the name it is told by, its values, and the line of each key."""

    file: str
    values: dict[str, Any]
    lines: dict[Path, int]
    folder: FilePath
    text: str = ""

    @staticmethod
    def read(path: FilePath, file: str | None = None) -> Document:
        """Read a file; raises CaseRefused where it is no readable TOML text."""
        return Document.from_text(read_text(path, file or str(path)), file or str(path), path.parent)

    @staticmethod
    def from_text(text: str, file: str, folder: FilePath = FilePath()) -> Document:
        """Read a text as if it stood in ``file``."""
        try:
            return Document(file, tomllib.loads(text), lines_of(text), folder, text)
        except tomllib.TOMLDecodeError as error:
            raise CaseRefused([_syntax_fault(error, text, file)]) from None
        except (ValueError, RecursionError):
            raise _refused(file, "a number is too long or lists are nested too deep") from None

    def value(self, path: Path) -> Any:
        """The value at a path, or None where nothing is written."""
        found: Any = self.values
        for step in path:
            try:
                found = found[step]
            except (KeyError, IndexError, TypeError):
                return None
        return found

    def line(self, path: Path) -> int | None:
        """The line of the path, or of the nearest table above it that is written."""
        return next((self.lines[path[:n]] for n in range(len(path), 0, -1) if path[:n] in self.lines), None)

    def rename(self, table: Path, alias: str, key: str) -> bool:
        """Take ``alias`` of a table for ``key``. False if both are written."""
        parent = self.value(table)
        if not isinstance(parent, dict) or alias not in parent:
            return True
        if key in parent:
            return False
        parent[key] = parent.pop(alias)
        old, new = (*table, alias), (*table, key)
        for path in [path for path in self.lines if path[: len(old)] == old]:
            self.lines[(*new, *path[len(old) :])] = self.lines.pop(path)
        return True

    def fault(self, path: Path, problem: str, allowed: str = "", remedy: str = "") -> Fault:
        """A fault at a path of this document."""
        written = self.value(path)
        value = "" if written is None else as_written(written)
        return Fault(self.file, self.line(path), dotted(path), value, problem, allowed, remedy)


def dotted(path: Path) -> str:
    """A path as people write it: die.forces[2].share, with lists counted from 1."""
    text = ""
    for step in path:
        text += f"[{step + 1}]" if isinstance(step, int) else f".{printable(step, 40)}" if text else printable(step, 40)
    return text


def as_written(value: object) -> str:
    """A TOML value much as it was typed, on one line and not too long."""
    return printable(_typed(value))


def _typed(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {_typed(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_typed(inner) for inner in value) + "]"
    return str(value)


def _refused(file: str, problem: str, remedy: str = "", line: int | None = None) -> CaseRefused:
    return CaseRefused([Fault(printable(file, 200), line, "", "", problem, "", remedy)])


def read_text(path: FilePath, file: str) -> str:
    data = _bytes(path, file)
    if data.startswith(_UTF16_MARKS) or b"\0" in data[:4]:
        raise _refused(file, "the file is written in UTF-16 or is no text at all", _SAVE_AS_UTF8, 1)
    try:
        text = data.removeprefix(_UTF8_MARK).decode("utf-8")
    except UnicodeDecodeError as error:
        start = error.start + (len(_UTF8_MARK) if data.startswith(_UTF8_MARK) else 0)
        line = 1 + data.count(b"\n", 0, start)
        problem = f"the byte {data[start]:#04x} is no UTF-8 text (an umlaut or sign saved in an older encoding?)"
        raise _refused(file, problem, _SAVE_AS_UTF8, line) from None
    if "\0" in text:
        line = 1 + text.count("\n", 0, text.index("\0"))
        raise _refused(file, "the file holds a NUL character: it is no plain text", _SAVE_AS_UTF8, line)
    return text


def _bytes(path: FilePath, file: str) -> bytes:
    try:
        if path.is_dir():
            raise _refused(file, "this is a folder", "name the case file in it")
        if not path.is_file():
            raise _refused(file, "there is no such file", "check the name and the folder")
        if path.stat().st_size > LARGEST_FILE:
            raise _refused(file, f"the file is larger than {LARGEST_FILE // 1000} kB: it is hardly a case file")
        return path.read_bytes()
    except OSError as error:
        problem = f"the file cannot be read ({(error.strerror or 'unknown reason').lower()})"
        raise _refused(file, problem, "check the name and the rights to read it") from None


def _syntax_fault(error: tomllib.TOMLDecodeError, text: str, file: str) -> Fault:
    said = str(error)
    place = re.search(r"at line (\d+), column (\d+)", said)
    lines = text.replace("\r\n", "\n").split("\n")
    line = int(place.group(1)) if place else max(len(text.rstrip().split("\n")), 1)
    written = lines[line - 1].strip() if line <= len(lines) else ""
    problem, remedy = next(
        ((problem, remedy) for start, problem, remedy in _SYNTAX if said.startswith(start)),
        (f"this is no TOML: {said.partition(' (at')[0].lower()}", "compare with a new case file"),
    )
    bare = _UNQUOTED.search(written)
    if bare and said.startswith(_UNREADABLE_VALUE):
        problem, remedy = "a quantity stands without quotes", f'write it in quotes: {bare["key"]} = "{bare["value"]}"'
    return Fault(file, line, "", printable(written), problem, "", remedy)

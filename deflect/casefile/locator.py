"""On which line of a TOML text each key stands.

Meant for a text that tomllib has read: it follows the grammar and does not judge it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

Path = tuple[str | int, ...]
"""A place in a document: keys, and indexes in arrays, from 0."""

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}#\n]*")
_BLANK = " \t\r\n"
_ESCAPES = {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r", '"': '"', "\\": "\\"}


def lines_of(text: str) -> dict[Path, int]:
    """The line, counted from 1, of every key, table and array element of the text."""
    return _Scanner(text.replace("\r\n", "\n")).scan()


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {}
        self.counts: dict[Path, int] = {}
        self._line, self._counted_to = 1, 0

    def scan(self) -> dict[Path, int]:
        table: Path = ()
        while self._skip(_BLANK):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
        return self.lines

    def _here(self) -> int:
        self._line += self.text.count("\n", self._counted_to, self.at)
        self._counted_to = self.at
        return self._line

    def _skip(self, blank: str) -> bool:
        """Move past blanks and comments; whether any text is left."""
        while self.at < len(self.text):
            if self.text[self.at] in blank:
                self.at += 1
            elif self.text[self.at] == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            else:
                return True
        return False

    def _peek(self) -> str:
        return self.text[self.at : self.at + 1]

    def _header(self) -> Path:
        line = self._here()
        is_array = self.text.startswith("[[", self.at)
        self.at += 2 if is_array else 1
        path = self._absolute(tuple(self._key()), line, of_array=is_array)
        self.at += 2 if is_array else 1
        return path

    def _absolute(self, keys: tuple[str, ...], line: int, *, of_array: bool) -> Path:
        """The path of a table header, with the current index of every array of tables on it."""
        path: Path = ()
        for depth, key in enumerate(keys, start=1):
            path = (*path, key)
            self.lines.setdefault(path, line)
            if depth == len(keys) and of_array:
                self.counts[path] = self.counts.get(path, -1) + 1
            if path in self.counts:
                path = (*path, self.counts[path])
                self.lines.setdefault(path, line)
        return path

    def _pair(self, table: Path) -> None:
        line = self._here()
        path = table
        for key in self._key():
            path = (*path, key)
            self.lines.setdefault(path, line)
        self.at += 1  # the equals sign
        self._skip(" \t")
        self._value(path)

    def _key(self) -> Iterator[str]:
        """The parts of a dotted key; leaves the place at what follows the key."""
        while True:
            self._skip(" \t")
            if self._peek() in ("'", '"'):
                yield self._string()
            else:
                bare = _BARE.match(self.text, self.at)
                if bare is None:
                    return
                self.at = bare.end()
                yield bare.group()
            self._skip(" \t")
            if self._peek() != ".":
                return
            self.at += 1

    def _value(self, path: Path) -> None:
        opening = self._peek()
        if opening == "[":
            self._array(path)
        elif opening == "{":
            self._inline_table(path)
        elif opening in ("'", '"'):
            self._string()
        else:
            scalar = _SCALAR.match(self.text, self.at)
            self.at = scalar.end() if scalar else self.at + 1

    def _array(self, path: Path) -> None:
        self.at += 1
        index = 0
        while self._skip(_BLANK + ",") and self._peek() != "]":
            self.lines.setdefault((*path, index), self._here())
            self._value((*path, index))
            index += 1
        self.at += 1

    def _inline_table(self, path: Path) -> None:
        self.at += 1
        while self._skip(_BLANK + ",") and self._peek() != "}":
            self._pair(path)
        self.at += 1

    def _string(self) -> str:
        quote = self._peek()
        is_long = self.text.startswith(quote * 3, self.at)
        end = quote * 3 if is_long else quote
        start = self.at = self.at + len(end)
        while self.at < len(self.text) and not self.text.startswith(end, self.at):
            self.at += 2 if quote == '"' and self._peek() == "\\" else 1
        inner = self.text[start : self.at]
        self.at += len(end)
        while is_long and self._peek() == quote:  # up to two quotes may stand before the closing three
            self.at += 1
        return inner if quote == "'" else _unescape(inner)


def _unescape(text: str) -> str:
    """A quoted key as tomllib reads it."""

    def one(match: re.Match[str]) -> str:
        code = match.group(1)
        return chr(int(code[1:], 16)) if code[0] in "uU" else _ESCAPES.get(code, code)

    return re.sub(r"\\(u[0-9A-Fa-f]{4}|U[0-9A-Fa-f]{8}|.)", one, text)

"""Condensed bodies on disk, by the content of their inputs: made once, mapped into memory by every process."""

from __future__ import annotations

import hashlib
import json
import zlib
from collections import OrderedDict
from collections.abc import Callable
from contextlib import suppress
from dataclasses import fields, replace
from functools import cache, reduce
from pathlib import Path
from typing import Any, Generic, TypeVar

import numpy as np

from deflect.faults import OutputRefused
from deflect.mechanics.acceptance import bed_stiffness
from deflect.mechanics.keeping import forget
from deflect.mechanics.screening import (
    CondensedDie,
    CondensedTable,
    condense_die,
    condense_top,
    die_content,
    table_content,
)
from deflect.model.die import Die
from deflect.model.press import Press
from deflect.outputs import put

# Bodies that a process keeps open; what is mapped is the system's to keep or drop.
_TABLES, _DIES = 8, 64
_ALIGNED = 64
_MARK = b"deflect body 2\n"
T = TypeVar("T", CondensedTable, CondensedDie)


@cache
def engine() -> str:
    """A hash of everything that a row rests on but the files: the program itself."""
    package = Path(__file__).resolve().parents[1]
    whole = hashlib.sha256()
    for part in ("model", "mechanics", "sizing", "rules", "remedies", "cautions", "advice", "findings.py", "study"):
        place = package / part
        for file in sorted(place.rglob("*.py")) if place.is_dir() else [place]:
            whole.update(file.relative_to(package).as_posix().encode())
            whole.update(file.read_bytes())
    return whole.hexdigest()


@cache
def _mechanics() -> str:
    """The part of it on which a condensed body rests."""
    package = Path(__file__).resolve().parents[1]
    whole = hashlib.sha256()
    for part in ("model", "mechanics"):
        for file in sorted((package / part).rglob("*.py")):
            whole.update(file.read_bytes())
    return whole.hexdigest()


class Bodies:
    """Condensed bodies of one folder; a file that is damaged is made anew."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._tables = _Kept[CondensedTable](_TABLES)
        self._dies = _Kept[CondensedDie](_DIES)

    def table(self, press: Press) -> CondensedTable:
        """The table of a press at the usual values."""
        stiffness = _stiffness(_plain(press))
        content = table_content(press, stiffness)
        return self._tables.get(
            content, lambda: self._read(content, CondensedTable, lambda: condense_top(press, stiffness))
        )

    def die(self, die: Die) -> CondensedDie:
        """A die's base with its weight, clamps and pattern of forces."""
        content = die_content(die)
        return self._dies.get(content, lambda: self._read(content, CondensedDie, lambda: condense_die(die)))

    def _read(self, content: str, kind: type[T], make: Callable[[], T]) -> T:
        name = hashlib.sha256(f"{_mechanics()}\n{content}".encode()).hexdigest()
        file = self._folder / name[:2] / f"{name}.body"
        body = _mapped(file, kind)
        if body is None:
            made = make()
            forget()  # what it was made of is many times as large
            _write(file, made)
            body = _mapped(file, kind) or made
        return body


class _Kept(Generic[T]):
    """The last bodies that were asked for."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._bodies: OrderedDict[str, T] = OrderedDict()

    def get(self, content: str, make: Callable[[], T]) -> T:
        body = self._bodies.pop(content, None)
        body = make() if body is None else body
        self._bodies[content] = body
        while len(self._bodies) > self._most:
            self._bodies.popitem(last=False)
        return body


@cache
def _stiffness(press: Press) -> float:
    """Of a press's land, N/mm3; found by solving its acceptance test where it is not stated."""
    stiffness = bed_stiffness(press.bare).nominal
    forget()
    return stiffness


def _plain(press: Press) -> Press:
    """Without what is only told of it, so that it can be a key."""
    return replace(press, inputs=(), note="")


def _write(file: Path, body: CondensedTable | CondensedDie) -> None:
    """Write a body aside and put it in place whole; where the disk is full it is only not kept."""
    arrays = {field.name: np.ascontiguousarray(getattr(body, field.name)) for field in fields(body)}
    parts = [part for array in arrays.values() for part in (array.tobytes(), b"\0" * (-array.nbytes % _ALIGNED))]
    index, start = {}, 0
    for name, array in arrays.items():
        index[name] = (start, array.dtype.str, array.shape)
        start += -(-array.nbytes // _ALIGNED) * _ALIGNED
    head = json.dumps(index).encode()
    told = _MARK + f"{len(head)} {start} {_sum(head, *parts)}\n".encode() + head
    with suppress(OutputRefused):
        put(file, b"".join((told, b"\0" * (-len(told) % _ALIGNED), *parts)))


def _sum(*parts: bytes | memoryview) -> int:
    """A sum that shows damage: not of an enemy, of a disk."""
    return reduce(lambda found, part: zlib.crc32(part, found), parts, 0)


def _mapped(file: Path, kind: type[T]) -> T | None:
    """A body whose arrays lie in the file; None where it is not there, or not whole."""
    try:
        with file.open("rb") as source:
            if source.readline() != _MARK:
                return None
            length, size, stated = (int(part) for part in source.readline().split())
            head = source.read(length)
            begin = source.tell() + -source.tell() % _ALIGNED
        whole = np.memmap(file, dtype=np.uint8, mode="r", offset=0)
        if whole.size != begin + size or _sum(head, whole[begin:].data) != stated:
            return None
        index: dict[str, Any] = json.loads(head)
        if set(index) != {field.name for field in fields(kind)}:
            return None
        arrays = {}
        for name, (start, dtype, shape) in index.items():
            count = int(np.prod(shape)) if shape else 1
            arrays[name] = np.frombuffer(whole, np.dtype(dtype), count, begin + start).reshape(shape)
        return kind(**arrays)
    except (OSError, ValueError, TypeError):
        return None

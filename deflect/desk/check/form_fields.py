"""What a form shows, read off the schema of the case files: nothing about presses and dies is known here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from deflect.casefile import CaseKind, schema
from deflect.desk.check.papers import KeyPath

RANGE_MARK = " / "
"""Between low, usual and high end, as a range stands in a form."""
_RANGE = ("low", "usual", "high")


@dataclass(frozen=True)
class FormField:
    """One key: its name, what it means and allows, how it is entered ("text", "name", "words", "flag", "count",
    "range", "file": too much for a form, written in the file itself), its words to choose from, and the usual value."""

    key: str
    hint: str
    entry: str
    words: tuple[str, ...] = ()
    usual: str = ""
    example: str = ""


@dataclass(frozen=True)
class FormTable:
    """A table of keys: fields, tables in it, and lists of tables (each with the forms that an entry may have)."""

    key: str
    hint: str = ""
    fields: tuple[FormField, ...] = ()
    tables: tuple[FormTable, ...] = ()
    lists: Mapping[str, tuple[FormTable, ...]] = field(default_factory=dict)


@cache
def form_of(kind: CaseKind) -> FormTable:
    """The form of a press file or die file."""
    whole = schema(kind)
    return _table(kind, whole["properties"][kind], whole["$defs"])


def field_at(table: FormTable, path: KeyPath) -> FormField:
    """The entry at a path of a form."""
    for step in path[:-1]:
        table = next(inner for inner in table.tables if inner.key == step)
    return next(known for known in table.fields if known.key == path[-1])


def _table(key: str, told: Mapping[str, Any], parts: Mapping[str, Any]) -> FormTable:
    fields, tables, lists = [], [], {}
    for name, entry in told["properties"].items():
        if " " in name or "-" in name or (key == "die" and name in ("lower_shoe", "base_plate", "die_base")):
            continue  # other names of a table that has its own
        found = list(_alternatives(entry, parts))
        objects = [one for one in found if "properties" in one and tuple(one["properties"]) != _RANGE]
        items = [
            part for one in found if one.get("type") == "array" for part in _alternatives(one.get("items", {}), parts)
        ]
        if items and all("properties" in one for one in items):
            lists[name] = tuple(_table(_tag(one) or name, one, parts) for one in items)
        elif objects and len(objects) == len([one for one in found if one.get("type") != "null"]):
            tables.append(_table(name, objects[0], parts))
        elif any(one.get("const") for one in found):
            continue  # the kind of an entry: chosen as the entry is added
        else:
            fields.append(_field(name, entry, found))
    return FormTable(key, told.get("description", ""), tuple(fields), tuple(tables), lists)


def _field(name: str, entry: Mapping[str, Any], found: list[Mapping[str, Any]]) -> FormField:
    hint = entry.get("description") or next((one["description"] for one in found if "description" in one), "")
    words = next((tuple(map(str, one["enum"])) for one in found if "enum" in one), ())
    kinds = {one.get("type") for one in found} - {"null"}
    example = next((str(one["examples"][0]) for one in found if one.get("examples")), "")
    is_range = any(tuple(one.get("properties", ())) == _RANGE for one in found)
    if is_range:
        entry_kind = "range"
    elif words:
        entry_kind = "words"
    elif kinds == {"boolean"}:
        entry_kind = "flag"
    elif kinds == {"integer"}:
        entry_kind = "count"
    elif "string" in kinds and not kinds - {"string", "number", "integer"}:
        entry_kind = "text" if any("pattern" in one for one in found) else "name"
    else:
        entry_kind = "file"
    return FormField(name, hint, entry_kind, words, shown(entry.get("default")), example)


def _alternatives(entry: Mapping[str, Any], parts: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    if "$ref" in entry:
        yield from _alternatives(parts[entry["$ref"].rpartition("/")[2]], parts)
        return
    several = entry.get("anyOf") or entry.get("oneOf")
    if not several:
        yield entry
        return
    for one in several:
        yield from _alternatives(one, parts)


def _tag(told: Mapping[str, Any]) -> str:
    """The kind that an entry of a list names, where it has one."""
    kind = told["properties"].get("kind", {})
    return str(kind.get("const") or "")


def shown(value: Any) -> str:
    """A written value as it stands in a form."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case dict() if tuple(value) == _RANGE:
            return RANGE_MARK.join(str(value[end]) for end in _RANGE)
        case str() | int() | float():
            return str(value)
        case _:
            return "see the file"


def typed(known: FormField, text: str) -> Any:
    """What goes into the file for what was typed; None: the key is left out.  Judged when the file is read."""
    text = text.strip()
    if not text:
        return None
    if known.entry == "flag":
        return text == "yes"
    if known.entry == "range" and text.count("/") == RANGE_MARK.count("/") * 2:
        return dict(zip(_RANGE, (part.strip() for part in text.split("/")), strict=True))
    if known.entry in ("count", "range", "text"):
        return _plain_number(text, whole=known.entry == "count")
    return text


def _plain_number(text: str, whole: bool) -> Any:
    """A number where a plain one was typed, else the text with its unit."""
    try:
        return int(text) if whole or text.lstrip("+-").isdigit() else float(text)
    except ValueError:
        return text


def dotted(kind: CaseKind, path: KeyPath) -> str:
    """A path as faults tell it: die.forces[2].share, with lists counted from 1."""
    return kind + "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in path)

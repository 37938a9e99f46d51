"""The table of inputs: every value that a case rests on, given or default, with its origin."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath
from typing import Any

from pydantic.fields import FieldInfo

from deflect.casefile.document import Document, as_written, dotted
from deflect.casefile.locator import Path
from deflect.casefile.parts.part import Derived, Part
from deflect.model.values import StatedInput


def stated_inputs(part: Part, document: Document, table: Path) -> tuple[StatedInput, ...]:
    """Every input of a table that was read without fault, in the order of its keys."""
    return tuple(_walk(part, document, table, {}))


def _walk(part: Part, document: Document, table: Path, outer: Derived) -> Iterator[StatedInput]:
    derived = outer | {(*table, *path): value for path, value in part.derived().items()}
    for name, info in type(part).model_fields.items():
        path, value = (*table, name), getattr(part, name)
        origin = _source(info)
        if document.value(path) is None and origin is not None and path not in derived:
            yield StatedInput(dotted(path), _shown(info.default), origin, True)
        elif isinstance(value, Part):
            yield from _walk(value, document, path, derived)
        elif isinstance(value, tuple) and value and all(isinstance(one, Part) for one in value):
            for index, one in enumerate(value):
                yield from _walk(one, document, (*path, index), derived)
        elif document.value(path) is not None:
            line = document.line(path)
            yield StatedInput(dotted(path), _shown(document.value(path)), f"{_name(document)}, line {line}", False)
        elif path in derived:
            shown, source = derived[path]
            yield StatedInput(dotted(path), shown, str(source), True)
        if not isinstance(value, Part):
            yield from _beneath(path, derived)
    yield from (one for one in _beneath(table, derived) if one.key.rpartition(".")[2] not in type(part).model_fields)


def _beneath(path: Path, derived: Derived) -> Iterator[StatedInput]:
    """The derived values that stand right below a path."""
    for place, (shown, source) in derived.items():
        if place[:-1] == path:
            yield StatedInput(dotted(place), shown, str(source), True)


def _name(document: Document) -> str:
    return PurePath(document.file).name


def _source(info: FieldInfo) -> str | None:
    extra = info.json_schema_extra
    return str(extra["x-source"]) if isinstance(extra, dict) and "x-source" in extra else None


def _shown(written: Any) -> str:
    """A value for the reader: texts without their quotes, ranges as low / usual / high."""
    if written is None:
        return "not stated"
    if isinstance(written, str):
        return written
    if isinstance(written, dict) and set(written) == {"low", "usual", "high"}:
        return " / ".join(str(written[name]) for name in ("low", "usual", "high"))
    return as_written(written)

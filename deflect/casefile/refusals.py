"""What pydantic finds wrong, told as faults of a document."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, get_args

from pydantic import Tag, ValidationError
from pydantic_core import ErrorDetails

from deflect.casefile.document import Document
from deflect.casefile.fields import Entry, did_you_mean
from deflect.casefile.locator import Path
from deflect.casefile.parts.forces import FORMS
from deflect.casefile.parts.part import Part
from deflect.faults import Fault


def faults_of(error: ValidationError, document: Document, model: type[Part], table: Path) -> list[Fault]:
    """Every mistake that a validation of ``table`` of the document found."""
    faults = []
    for one in error.errors(include_url=False):
        place = _place(model, one["loc"])
        path = (*table, *place.path)
        if not _is_echo(one, document.value(path)):
            faults.append(_fault(one, document, path, place.part))
    return faults


def _is_echo(error: ErrorDetails, written: Any) -> bool:
    """Whether a list is called too short only because its faulty entries were not counted."""
    return error["type"] == "too_short" and len(written) >= error["ctx"]["min_length"]


def _fault(error: ErrorDetails, document: Document, path: Path, part: type[Part] | None) -> Fault:
    kind, told = error["type"], error.get("ctx", {})
    if kind == "refused":
        return document.fault(path, told["problem"], told["allowed"], told["remedy"])
    if kind == "missing":
        return document.fault(path, *_missing(path, part))
    if kind == "extra_forbidden":
        return document.fault(path, *_unknown(path, part))
    if kind in ("union_tag_invalid", "union_tag_not_found"):
        return document.fault(_kind_path(path, document), *_no_form(document.value(path)))
    if kind in ("too_short", "too_long"):
        bound = f"at least {told['min_length']}" if kind == "too_short" else f"up to {told['max_length']}"
        remedy = "add to it" if kind == "too_short" else "shorten it"
        return document.fault(path, f"the list has {len(document.value(path))} entries", bound, remedy)
    if kind == "tuple_type":
        return document.fault(path, *_no_list(path, part))
    return document.fault(path, *_SHAPES.get(kind, ("this cannot be read here", error["msg"], "")))


_SHAPES = {
    "model_type": ("a table is expected here", "a table with its own keys", "give it a heading, or { }"),
}
"""What to say where a value has the wrong shape."""


def _no_list(path: Path, part: type[Part] | None) -> tuple[str, str, str]:
    """A list of tables may stand under headings of its own, unless it stands inside another list."""
    key = path[-1]
    known = part is not None and key in part.model_fields
    of_tables = known and part is not None and any(_forms(part.model_fields[str(key)].annotation).values())
    headed = of_tables and all(isinstance(step, str) for step in path)
    heading = f", or each of its tables under the heading [[{'.'.join(map(str, path))}]]" if headed else ""
    return "a list is expected here", "a list", f"write it in [ ]{heading}"


def _missing(path: Path, part: type[Part] | None) -> tuple[str, str, str]:
    key = path[-1]
    if isinstance(key, int) or part is None:
        return "a value is missing", "two lengths: x and y", 'write for example ["-900 mm", "400 mm"]'
    entry = next((one for one in part.model_fields[key].metadata if isinstance(one, Entry)), None)
    if entry is not None:
        return f"{key} is missing", entry.allowed, f"add it, as in {key} = {entry.example}"
    inner = [form for form in _forms(part.model_fields[key].annotation).values() if form is not None]
    keys = ", ".join(inner[0].model_fields) if inner else ""
    return f"{key} is missing", f"a table with {keys}" if keys else "", f"add {key}"


def _unknown(path: Path, part: type[Part] | None) -> tuple[str, str, str]:
    known = [] if part is None else list(part.model_fields)
    remedy = (
        _OTHER_NAMES.get(path, "") or did_you_mean(str(path[-1]), known) or "take it out, or take a key of the list"
    )
    return "this key is not known here", ", ".join(known), remedy


_OTHER_NAMES: dict[Path, str] = {
    ("die", name): 'did you mean base ("lower shoe")?' for name in ("shoe", "plate", "casting", "bottom", "lower base")
}
"""Keys that are most likely meant for another, which no likeness of letters shows."""


def _no_form(written: Any) -> tuple[str, str, str]:
    allowed = ", ".join(f'"{form}"' for form in FORMS)
    example = 'write for example kind = "patch"'
    if not isinstance(written, dict):
        return "a table with a kind is expected here", f"kind = one of {allowed}", example
    if "kind" not in written:
        return "kind is missing", allowed, example
    near = did_you_mean(str(written["kind"]), FORMS)
    return "this kind of pattern is not known", allowed, near or "take one of the list"


def _kind_path(path: Path, document: Document) -> Path:
    written = document.value(path)
    return (*path, "kind") if isinstance(written, dict) and "kind" in written else path


@dataclass(frozen=True)
class _Place:
    """Where a mistake stands: its path in the document, and the part that describes its table."""

    path: Path
    part: type[Part] | None


def _place(model: type[Part], loc: Path) -> _Place:
    """The place that pydantic means, without the tags that it adds where an entry has several forms."""
    forms: dict[str, type[Part] | None] = {_ONE_FORM: model}
    path: list[str | int] = []
    part: type[Part] | None = model
    for step in loc:
        if step in forms:
            forms = {_ONE_FORM: forms[str(step)]}
            continue
        path.append(step)
        if isinstance(step, str):
            part = forms.get(_ONE_FORM)
            known = part is not None and step in part.model_fields
            forms = _forms(part.model_fields[step].annotation) if part is not None and known else {}
    return _Place(tuple(path), part)


_ONE_FORM = ""
"""The tag of an entry that has one form only."""


def _forms(annotation: Any, tag: str = _ONE_FORM) -> dict[str, type[Part] | None]:
    """The parts that an annotation allows, by their tags; None for a form that is no part."""
    if isinstance(annotation, type) and issubclass(annotation, Part):
        return {tag: annotation}
    inner = get_args(annotation)
    tag = next((one.tag for one in inner if isinstance(one, Tag)), tag)
    forms: dict[str, type[Part] | None] = {} if tag == _ONE_FORM else {tag: None}
    for one in inner:
        forms |= {found: part for found, part in _forms(one, tag).items() if part or found not in forms}
    return forms

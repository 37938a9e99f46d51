"""The parts of a faulty table that can still be read, so that cross-checks miss no mistake."""

from __future__ import annotations

from typing import Annotated, Any, TypeVar, cast

from pydantic import TypeAdapter, ValidationError
from pydantic.fields import FieldInfo

from deflect.casefile.parts.part import Part

P = TypeVar("P", bound=Part)


def salvage(model: type[P], written: Any) -> tuple[P, frozenset[str]]:
    """The table with whatever can be read of it, and the dotted names of those parts."""
    values: dict[str, Any] = {}
    readable: set[str] = set()
    for name, info in model.model_fields.items():
        part = _part_type(info)
        if isinstance(written, dict) and name in written:
            _read(name, info, written[name], values, readable)
            if name not in values and part is not None and isinstance(written[name], dict):
                values[name], inner = salvage(part, written[name])
                readable |= {f"{name}.{key}" for key in inner}
            elif name in values and part is not None:
                readable |= {f"{name}.{key}" for key in places(part)}
        elif not info.is_required():
            _read(name, info, info.get_default(call_default_factory=True, validated_data={}), values, readable)
    return model.model_construct(**values), frozenset(readable)


def places(model: type[Part]) -> frozenset[str]:
    """The dotted names of all entries of a table and of the tables that it always has."""
    found = set(model.model_fields)
    for name, info in model.model_fields.items():
        part = _part_type(info)
        found |= {f"{name}.{key}" for key in places(part)} if part is not None else set()
    return frozenset(found)


def _read(name: str, info: FieldInfo, written: Any, values: dict[str, Any], readable: set[str]) -> None:
    try:
        adapter: TypeAdapter[Any] = TypeAdapter(cast(Any, Annotated[info.annotation, info]))
        values[name] = adapter.validate_python(written)
    except ValidationError:
        return
    readable.add(name)


def _part_type(info: FieldInfo) -> type[Part] | None:
    annotation = info.annotation
    return annotation if isinstance(annotation, type) and issubclass(annotation, Part) else None

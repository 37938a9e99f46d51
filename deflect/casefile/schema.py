"""JSON Schema of the case files, for editors that check and complete while one types."""

from __future__ import annotations

from typing import Any

from pydantic import TypeAdapter

from deflect.casefile.kinds import PARTS, CaseKind
from deflect.casefile.parts.die import BASE_ALIASES

DIALECT = "https://json-schema.org/draft/2020-12/schema"
"""The dialect that the schemas are written in."""


def schema(kind: CaseKind) -> dict[str, Any]:
    """The JSON Schema of a press file or a die file, with meanings, allowed ranges and units."""
    table = TypeAdapter(PARTS[kind]).json_schema(ref_template="#/$defs/{model}")
    definitions = table.pop("$defs", {})
    if kind == "die":
        _allow_aliases(table)
    return {
        "$schema": DIALECT,
        "title": f"{kind} file",
        "type": "object",
        "properties": {kind: table},
        "required": [kind],
        "additionalProperties": False,
        "$defs": definitions,
    }


def _allow_aliases(die: dict[str, Any]) -> None:
    """Let the die base go by its other names; one of the names is needed."""
    names = ("base", *BASE_ALIASES)
    die["properties"] |= dict.fromkeys(BASE_ALIASES, die["properties"]["base"])
    die["required"] = [key for key in die["required"] if key != "base"]
    die["oneOf"] = [{"required": [name]} for name in names]

"""Kinds of entries in a case file: how each is read, what it allows, what an editor may show."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, NoReturn

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from deflect.faults import QuantityRefused
from deflect.model.values import Interval
from deflect.sources import Source, Tag
from deflect.units import SPELLINGS, Kind, parse, parse_range
from deflect.units.misspelt import nearest

LONGEST_NAME = 120
"""Characters in a name, so that it fits on a line of a report."""
LONGEST_NOTE = 2000
"""Characters in a note."""
ROUND_OFF = 1e-9
"""Relative slack at the ends of an allowed range, so that unit conversion cannot push a value out."""


def refuse(problem: str, allowed: str = "", remedy: str = "") -> NoReturn:
    """Refuse an entry from within a pydantic validator."""
    raise PydanticCustomError("refused", "{problem}", {"problem": problem, "allowed": allowed, "remedy": remedy})


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """The known word that is nearest by its spelling, as a question; the empty text where none is near."""
    near = nearest(word, known)
    return "" if near is None else f'did you mean "{near}"?'


class Entry:
    """A kind of entry, used as ``Annotated[type, Entry(…)]``."""

    @property
    def allowed(self) -> str:
        """What may be written, in words."""
        raise NotImplementedError

    @property
    def example(self) -> str:
        """One thing that may be written, as typed in a file."""
        raise NotImplementedError

    def read(self, written: Any) -> Any:
        """The inside value of what is written, or a refusal."""
        raise NotImplementedError

    def describe(self) -> JsonSchemaValue:
        """What an editor should know, as JSON Schema."""
        raise NotImplementedError

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return self.describe()


@dataclass(frozen=True)
class Figure(Entry):
    """A quantity: what it means, its kind, and the lowest and highest value allowed, as written."""

    meaning: str
    kind: Kind
    lowest: str
    highest: str

    @property
    def allowed(self) -> str:
        units = f"a plain number or {self.kind.written}" if self.kind.bare else self.kind.written
        return f"{self.lowest} to {self.highest}, in {units}"

    @property
    def example(self) -> str:
        return f'"{self.kind.example}"'

    def read(self, written: Any) -> Any:
        try:
            value = parse(written, self.kind)
        except QuantityRefused as refused:
            refuse(refused.problem, self.allowed, refused.remedy)
        self._within(value, value)
        return value

    def _within(self, low: float, high: float) -> None:
        least, most = parse(self.lowest, self.kind), parse(self.highest, self.kind)
        slack = ROUND_OFF * max(abs(least), abs(most))
        if low < least - slack or high > most + slack:
            side = "too small" if low < least - slack else "too large"
            refuse(f"the {self.kind.name} is {side}", self.allowed, "check the figure and its unit")

    def _shape(self) -> JsonSchemaValue:
        text = {
            "type": "string",
            "pattern": f"^{NUMBER} *{_units(self.kind)}{'?' if self.kind.bare else ''}$",
        }
        return {"anyOf": [{"type": "number"}, text]} if self.kind.bare else text

    def describe(self) -> JsonSchemaValue:
        return {
            "description": f"{self.meaning}; {self.allowed}",
            "examples": [self.kind.example],
            **self._shape(),
        }


@dataclass(frozen=True)
class Spread(Figure):
    """A quantity that may be given as a range."""

    def read(self, written: Any) -> Any:
        try:
            low, usual, high = parse_range(written, self.kind)
        except QuantityRefused as refused:
            refuse(refused.problem, self.allowed, refused.remedy)
        self._within(low, high)
        return Interval(low, usual, high)

    def describe(self) -> JsonSchemaValue:
        unit = _units(self.kind)
        last = f"{unit}?" if self.kind.bare else unit
        names = ("low", "usual", "high")
        table = {
            "type": "object",
            "properties": {name: self._shape() for name in names},
            "required": list(names),
            "additionalProperties": False,
        }
        text = {"type": "string", "pattern": f"^{NUMBER} *{unit}? +to +{NUMBER} *{last}$"}
        return {
            "description": f"{self.meaning}; {self.allowed}; one figure, a range, or {{low, usual, high}}",
            "anyOf": [self._shape(), text, table],
        }


@dataclass(frozen=True)
class Words(Entry):
    """A text: what it means, its greatest length, and whether it may run over several lines."""

    meaning: str
    longest: int = LONGEST_NAME
    several_lines: bool = False

    @property
    def allowed(self) -> str:
        return f"a text of 1 to {self.longest} characters"

    @property
    def example(self) -> str:
        return '"…"'

    def read(self, written: Any) -> str:
        if not isinstance(written, str):
            refuse("a text is expected here", self.allowed, "put it in double quotes")
        if not written.strip():
            refuse("the text is empty", self.allowed, "write a text or leave the key out")
        if len(written) > self.longest:
            refuse(f"the text has {len(written)} characters", self.allowed, "shorten it")
        plain = written.replace("\r\n", "\n")
        if not all(sign.isprintable() or (self.several_lines and sign in "\n\t") for sign in plain):
            refuse("the text holds control characters", "characters that can be seen", "leave them out")
        return plain.strip()

    def describe(self) -> JsonSchemaValue:
        return {"type": "string", "minLength": 1, "maxLength": self.longest, "description": self.meaning}


@dataclass(frozen=True)
class Choice(Entry):
    """One word out of a list."""

    meaning: str
    words: tuple[str, ...]

    @property
    def allowed(self) -> str:
        return ", ".join(f'"{word}"' for word in self.words)

    @property
    def example(self) -> str:
        return f'"{self.words[0]}"'

    def read(self, written: Any) -> Any:
        if not isinstance(written, str):
            refuse("one of the listed words is expected here", self.allowed, f"write for example {self.example}")
        if written not in self.words:
            near = did_you_mean(written, self.words)
            refuse("this word is not known here", self.allowed, near or "take one of the list")
        return written

    def describe(self) -> JsonSchemaValue:
        return {"type": "string", "enum": list(self.words), "description": self.meaning}


@dataclass(frozen=True)
class Day(Entry):
    """A day of the calendar."""

    meaning: str

    @property
    def allowed(self) -> str:
        return "a day as year-month-day"

    @property
    def example(self) -> str:
        return '"2025-03-14"'

    def read(self, written: Any) -> str:
        if isinstance(written, date) and not isinstance(written, datetime):
            return written.isoformat()
        try:
            return date.fromisoformat(written if isinstance(written, str) else "").isoformat()
        except ValueError:
            refuse("this is no day", self.allowed, f"write for example {self.example}")

    def describe(self) -> JsonSchemaValue:
        return {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "description": self.meaning}


@dataclass(frozen=True)
class Flag(Entry):
    """Yes or no."""

    meaning: str

    @property
    def allowed(self) -> str:
        return "true or false, without quotes"

    @property
    def example(self) -> str:
        return "true"

    def read(self, written: Any) -> bool:
        if not isinstance(written, bool):
            refuse("yes or no is expected here", self.allowed, "write true or false")
        return written

    def describe(self) -> JsonSchemaValue:
        return {"type": "boolean", "description": self.meaning}


@dataclass(frozen=True)
class Whole(Entry):
    """A count."""

    meaning: str
    lowest: int
    highest: int

    @property
    def allowed(self) -> str:
        return f"a whole number from {self.lowest} to {self.highest}, without quotes"

    @property
    def example(self) -> str:
        return str(self.lowest)

    def read(self, written: Any) -> int:
        if isinstance(written, bool) or not isinstance(written, int):
            refuse("a whole number is expected here", self.allowed, f"write for example {self.example}")
        if not self.lowest <= written <= self.highest:
            refuse("the number is outside the allowed range", self.allowed, "check it")
        return written

    def describe(self) -> JsonSchemaValue:
        bounds = {"minimum": self.lowest, "maximum": self.highest}
        return {"type": "integer", "description": self.meaning, **bounds}


def default(written: Any, source: Source) -> Any:
    """A default, as it would be written in the file, with its source."""
    extra: dict[str, Any] = {"x-source": str(source)}
    return Field(default=written, json_schema_extra=extra)


def absent(consequence: str) -> Any:
    """An entry that may be left out, and what that means for the result."""
    return default(None, Source(f"{consequence}; ours", Tag.OURS))


NUMBER = r"[+-]?([0-9]+\.?[0-9]*|\.[0-9]+)([eE][+-]?[0-9]+)?"
"""A decimal number, as a pattern for editors."""


def _units(kind: Kind) -> str:
    """Every way to type a unit of this kind, as a pattern for editors."""
    typed = [*kind.units, *(other for other, known in SPELLINGS.items() if known in kind.units)]
    return "(" + "|".join(unit.replace("^", r"\^") for unit in typed) + ")"

"""Quantities as people write them: read strictly, refused with the ways to write them."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping

from deflect.faults import QuantityRefused, printable
from deflect.units.misspelt import nearest
from deflect.units.table import ADVICE, FORCE, KINDS, MASS, SPELLINGS, TONNE_FORCE, TONS, Kind

LONGEST = 80
"""Characters of a quantity, ranges included."""

_NUMBER = re.compile(r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
_SPLIT = re.compile(r"(?P<number>[+-]?[0-9.,'\u2019_ ]*[0-9][.,]?(?:[eE][+-]?[0-9]+)?) *(?P<unit>[^0-9].*)?")
_GROUPED = re.compile(r"[+-]?[0-9]{1,3}(?:[ '\u2019_][0-9]{3})+(?:[.,][0-9]*)?")
_MAYBE_THOUSANDS = re.compile(r"[+-]?[1-9][0-9]{0,2}\.[0-9]{2}0")
_DASHED = re.compile(
    r"(?P<low>[0-9.]+) *(?:-|\u2013|\u2014|\.\.\.?|…|\bbis\b|/) *(?P<high>[0-9.]+) *(?P<unit>[^0-9].*)?"
)
_RANGE = re.compile(r"[+-]?[0-9].* to [+-]?[0-9].*")
_SPACES = re.compile(r"[\s\u00a0\u2007\u2009\u202f]+")


def parse(text: object, kind: Kind) -> float:
    """The quantity in the inside unit. Raises QuantityRefused, which says what to write."""
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise QuantityRefused(f"{kind.called} is expected here", _allowed(kind), _example(kind))
    if isinstance(text, int | float):
        return _plain(text, kind)
    shown = _tidy(text)
    if not shown:
        raise QuantityRefused("nothing is written here", _allowed(kind), _example(kind))
    if len(shown) > LONGEST:
        raise QuantityRefused(f"{len(shown)} characters are no quantity", _allowed(kind), _example(kind))
    split = _SPLIT.fullmatch(shown)
    if split is None:
        raise _no_number(shown, kind)
    if _RANGE.fullmatch(shown):
        raise QuantityRefused("one figure is taken here, and no range", _allowed(kind), "write the usual one alone")
    number, unit = split["number"].strip(), (split["unit"] or "").strip()
    return _finite(_number(number, unit, kind) * _size(number, unit, kind), shown, kind)


def parse_range(text: object, kind: Kind) -> tuple[float, float, float]:
    """Low, usual and high value in the inside unit.

    Read from "20 to 100 N/mm3", from a table {low, usual, high}, or from one quantity, which
    then has no spread. The usual value of a written range is the geometric mean of its ends
    for stiffnesses and friction, where both ends are above zero, else their arithmetic mean.
    """
    if isinstance(text, Mapping):
        return _range_table(text, kind)
    if not isinstance(text, str) or " to " not in _tidy(text):
        _refuse_dashes(text, kind)
        value = parse(text, kind)
        return value, value, value
    first, _, last = _tidy(text).partition(" to ")
    high = parse(last, kind)
    ahead, behind = _SPLIT.fullmatch(first), _SPLIT.fullmatch(last)
    shared = behind["unit"] or "" if behind and ahead and not ahead["unit"] else ""
    low = parse(f"{first} {shared}", kind)
    return _ordered(low, _middle(low, high, kind), high, printable(text))


def _range_table(table: Mapping[object, object], kind: Kind) -> tuple[float, float, float]:
    names = ("low", "usual", "high")
    example = f'{{low = "{kind.example}", usual = …, high = …}}'
    if set(table) != set(names):
        found = ", ".join(printable(str(name)) for name in table) or "nothing"
        raise QuantityRefused(f"a range has low, usual and high; here stands {found}", example, "write all three")
    values = []
    for name in names:
        try:
            values.append(parse(table[name], kind))
        except QuantityRefused as refused:
            raise QuantityRefused(f"{name}: {refused.problem}", refused.allowed, refused.remedy) from None
    return _ordered(values[0], values[1], values[2], "the range")


def _ordered(low: float, usual: float, high: float, shown: str) -> tuple[float, float, float]:
    if not low <= usual <= high:
        raise QuantityRefused(
            f"{shown} does not rise from low to high", "low ≤ usual ≤ high", "write the low end first"
        )
    return low, usual, high


def _middle(low: float, high: float, kind: Kind) -> float:
    if kind.geometric and low > 0 < high:
        return min(max(math.sqrt(low) * math.sqrt(high), low), max(low, high))
    return low + (high - low) / 2


def _refuse_dashes(text: object, kind: Kind) -> None:
    dashed = _DASHED.fullmatch(_tidy(text)) if isinstance(text, str) else None
    if dashed:
        wanted = f"{dashed['low']} to {dashed['high']} {dashed['unit'] or ''}".strip()
        raise QuantityRefused("a range is written with the word to", _allowed(kind), f'write "{wanted}"')


def _tidy(text: str) -> str:
    return _SPACES.sub(" ", text).strip().replace("\u2212", "-")


def _allowed(kind: Kind) -> str:
    plain = "a plain number or " if kind.bare else ""
    return f"{kind.called} in {plain}{kind.written}"


def _example(kind: Kind) -> str:
    return f'write for example "{kind.example}"'


def _no_unit(number: str, kind: Kind) -> QuantityRefused:
    meant = " or ".join(f'"{number} {unit}"' for unit in kind.likely)
    return QuantityRefused("the unit is missing", _allowed(kind), f"write {meant}, if that is meant")


def _plain(number: float, kind: Kind) -> float:
    if not kind.bare:
        raise _no_unit(printable(str(number), LONGEST), kind)
    try:
        value = float(number)
    except OverflowError:
        value = math.inf
    return _finite(value, str(number)[:30], kind)


def _finite(value: float, shown: str, kind: Kind) -> float:
    if not math.isfinite(value):
        raise QuantityRefused(f"{printable(shown)} is not a finite figure", _allowed(kind), "write a finite figure")
    return value


def _no_number(shown: str, kind: Kind) -> QuantityRefused:
    if shown.lower().lstrip("+-").split(" ")[0] in {"nan", "inf", "infinity"}:
        return QuantityRefused(f"{printable(shown)} is not a finite figure", _allowed(kind), "write a finite figure")
    return QuantityRefused(f"{printable(shown)} does not start with a number", _allowed(kind), _example(kind))


def _number(number: str, unit: str, kind: Kind) -> float:
    """The figure before the unit, refused wherever it could be read in two ways."""
    if _NUMBER.fullmatch(number) and not _MAYBE_THOUSANDS.fullmatch(number):
        return float(number)
    tail = f" {unit}" if unit else ""
    if _MAYBE_THOUSANDS.fullmatch(number):
        whole, decimal = number.replace(".", ""), _plainly(number)
        problem = f"{number} may be {decimal} or {whole}"
        remedy = f'write "{decimal}{tail}" or "{whole}{tail}"'
    elif _GROUPED.fullmatch(number):
        plain = re.sub(r"[ '\u2019_]", "", number).replace(",", ".")
        problem, remedy = f"{number} has its digits in groups", f'write "{plain}{tail}"'
    elif "," in number or number.count(".") > 1:
        problem = f"{number} has {'a comma' if ',' in number else 'several points'}"
        remedy = _comma_remedy(number, tail, kind)
    else:
        problem, remedy = f"{number} is not one number", f'write one number, as in "{kind.example}"'
    raise QuantityRefused(problem, "digits with a decimal point and nothing between them", remedy)


def _comma_remedy(number: str, tail: str, kind: Kind) -> str:
    """How to write a number with commas or several points: every reading that it has."""
    bare = re.sub(r"[ '\u2019_]", "", number)
    readings = [_plainly(bare.replace(g, "").replace(m, ".")) for m, g in (".,", ",.") if _fits(bare, m, g)]
    if not readings:
        return f'write one number, as in "{kind.example}"'
    ways = " or ".join(f'"{reading}{tail}"' for reading in readings)
    return f"write {ways}{', whichever is meant' if len(readings) > 1 else ''}"


def _plainly(number: str) -> str:
    """A decimal number without idle zeros at its end."""
    return number.rstrip("0").rstrip(".") if "." in number else number


def _fits(number: str, mark: str, group: str) -> bool:
    """Whether a number reads with this decimal mark and this mark between thousands."""
    m, g = re.escape(mark), re.escape(group)
    return bool(re.fullmatch(rf"[+-]?(?:[0-9]+|[1-9][0-9]{{0,2}}(?:{g}[0-9]{{3}})+)(?:{m}[0-9]*)?", number))


def _size(number: str, unit: str, kind: Kind) -> float:
    """The size of the unit in the inside unit."""
    known = SPELLINGS.get(unit, unit)
    if known in kind.units:
        return kind.units[known]
    if not unit:
        if kind.bare:
            return 1.0
        raise _no_unit(number, kind)
    if unit.rstrip(".").lower() in TONS:
        raise QuantityRefused(
            f"{printable(unit)} is used for a mass and for a force, and in several sizes",
            _allowed(kind),
            _tons(number, kind),
        )
    others = [other for other in KINDS if known in other.units]
    if others:
        problem = f"{unit} is the unit of {others[0].called}; {kind.called} is expected"
        raise QuantityRefused(problem, _allowed(kind), (ADVICE if kind is FORCE else {}).get(unit, _example(kind)))
    raise QuantityRefused(f"the unit {printable(unit)} is not known", _allowed(kind), _nearest(unit, kind))


def _tons(number: str, kind: Kind) -> str:
    if not _NUMBER.fullmatch(number):
        return _example(kind)
    count = float(number)
    if kind is FORCE:
        return (
            f'write "{number} tf" for tonne-force, "{count * 2000:g} lbf" for short tons, '
            f'or kN ("{count * TONNE_FORCE / 1e3:g} kN" for tonne-force)'
        )
    if kind is MASS:
        return f'write "{number} t" for tonnes of 1000 kg, "{count * 2000:g} lb" for short tons of 2000 lb'
    return _example(kind)


def _nearest(unit: str, kind: Kind) -> str:
    if unit in ADVICE:
        return ADVICE[unit]
    spelt = [*kind.units, *(other for other, known in SPELLINGS.items() if known in kind.units)]
    near = nearest(unit, spelt)
    return _example(kind) if near is None else f'did you mean "{near}"?'

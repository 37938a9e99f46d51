"""Filters over rows: "gap_mm > 0.05", "verdict = not fit", "press ~ birch"."""

from __future__ import annotations

import re
from collections.abc import Iterable

from deflect.faults import DeflectError
from deflect.study.rows import COLUMNS, NUMBERS

_FORM = re.compile(r"^\s*(\w+)\s*(<=|>=|!=|=|<|>|~)\s*(.*?)\s*$")


class FilterRefused(DeflectError):
    """A filter cannot be read."""


def clause_of(filters: Iterable[str]) -> tuple[str, tuple[object, ...]]:
    """The filters, all of which must hold, as a clause for the journal and its values.

    A number is compared as a number; "~" asks whether the text is part of the column.  A row that does not know a
    column is not among those asked for.
    """
    parts, values = list[str](), list[object]()
    for one in filters:
        found = _FORM.match(one)
        if found is None:
            raise _refused(one, "it is no comparison")
        column, sign, wanted = found.groups()
        if column not in COLUMNS:
            raise _refused(one, f'there is no column "{column}"')
        if sign == "~":
            parts.append(f"instr(lower({column}), lower(?)) > 0")
            values.append(wanted)
            continue
        if column in NUMBERS:
            try:
                values.append(float(wanted))
            except ValueError:
                raise _refused(one, f'"{wanted}" is no number; the column\'s unit stands in its name') from None
        elif sign in ("=", "!="):
            values.append(wanted)
        else:
            raise _refused(one, f'"{column}" is text: use =, != or ~')
        parts.append(f"{column} {sign} ?")
    return " AND ".join(parts), tuple(values)


def _refused(filter_: str, problem: str) -> FilterRefused:
    return FilterRefused(
        f'--where "{filter_}": {problem}\n    allowed: COLUMN SIGN VALUE with a sign of = != < <= > >= ~ and one of '
        f'{", ".join(COLUMNS)}\n    to do: for example --where "gap_mm > 0.05" or --where "verdict = open"'
    )

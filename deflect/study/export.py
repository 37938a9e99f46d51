"""Rows as CSV and Parquet."""

from __future__ import annotations

import csv
import os
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from deflect.faults import DeflectError, OutputRefused
from deflect.outputs import aside, shown, why_not
from deflect.study.rows import COLUMNS, NUMBERS, Row

# Rows that are held at once.
_CHUNK = 5000
# A spreadsheet takes a text that opens like this for a formula, and works it out; behind a quote it shows it.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")


class ParquetMissing(DeflectError):
    """The library for Parquet is not there."""


def write_csv(rows: Iterable[Row], file: Path) -> int:
    """Write rows as CSV with a head; what is not known is empty, no text counts as a formula.  Returns how many."""

    def write(ready: Path) -> int:
        count = 0
        with ready.open("w", encoding="utf-8", newline="") as out:
            sheet = csv.writer(out, lineterminator="\n")
            sheet.writerow(COLUMNS)
            for row in rows:
                sheet.writerow([_cell(getattr(row, name)) for name in COLUMNS])
                count += 1
        return count

    return _whole(file, write)


def write_parquet(rows: Iterable[Row], file: Path) -> int:
    """Write rows as Parquet; needs the extra "parquet".  Returns how many."""
    try:
        import pyarrow as pa
        import pyarrow.parquet as pq
    except ImportError:
        raise ParquetMissing("Parquet needs the library pyarrow: pip install 'deflect[parquet]'") from None
    schema = pa.schema([(name, pa.float64() if name in NUMBERS else pa.string()) for name in COLUMNS])

    def write(ready: Path) -> int:
        count = 0
        with pq.ParquetWriter(ready, schema) as out:
            for chunk in _chunks(iter(rows)):
                columns: dict[str, list[Any]] = {name: [getattr(row, name) for row in chunk] for name in COLUMNS}
                out.write_table(pa.table(columns, schema=schema))
                count += len(chunk)
        return count

    return _whole(file, write)


def _cell(value: object) -> object:
    """A value as it stands in a sheet: empty where it is not known, behind a quote where it opens like a formula."""
    if isinstance(value, str):
        return f"'{value}" if value.startswith(_FORMULA) else value
    return "" if value is None else value


def _chunks(rows: Iterator[Row]) -> Iterator[list[Row]]:
    while chunk := list(islice(rows, _CHUNK)):
        yield chunk


def _whole(file: Path, write: Callable[[Path], int]) -> int:
    """Write aside and put in place whole.  Raises OutputRefused."""
    try:
        with aside(file.parent) as place:
            count = write(place / "rows")
            os.replace(place / "rows", file)
    except (OSError, ValueError) as error:
        raise OutputRefused(f"{shown(file)} cannot be written: {why_not(error)}") from None
    return count

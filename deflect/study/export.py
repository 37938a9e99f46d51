"""Rows as CSV and Parquet."""

from __future__ import annotations

import csv
import os
import tempfile
from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from deflect.faults import DeflectError, OutputRefused
from deflect.study.rows import COLUMNS, NUMBERS, Row

# Rows that are held at once.
_CHUNK = 5000


class ParquetMissing(DeflectError):
    """The library for Parquet is not there."""


def write_csv(rows: Iterable[Row], file: Path) -> int:
    """Write rows as CSV with a head; what is not known is empty.  Returns how many."""

    def write(aside: Path) -> int:
        count = 0
        with aside.open("w", encoding="utf-8", newline="") as out:
            sheet = csv.writer(out, lineterminator="\n")
            sheet.writerow(COLUMNS)
            for row in rows:
                sheet.writerow(["" if (v := getattr(row, name)) is None else v for name in COLUMNS])
                count += 1
        return count

    return _aside(file, write)


def write_parquet(rows: Iterable[Row], file: Path) -> int:
    """Write rows as Parquet; needs the extra "parquet".  Returns how many."""
    try:
        import pyarrow as pa
        import pyarrow.parquet as pq
    except ImportError:
        raise ParquetMissing("Parquet needs the library pyarrow: pip install 'deflect[parquet]'") from None
    schema = pa.schema([(name, pa.float64() if name in NUMBERS else pa.string()) for name in COLUMNS])

    def write(aside: Path) -> int:
        count = 0
        with pq.ParquetWriter(aside, schema) as out:
            for chunk in _chunks(iter(rows)):
                columns: dict[str, list[Any]] = {name: [getattr(row, name) for row in chunk] for name in COLUMNS}
                out.write_table(pa.table(columns, schema=schema))
                count += len(chunk)
        return count

    return _aside(file, write)


def _chunks(rows: Iterator[Row]) -> Iterator[list[Row]]:
    while chunk := list(islice(rows, _CHUNK)):
        yield chunk


def _aside(file: Path, write: Callable[[Path], int]) -> int:
    """Write aside and put in place whole.  Raises OutputRefused."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        number, name = tempfile.mkstemp(dir=file.parent, suffix=file.suffix)
        os.close(number)
        try:
            count = write(Path(name))
            os.replace(name, file)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise OutputRefused(f"{file} cannot be written: {error.strerror}") from None
    return count

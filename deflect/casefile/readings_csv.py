"""Readings as a CSV table: one dial a line, the unit of each column in its head or in each field.

    dial; x [mm]; y [mm]; reading [mm]; force [MN]; area x [mm]; area y [mm]; area length [mm]; area width [mm]

Fields are parted by commas or by semicolons. A line that starts with # is a remark. Rows with the same force and
area make one step, in the order of the file.
"""

from __future__ import annotations

import csv
import io
import re
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath
from typing import Any

from deflect.casefile.document import Document, dotted, read_text
from deflect.casefile.fields import did_you_mean
from deflect.casefile.locator import Path
from deflect.faults import CaseRefused, Fault, printable
from deflect.units import FORCE, LENGTH, SPELLINGS, Kind

COLUMNS: dict[str, Kind | None] = {
    "dial": None,
    "x": LENGTH,
    "y": LENGTH,
    "reading": LENGTH,
    "force": FORCE,
    "area x": LENGTH,
    "area y": LENGTH,
    "area length": LENGTH,
    "area width": LENGTH,
}
"""Every column, with the kind of quantity in it; all of them are needed, in any order."""
_STEP = ("force", "area x", "area y", "area length", "area width")
_HEAD = re.compile(r"(?P<name>[^\[(]*?)\s*(?:[\[(]\s*(?P<unit>[^\])]*?)\s*[\])])?")
_BARE = re.compile(r"[+-]?[0-9.,eE+-]+")


@dataclass
class CsvReadings:
    """The steps of a table as they would stand in a readings file, and where each of their values stands.

    labels: by the key in a readings file, the column's number and head; faults: what is wrong with the table itself.
    """

    document: Document
    labels: dict[str, str] = field(default_factory=dict)
    faults: list[Fault] = field(default_factory=list)

    def placed(self, fault: Fault) -> Fault:
        """A fault told by line and column of the table."""
        return replace(fault, key=self.labels.get(fault.key, fault.key))


def read_table(path: FilePath, file: str) -> CsvReadings:
    """Read a CSV table. Raises CaseRefused where it is no readable text or has no head; other faults are kept."""
    text = read_text(path, file)
    lines = [(n, line) for n, line in enumerate(text.splitlines(), 1) if line.strip() and not line.startswith("#")]
    if not lines:
        raise CaseRefused([Fault(file, 1, "", "", "the table is empty", ", ".join(COLUMNS), "write a head and rows")])
    head_line, head = lines[0]
    parted_by = ";" if head.count(";") >= head.count(",") else ","
    heads = _fields(head, parted_by)
    places, units, faults = _columns(heads, file, head_line)
    if faults:
        raise CaseRefused(faults)
    table = CsvReadings(Document(file, {"steps": []}, {}, path.parent))
    steps: dict[tuple[str, ...], int] = {}
    for number, line in lines[1:]:
        cells = _fields(line, parted_by)
        if len(cells) != len(heads):
            problem = f"this row has {len(cells)} fields, the head has {len(heads)}"
            remedy = "a decimal point, not a comma, within a number; one field for each column"
            table.faults.append(Fault(file, number, "", printable(line), problem, f"{len(heads)} fields", remedy))
            continue
        written = {name: _with_unit(cells[at], units[name]) for name, at in places.items()}
        labels = {name: f"column {at + 1}, {heads[at]}" for name, at in places.items()}
        _put(table, steps, written, labels, number)
    return table


def _fields(line: str, parted_by: str) -> list[str]:
    return [cell.strip() for cell in next(csv.reader(io.StringIO(line), delimiter=parted_by, skipinitialspace=True))]


def _columns(heads: list[str], file: str, line: int) -> tuple[dict[str, int], dict[str, str], list[Fault]]:
    """Where each column stands and which unit it has."""
    places: dict[str, int] = {}
    units: dict[str, str] = {}
    faults = []
    for at, head in enumerate(heads):
        parts = _HEAD.fullmatch(head)
        name = " ".join((parts["name"] if parts else head).replace("_", " ").casefold().split())
        unit = (parts["unit"] if parts else None) or ""
        key, allowed = f"column {at + 1}", ", ".join(COLUMNS)
        if name not in COLUMNS:
            remedy = did_you_mean(name, COLUMNS) or "take the column out, or name it as in the list"
            faults.append(Fault(file, line, key, printable(head), "this column is not known here", allowed, remedy))
            continue
        if name in places:
            faults.append(Fault(file, line, key, printable(head), "this column is there twice", "", "keep one of them"))
            continue
        kind = COLUMNS[name]
        if unit and (kind is None or SPELLINGS.get(unit, unit) not in kind.units):
            allowed = "no unit" if kind is None else kind.written
            faults.append(
                Fault(file, line, key, printable(head), "this unit is not known here", allowed, "write one of these")
            )
        places[name], units[name] = at, unit
    missing = [name for name in COLUMNS if name not in places]
    if missing:
        problem = f"the head lacks {', '.join(missing)}"
        faults.append(Fault(file, line, "", "", problem, ", ".join(COLUMNS), 'write heads as in "x [mm]"'))
    return places, units, faults


def _with_unit(cell: str, unit: str) -> str:
    return f"{cell} {unit}" if unit and _BARE.fullmatch(cell) else cell


def _put(
    table: CsvReadings, steps: dict[tuple[str, ...], int], written: dict[str, str], labels: dict[str, str], line: int
) -> None:
    """Add one row to the step with its force and area."""
    key = tuple(written[name] for name in _STEP)
    all_steps: list[Any] = table.document.values["steps"]
    if key not in steps:
        steps[key] = len(all_steps)
        area = {name.removeprefix("area "): written[name] for name in _STEP[1:]}
        all_steps.append({"force": written["force"], "forces": [{"kind": "patch", **area}], "dials": []})
        at: Path = ("steps", steps[key])
        _remember(table, (*at, "force"), labels["force"], line)
        for name in _STEP[1:]:
            _remember(table, (*at, "forces", 0, name.removeprefix("area ")), labels[name], line)
    at = ("steps", steps[key], "dials", len(all_steps[steps[key]]["dials"]))
    all_steps[steps[key]]["dials"].append(
        {"name": written["dial"], **{name: written[name] for name in ("x", "y", "reading")}}
    )
    for name, column in (("name", "dial"), ("x", "x"), ("y", "y"), ("reading", "reading")):
        _remember(table, (*at, name), labels[column], line)
    table.document.lines[at] = line


def _remember(table: CsvReadings, at: Path, label: str, line: int) -> None:
    table.document.lines[at] = line
    table.labels[dotted(at)] = label

"""From a press file and its readings to a calibration, and back into a press file that remembers it."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Annotated

from pydantic import Field, ValidationError

from deflect.casefile.checks import readings as checks
from deflect.casefile.document import Document, read_text
from deflect.casefile.names import resolve
from deflect.casefile.parts.part import Objection, Part
from deflect.casefile.parts.readings import ReadingsPart, StepPart
from deflect.casefile.reading import built_press, press_reading, readings_reading, told
from deflect.casefile.readings_csv import CsvReadings, read_table
from deflect.casefile.refusals import faults_of
from deflect.faults import CaseRefused, Fault
from deflect.model.press import Calibration, Press
from deflect.model.readings import Readings
from deflect.model.values import Interval

_HEADING = re.compile(r"\s*\[+\s*(?P<name>[^\]]*?)\s*\]+")
_OURS = "# Written by deflect calibrate from "
_CSV = ".csv"


class _StepsPart(Part):
    """The steps of a table."""

    steps: Annotated[tuple[StepPart, ...], Field(min_length=1, max_length=200)]


def read_measured(press: str | Path, readings: str | Path, date: str | None = None) -> tuple[Press, Readings]:
    """A press and what was measured on it. date: of a bare CSV table, year-month-day.

    Raises CaseRefused with every mistake of both files, and of the table that the readings name.
    """
    under = press_reading(press)
    faults = list(under.faults)
    table: CsvReadings | None = None
    document: Document | None = None
    part: ReadingsPart | None = None
    if str(readings).lower().endswith(_CSV):
        table, more, found = _read_csv(Path(readings), str(readings))
        part = _session(Path(readings).name, date)
        faults += found
    else:
        on = readings_reading(readings)
        document, part, more = on.document, on.part, ()
        faults += on.faults
        if document is not None and part is not None and "table" in on.readable and part.table is not None:
            table, more, found = _read_csv(document.folder / part.table, part.table)
            faults += found
        own = tuple(part.steps or ()) if part is not None and "steps" in on.readable else ()
        if document is not None and part is not None and {"steps", "table", "acceptance"} <= on.readable:
            objections = [] if part.table is not None else list(checks.something_measured(part))
            objections += checks.of_steps(own, ("steps",))
            if under.part is not None and under.readable >= _KNOWN:
                objections += checks.on_press(under.part, own, ("steps",))
            faults += told(objections, document, "readings")
        if date is not None and part is not None:
            part = part.model_copy(update={"date": date})
    if table is not None:
        objections = list(checks.of_steps(more, ("steps",)))
        if under.part is not None and under.readable >= _KNOWN:
            objections += checks.on_press(under.part, more, ("steps",))
        faults += _placed(objections, table)
    if faults or part is None or under.part is None:
        raise CaseRefused(faults)
    built = built_press(under)
    return built, part.build(built, more)


_KNOWN = frozenset({"bolster.length", "bolster.width", "bolster.openings", "rated_force"})
"""What of a press its readings are checked against."""


def _session(file: str, date: str | None) -> ReadingsPart:
    """What is taken of a bare CSV table: it says neither who measured nor how well."""
    return ReadingsPart.model_validate({"source": file[:120], **({} if date is None else {"date": date})})


def _read_csv(path: Path, file: str) -> tuple[CsvReadings | None, tuple[StepPart, ...], list[Fault]]:
    try:
        table = read_table(path, file)
    except CaseRefused as refused:
        return None, (), list(refused.faults)
    if not table.document.values["steps"]:
        if not table.faults:
            table.faults.append(Fault(file, 1, "", "", "the table has no rows", "one dial a row", "add what was read"))
        return table, (), table.faults
    try:
        steps = _StepsPart.model_validate(table.document.values).steps
    except ValidationError as error:
        steps = ()
        table.faults += [table.placed(fault) for fault in faults_of(error, table.document, _StepsPart, ())]
    return table, steps, sorted(table.faults, key=lambda fault: fault.line or 0)


def _placed(objections: Iterable[Objection], table: CsvReadings) -> list[Fault]:
    return [table.placed(table.document.fault(one.path, one.problem, one.allowed, one.remedy)) for one in objections]


def calibrated_text(press: str | Path, found: Calibration) -> str:
    """The press file's text with the calibration at its end; an earlier one is taken out. Raises CaseRefused."""
    path = resolve(press, ("press",))
    text = read_text(path, str(press))
    kept = _without_calibration(text).rstrip() + "\n\n" + _block(found)
    document = Document.from_text(kept, str(press), path.parent)
    if not isinstance(document.value(("press", "calibration", "source")), str):
        raise CaseRefused([document.fault(("press",), "the file cannot take a calibration at its end")])
    return kept


def _without_calibration(text: str) -> str:
    """The text without [press.calibration] and the tables in it."""
    kept, ours = [], False
    for line in text.splitlines():
        heading = _HEADING.match(line)
        if heading:
            name = heading["name"].replace(" ", "")
            ours = name == "press.calibration" or name.startswith("press.calibration.")
        if not ours and not line.startswith(_OURS):
            kept.append(line)
    return "\n".join(kept)


def _block(found: Calibration) -> str:
    land_thickness, land_walls, thickness_walls = found.correlation
    source = found.source.replace("\\", "\\\\").replace('"', '\\"')
    lines = [
        f"{_OURS}{found.readings} figures: usual values between the ends of their 95 % intervals.",
        "[press.calibration]",
        *([f'date = "{found.date}"'] if found.date else []),
        f'source = "{source}"',
        f"readings = {found.readings}",
        f"land_stiffness = {_range(found.land_stiffness, 'N/mm3')}",
        f"effective_thickness = {_range(found.effective_thickness, 'mm')}",
        *([] if found.wall_stiffness is None else [f"wall_stiffness = {_range(found.wall_stiffness, '')}"]),
        f"correlation = {{land_thickness = {land_thickness:.3f}, land_walls = {land_walls:.3f}, "
        f"thickness_walls = {thickness_walls:.3f}}}",
    ]
    return "\n".join(lines) + "\n"


def _range(interval: Interval, unit: str) -> str:
    ends = (("low", interval.low), ("usual", interval.nominal), ("high", interval.high))
    return "{" + ", ".join(f'{name} = "{f"{value:.5g} {unit}".strip()}"' for name, value in ends) + "}"

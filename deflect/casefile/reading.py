"""From files to presses, dies and cases, with every mistake told at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Generic, TypeVar

from pydantic import ValidationError

from deflect.casefile.changes import AS_WRITTEN, Changes
from deflect.casefile.checks import die as die_checks
from deflect.casefile.checks import pair as pair_checks
from deflect.casefile.checks import press as press_checks
from deflect.casefile.checks.registry import Checks
from deflect.casefile.document import Document
from deflect.casefile.fields import did_you_mean
from deflect.casefile.input_hash import input_hash
from deflect.casefile.inputs import stated_inputs
from deflect.casefile.kinds import PARTS, CaseKind
from deflect.casefile.names import resolve
from deflect.casefile.parts.die import BASE_ALIASES, DiePart
from deflect.casefile.parts.part import Objection, Part
from deflect.casefile.parts.press import PressPart
from deflect.casefile.parts.readings import ReadingsPart
from deflect.casefile.refusals import faults_of
from deflect.casefile.salvage import places, salvage
from deflect.faults import CaseRefused, Fault
from deflect.model.case import Case
from deflect.model.die import Die
from deflect.model.press import Press

P = TypeVar("P", bound=Part)


@dataclass(frozen=True)
class Written:
    """A case file as text that may stand in no file yet: the name it is told by, and the folder it belongs to."""

    text: str
    name: str
    folder: Path


@dataclass
class Reading(Generic[P]):
    """A file as far as it could be read: its part, the readable places, the faults found, and the file of the press
    that it was bedded in on."""

    document: Document | None
    part: P | None = None
    readable: frozenset[str] = frozenset()
    faults: list[Fault] = field(default_factory=list)
    bedding: Document | None = None


def read_press(press: str | Path) -> Press:
    """The press of a file or a demo case. Raises CaseRefused with every mistake."""
    return built_press(press_reading(press))


def read_die(die: str | Path) -> Die:
    """The die of a file or a demo case. Raises CaseRefused with every mistake."""
    reading = die_reading(die)
    bedded_on = _bedded_on(reading)
    return _die(reading, bedded_on)


def read(case: str | Path) -> Press | Die:
    """The press or die of a file, told apart by its top table."""
    path = resolve(case, tuple(PARTS))
    document = Document.read(path, _told_as(case, path))
    tops = [top for top in PARTS if top in document.values]
    if tops == ["press"]:
        return read_press(case)
    if tops == ["die"]:
        return read_die(case)
    problem = "this file holds a press and a die" if tops else "this file holds neither a press nor a die"
    near = next((meant for key in document.values if (meant := did_you_mean(key, PARTS))), "")
    if tops == ["readings"]:
        problem, remedy = "this file holds readings", "name it to calibrate, behind the press that they were taken on"
        raise CaseRefused([Fault(document.file, 1, "", "", problem, "[press] or [die]", remedy)])
    remedy = "write each in a file of its own" if tops else near or "start from a new case file"
    raise CaseRefused([Fault(document.file, 1, "", "", problem, "[press] or [die]", remedy)])


def read_case(
    die: str | Path | Written,
    press: str | Path | Written,
    die_changes: Changes = AS_WRITTEN,
    press_changes: Changes = AS_WRITTEN,
) -> Case:
    """A die on a press, each file changed first. Raises CaseRefused with every mistake of files and pair."""
    on, under = die_reading(die, die_changes), press_reading(press, changes=press_changes)
    bedded_on = _bedded_on(on)
    faults = [*(fault for fault in on.faults if not _told_of_the_press(fault, on, under)), *under.faults]
    if on.document and on.part and under.part:
        readable = {f"die.{key}" for key in on.readable} | {f"press.{key}" for key in under.readable}
        pair = pair_checks.Pair(on.part, under.part)
        faults += told(pair_checks.CHECKS.run(pair, frozenset(readable)), on.document, "die")
    if faults:
        raise CaseRefused(faults)
    documents = [document for document in (on.document, under.document, on.bedding) if document is not None]
    read_as = input_hash(documents, (die_changes, press_changes))
    return Case(built_press(under), _die(on, bedded_on), input_hash=read_as)


def _told_of_the_press(fault: Fault, on: Reading[DiePart], under: Reading[PressPart]) -> bool:
    """Whether a mistake of the press of bedding-in is told of the press itself already, because they are one file."""
    bedding, press = on.bedding, under.document
    return (
        bedding is not None
        and press is not None
        and fault.file == bedding.file
        and (bedding.folder / bedding.file).name == (press.folder / press.file).name
        and bedding.folder.resolve() == press.folder.resolve()
        and replace(fault, file=press.file) in under.faults
    )


def press_reading(
    press: str | Path | Written, beside: Path | None = None, changes: Changes = AS_WRITTEN
) -> Reading[PressPart]:
    """A press file as far as it can be read."""
    return _read(press, "press", PressPart, press_checks.CHECKS, beside, changes)


def die_reading(die: str | Path | Written, changes: Changes = AS_WRITTEN) -> Reading[DiePart]:
    """A die file as far as it can be read."""
    return _read(die, "die", DiePart, die_checks.CHECKS, None, changes)


def readings_reading(readings: str | Path) -> Reading[ReadingsPart]:
    """A readings file as far as it can be read."""
    return _read(readings, "readings", ReadingsPart, Checks())


def _read(
    typed: str | Path | Written,
    kind: CaseKind,
    model: type[P],
    checks: Checks[P],
    beside: Path | None = None,
    changes: Changes = AS_WRITTEN,
) -> Reading[P]:
    try:
        document = _document(typed, kind, beside)
    except CaseRefused as refused:
        return Reading(None, faults=list(refused.faults))
    reading: Reading[P] = Reading(document, faults=_top_faults(document, kind))
    if kind not in document.values:
        return reading
    reading.faults += _alias_faults(document) if kind == "die" else []
    try:
        changes.apply(document, kind)
    except CaseRefused as refused:
        reading.faults += refused.faults
    written = document.values[kind]
    try:
        reading.part, reading.readable = model.model_validate(written), places(model)
    except ValidationError as error:
        reading.faults += faults_of(error, document, model, (kind,))
        reading.part, reading.readable = salvage(model, written)
    reading.faults += told(checks.run(reading.part, reading.readable), document, kind)
    reading.faults.sort(key=lambda fault: fault.line or 0)
    return reading


def _document(typed: str | Path | Written, kind: CaseKind, beside: Path | None) -> Document:
    if isinstance(typed, Written):
        return Document.from_text(typed.text, typed.name, typed.folder)
    path = resolve(typed, (kind,), beside)
    return Document.read(path, _told_as(typed, path))


def _told_as(typed: str | Path, path: Path) -> str:
    """The name by which a file is told: as typed, or that of the demo case's file."""
    return str(typed) if Path(typed).name == path.name else path.name


def told(objections: Iterable[Objection], document: Document, kind: CaseKind) -> list[Fault]:
    return [document.fault((kind, *one.path), one.problem, one.allowed, one.remedy) for one in objections]


def _top_faults(document: Document, kind: CaseKind) -> list[Fault]:
    """A file holds one table, [press] or [die], at its top."""
    allowed = f"[{kind}] and the tables in it"
    faults = []
    for key in document.values:
        if key in PARTS and key != kind:
            problem, remedy = f"this file holds a {key}; a {kind} is expected", f"name the {kind}'s own file"
        elif key != kind:
            problem, remedy = (
                "this key is not known here",
                did_you_mean(key, (kind,)) or f"put it under [{kind}]",
            )
        else:
            continue
        faults.append(Fault(document.file, document.line((key,)), key, "", problem, allowed, remedy))
    if kind not in document.values and not faults:
        faults.append(Fault(document.file, 1, kind, "", "the file is empty", allowed, f"add [{kind}]"))
    return faults


def _alias_faults(document: Document) -> list[Fault]:
    return [
        document.fault(("die", alias), "the die base is described twice", "[die.base] once", "keep one of the two")
        for alias in BASE_ALIASES
        if not document.rename(("die",), alias, "base")
    ]


def _bedded_on(reading: Reading[DiePart]) -> Press | None:
    """The press on which the die was bedded in; its mistakes join those of the die."""
    if reading.document is None or reading.part is None or "bedded" not in reading.readable:
        return None
    bedded = reading.part.bedded
    if bedded is None:
        return None
    press = press_reading(bedded.press, reading.document.folder)
    if press.document is None:
        first, path = press.faults[0], ("die", "bedded", "press")
        reading.faults.append(reading.document.fault(path, first.problem, first.allowed, first.remedy))
        return None
    reading.bedding = press.document
    reading.faults += press.faults
    if press.part is not None:
        readable = {f"die.{key}" for key in reading.readable} | {f"press.{key}" for key in press.readable}
        objections = pair_checks.ON_BEDDING_PRESS.run(pair_checks.Pair(reading.part, press.part), frozenset(readable))
        reading.faults += told(map(_seen_from_bedding, objections), reading.document, "die")
    return None if press.faults else built_press(press)


def _seen_from_bedding(one: Objection) -> Objection:
    """What is wrong on the press of bedding-in, told at the table that names it."""
    if one.path[0] == "bedded":
        return one
    problem = f"on the press that it was bedded in on, {one.problem}"
    return Objection(("bedded", "press"), problem, one.allowed, f"name the right press, or: {one.remedy}")


def built_die(reading: Reading[DiePart]) -> Die:
    """The die of a reading; raises CaseRefused where it, or the press that it was bedded in on, has faults."""
    return _die(reading, _bedded_on(reading))


def built_press(reading: Reading[PressPart]) -> Press:
    """The press of a reading; raises CaseRefused where it has faults."""
    if reading.faults or reading.part is None or reading.document is None:
        raise CaseRefused(reading.faults)
    return replace(reading.part.build(), inputs=stated_inputs(reading.part, reading.document, ("press",)))


def _die(reading: Reading[DiePart], bedded_on: Press | None) -> Die:
    if reading.faults or reading.part is None or reading.document is None:
        raise CaseRefused(reading.faults)
    inputs = stated_inputs(reading.part, reading.document, ("die",))
    return replace(reading.part.build(bedded_on), inputs=inputs)

"""What comes of a mutant at the reader: read, or refused with mistakes in words; anything else is a fault of ours."""

from __future__ import annotations

import math
import time
import traceback
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from pathlib import Path

from mutants import Original, mutant

from deflect.casefile import read_case, read_measured
from deflect.casefile.names import demo_folder
from deflect.faults import CaseRefused
from deflect.model.case import Case

ACCEPTED, REFUSED, CRASHED = "accepted", "refused", "crashed"
SLOW, HUNG = 1.0, 30.0
"""Seconds of the processor from which a reading counts as slow, and as hung."""
_DIE, _PRESS, _READINGS = "rowan-trim", "alder-10mn", "hornbeam-spring"
_READ_ON = "hornbeam-10mn"
_LAST = 0x20


@dataclass(frozen=True)
class Came:
    """What came of a mutant: accepted, refused or crashed; seconds; the case, where it is one; what went wrong."""

    outcome: str
    seconds: float
    case: Case | None = None
    wrong: str = ""


def read_mutant(folder: Path, original: Original, others: tuple[Original, ...], seed: int, number: int) -> Came:
    """Write a mutant into a folder and read it, the die with a sound press and the other way round."""
    content = mutant(original, others, seed, number)
    file = folder / f"{original.kind}.{'csv' if original.kind == 'table' else 'toml'}"
    file.write_bytes(content)
    begun = time.process_time()
    case: Case | None = None
    try:
        if original.kind == "die":
            case = read_case(file, _PRESS)
        elif original.kind == "press":
            case = read_case(_DIE, file)
        elif original.kind == "table":
            read_measured(_READ_ON, file, "2026-01-31")
        else:
            table = folder / "hornbeam-spring.csv"
            if not table.exists():
                table.write_bytes((demo_folder() / "readings" / table.name).read_bytes())
            read_measured(_READ_ON, file)
    except CaseRefused as refused:
        return Came(REFUSED, time.process_time() - begun, wrong=_badly_told(refused))
    except Exception:
        return Came(CRASHED, time.process_time() - begun, wrong=traceback.format_exc(limit=-4))
    odd = [] if case is None else [name for name, value in figures_of(case) if not math.isfinite(value)]
    return Came(ACCEPTED, time.process_time() - begun, case, f"not finite: {odd}" if odd else "")


def _badly_told(refused: CaseRefused) -> str:
    """What is wrong with the words of a refusal, or nothing."""
    if not refused.faults:
        return "refused without a mistake"
    if not all(fault.problem for fault in refused.faults):
        return "a mistake without words"
    if any(ord(sign) < _LAST and sign != "\n" for sign in str(refused)) or "\x7f" in str(refused):
        return f"control characters reach the screen: {str(refused)!r}"
    if not str(refused).isascii() and any(not sign.isprintable() and sign != "\n" for sign in str(refused)):
        return f"signs that cannot be seen reach the screen: {str(refused)!r}"
    return ""


def figures_of(value: object, name: str = "") -> Iterator[tuple[str, float]]:
    """Every number in frozen values, with where it stands."""
    if isinstance(value, float):
        yield name, value
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from figures_of(getattr(value, field.name), f"{name}.{field.name}")
    elif isinstance(value, tuple):
        for n, inner in enumerate(value):
            yield from figures_of(inner, f"{name}[{n}]")

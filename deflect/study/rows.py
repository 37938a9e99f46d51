"""One row of a study, and how it is named: the columns once, for journal, export, filters and page."""

from __future__ import annotations

from dataclasses import dataclass, fields
from enum import StrEnum


class Stage(StrEnum):
    """How far a pair was solved."""

    SCREENING = "screening"
    FULL = "full"


REFUSED, FAILED = "refused", "failed"
"""Verdicts of pairs that cannot be read, and that the solver gave up on."""


@dataclass(frozen=True)
class Row:
    """One pair at one stage.  None: not known at this stage.

    die, press: files; verdict: of the screening (clear, open, beyond a limit, does not go in), of the full check, or
    refused, failed; reasons: sentences, "; " between them; breaks: rules of mounting that break; not_checked: rules
    that lack an input.  creep_bound_um: of a screening; no creep.  may_slide: 1 where the bound does not hold.
    creep_*_um: of the full check alone.  message: what is wrong with a file or pair.  seconds: that it took.
    """

    die: str
    press: str
    stage: str
    verdict: str
    die_name: str = ""
    press_name: str = ""
    reasons: str = ""
    breaks: str = ""
    not_checked: str = ""
    working_force_kn: float | None = None
    sag_mm: float | None = None
    sag_mm_per_m: float | None = None
    gap_mm: float | None = None
    gap_low_mm: float | None = None
    gap_high_mm: float | None = None
    contact_percent: float | None = None
    pressure_mpa: float | None = None
    breathing_um: float | None = None
    creep_bound_um: float | None = None
    may_slide: int | None = None
    creep_um: float | None = None
    creep_low_um: float | None = None
    creep_high_um: float | None = None
    strokes: float | None = None
    face_mm: float | None = None
    remedy: str = ""
    remedy_size: str = ""
    message: str = ""
    seconds: float | None = None

    @property
    def compared(self) -> tuple[object, ...]:
        """All that does not depend on the machine or the moment."""
        return tuple(getattr(self, f.name) for f in fields(self) if f.name != "seconds")


COLUMNS = tuple(field.name for field in fields(Row))
NUMBERS = tuple(field.name for field in fields(Row) if "float" in str(field.type) or "int" in str(field.type))
KEYS = ("die", "press", "stage")
UNITS = {
    "mm": "mm", "um": "µm", "percent": "%", "mpa": "MPa", "kn": "kN", "mm_per_m": "mm/m", "seconds": "s",
}  # fmt: skip
_DIGITS = 6


def rounded(value: float | None) -> float | None:
    """A figure to so many digits that no order of sums shows; None where there is no finite one."""
    if value is None or value != value or value in (float("inf"), float("-inf")):
        return None
    return float(f"{value:.{_DIGITS}g}")

"""The headline numbers of the main demo cases, kept from run to run: a change needs its cause in words."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from deflect.findings import Advice
from deflect.report.headlines import Headline, headlines
from deflect.report.wording import bare

PAIRS = (
    ("rowan-trim", "alder-10mn"),
    ("hazel-draw", "birch-12mn"),
    ("elder-offset", "alder-10mn"),
    ("maple-restrike", "birch-12mn"),
    ("willow-cast-trim", "cedar-8mn"),
)
"""Die and press of the cases whose numbers are kept."""
PAGE, NUMBERS = "numbers.md", "numbers.json"
MARKED = 0.01
"""Share by which a number may change before its cause must be told."""
# Numbers that are kept to so many digits: fewer than change from machine to machine, more than the share above sees.
_DIGITS = 5
# Below this a number is round-off of nothing, in its own unit.
_NOTHING = 1e-4
_SHOWN = ("sag_mm", "greatest_gap_mm", "contact_share_percent", "face_range_mm", "creep_um_per_stroke",
          "strokes_to_tolerance")  # fmt: skip
_OPENING = """\
# Headline numbers of the demo cases

Usual values and, in brackets, their ranges, as `deflect check` tells them. A change of a usual value by more than 1 %,
or another verdict, is written only with its cause in words. Strokes and creep are those of the die if it were free.

Written by `python -m deflect.report numbers`, which also says what has changed since.
"""

Numbers = dict[str, dict[str, Any]]
"""By case: verdict, and by headline its low, usual and high value; None for one without end."""


@dataclass(frozen=True)
class Change:
    """A number, or the verdict, that is no longer what it was."""

    case: str
    number: str
    was: str
    now: str

    def __str__(self) -> str:
        return f"{self.case}: {self.number} {self.was} → {self.now}"


def numbers_of(advice: Advice) -> dict[str, Any]:
    """Verdict and headline numbers of an advice."""
    told = headlines(advice.assessment.analysis, advice.assessment.findings)
    free = {number.key: number for number in told}
    row: dict[str, Any] = {"verdict": advice.verdict.value}
    for key in _SHOWN:
        row[key] = _kept(free[key], advice)
    return row


def _kept(number: Headline, advice: Advice) -> dict[str, Any]:
    value = number.value
    if number.held and number.key == "strokes_to_tolerance":
        value = advice.assessment.analysis.spread.strokes
    return {
        "unit": number.unit,
        "held": number.held,
        "low": _rounded(value.low),
        "usual": _rounded(value.nominal),
        "high": _rounded(value.high),
    }


def _rounded(value: float) -> float | None:
    return float(f"{value:.{_DIGITS}g}") if math.isfinite(value) else None


def changes(before: Numbers, now: Numbers) -> list[Change]:
    """Verdicts that differ, usual values that differ by more than the share, cases that came or went."""
    found = []
    for case in sorted(before.keys() ^ now.keys()):
        found.append(Change(case, "the case", *(("there", "gone") if case in before else ("not there", "new"))))
    for case in now:
        if case not in before:
            continue
        was, row = before[case], now[case]
        if was["verdict"] != row["verdict"]:
            found.append(Change(case, "verdict", was["verdict"], row["verdict"]))
        found += [
            Change(case, key, _usual(was[key]), _usual(row[key]))
            for key in _SHOWN
            if _differs(was[key]["usual"], row[key]["usual"])
        ]
    return found


def _differs(was: float | None, now: float | None) -> bool:
    if was is None or now is None:
        return was is not now
    return abs(now - was) > MARKED * abs(was) + _NOTHING


def _usual(row: Mapping[str, Any]) -> str:
    return _bare(row["usual"], row["unit"])


def _bare(value: float | None, unit: str) -> str:
    return bare(math.inf if value is None else value, unit)


@dataclass(frozen=True)
class Kept:
    """What was kept: the numbers, and the causes of their changes, the newest last."""

    numbers: Numbers
    causes: tuple[Mapping[str, Any], ...]


def kept(folder: Path) -> Kept:
    """The numbers of an earlier run; none where there was none."""
    file = folder / NUMBERS
    if not file.is_file():
        return Kept({}, ())
    read = json.loads(file.read_text(encoding="utf-8"))
    return Kept(read["numbers"], tuple(read["causes"]))


def with_cause(before: Kept, now: Numbers, found: Sequence[Change], cause: str) -> Kept:
    """The new numbers, and the cause of what has changed beside the earlier ones."""
    told = {"cause": cause, "changes": [str(change) for change in found]}
    return Kept(now, (*before.causes, told) if found else before.causes)


def page(told: Kept) -> str:
    """The page as Markdown."""
    heads = ("sag, mm", "gap, mm", "contact, %", "face, mm", "creep, µm a stroke", "strokes to the limit")
    lines = [_OPENING, f"| case | verdict | {' | '.join(heads)} |", f"|{'---|' * (len(heads) + 2)}"]
    for case, row in told.numbers.items():
        cells = [_cell(row[key]) for key in _SHOWN]
        lines.append(f"| {case} | {row['verdict']} | {' | '.join(cells)} |")
    lines += ["", "## Causes of change", ""]
    for cause in reversed(told.causes):
        lines += [f"* {cause['cause']}", *(f"  * {change}" for change in cause["changes"])]
    return "\n".join(lines if told.causes else [*lines, "None so far."]).rstrip() + "\n"


def _cell(row: Mapping[str, Any]) -> str:
    unit = row["unit"]
    usual, low, high = (_bare(row[end], unit) for end in ("usual", "low", "high"))
    held = "held; free: " if row["held"] else ""
    return f"{held}{usual}" + ("" if low == high else f" ({low} to {high})")


def write(told: Kept, folder: Path) -> Path:
    """Write page and numbers. Returns the page's path."""
    folder.mkdir(parents=True, exist_ok=True)
    data = {"numbers": told.numbers, "causes": list(told.causes)}
    (folder / NUMBERS).write_text(json.dumps(data, indent=1, ensure_ascii=False) + "\n", encoding="utf-8", newline="\n")
    (folder / PAGE).write_text(page(told), encoding="utf-8", newline="\n")
    return folder / PAGE

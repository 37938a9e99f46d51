"""The headline numbers of the demo cases, kept from run to run: a change needs its cause in words."""

from __future__ import annotations

import json
import math
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from deflect.advice import advise
from deflect.casefile import read_case
from deflect.casefile.names import demo_folder
from deflect.checks.bank import DRAWS
from deflect.findings import Advice
from deflect.outputs import put
from deflect.report.headlines import headlines
from deflect.report.wording import bare, unit_shown

PAGE, NUMBERS, CAUSES = "numbers.md", "numbers.json", "causes.toml"
MARKED = 0.01
"""Share by which a usual value may change before its cause must be told."""
# Digits that are kept of a number.
_DIGITS = 5
# Below this a number is round-off of nothing, in its own unit.
_NOTHING = 1e-4
_COLUMNS = {
    "sag_mm": "table sag, mm",
    "greatest_gap_mm": "greatest gap, mm",
    "contact_share_percent": "contact, %",
    "face_range_mm": "face, mm",
    "creep_um_per_stroke": "creep if free, µm a stroke",
    "strokes_to_tolerance": "strokes to its limit",
}
_OPENING = """\
# Headline numbers of the demo cases

Usual values of the pairs in `cases/pairs.toml` and, in brackets, both corners of their ranges; `deflect check` solves
more draws, so that its ranges are wider and a verdict may be more careful. Presses and dies are invented. This page is
written only if each change against the page before, of a usual value by more than 1 % or of a verdict, has its cause in
`reports/causes.toml`.

Written by `python -m deflect.report numbers` with deflect {version}.
"""
_CAUSES_OPENING = """\
# Why a number of numbers.md is no longer what it was.  The command adds what has changed; the cause is put in by hand.
"""

Numbers = dict[str, dict[str, Any]]
"""By case: verdict, input hash, and by headline its low, usual and high value; None for one without end."""


@dataclass(frozen=True)
class Change:
    """A number, or the verdict, that is no longer what it was."""

    case: str
    number: str
    was: str
    now: str

    def __str__(self) -> str:
        return f"{self.case}: {self.number} {self.was} → {self.now}"


def pairs() -> tuple[tuple[str, str], ...]:
    """Die and press of each case whose numbers are kept."""
    told = tomllib.loads((demo_folder() / "pairs.toml").read_text(encoding="utf-8"))
    return tuple((die, press) for die, press in told["pairs"])


def numbers_of(advice: Advice) -> dict[str, Any]:
    """Verdict and headline numbers of an advice."""
    analysis = advice.assessment.analysis
    row: dict[str, Any] = {"verdict": advice.verdict.value, "input_hash": analysis.case.input_hash}
    for number in headlines(analysis, advice.assessment.findings):
        if number.key not in _COLUMNS:
            continue
        never = number.held and number.unit == "strokes"
        row[number.key] = {
            "unit": number.unit,
            "held": never,
            "low": _rounded(number.value.low),
            "usual": _rounded(number.value.nominal),
            "high": _rounded(number.value.high),
        }
    return row


def numbers_of_pair(die: str, press: str) -> dict[str, Any]:
    """The same of a demo die on a demo press, solved."""
    return numbers_of(advise(read_case(die, press), DRAWS))


def _rounded(value: float) -> float | None:
    return float(f"{value:.{_DIGITS}g}") if math.isfinite(value) else None


def changes(before: Numbers, now: Numbers) -> list[Change]:
    """Verdicts that differ, usual values that differ by more than the share, and cases that are gone."""
    found = [Change(case, "the case", "there", "gone") for case in before if case not in now]
    for case in (case for case in now if case in before):
        was, row = before[case], now[case]
        if was["verdict"] != row["verdict"]:
            found.append(Change(case, "verdict", was["verdict"], row["verdict"]))
        found += [
            Change(case, key, _told(was[key]), _told(row[key]))
            for key in _COLUMNS
            if _differs(was[key]["usual"], row[key]["usual"])
        ]
    return found


def _differs(was: float | None, now: float | None) -> bool:
    if was is None or now is None:
        return was is not now
    return abs(now - was) > MARKED * abs(was) + _NOTHING


def _told(row: Mapping[str, Any]) -> str:
    usual = row["usual"]
    return "no end" if usual is None else f"{usual:g} {unit_shown(row['unit'])}"


def kept(file: Path) -> Numbers:
    """The numbers of an earlier run; none where there was none."""
    found: Numbers = json.loads(file.read_text(encoding="utf-8")) if file.is_file() else {}
    return found


def keep(file: Path, numbers: Numbers) -> None:
    """Write numbers as data."""
    text = json.dumps(numbers, indent=1, ensure_ascii=False) + "\n"
    put(file, text)


def causes(folder: Path) -> dict[Change, str]:
    """The cause of each change that was ever met, the oldest first; empty: not told yet."""
    file = folder / CAUSES
    if not file.is_file():
        return {}
    told = tomllib.loads(file.read_text(encoding="utf-8")).get("change", [])
    return {Change(one["case"], one["number"], one["was"], one["now"]): one["cause"].strip() for one in told}


def without_cause(found: Iterable[Change], folder: Path, cause: str) -> list[Change]:
    """Add the changes to the causes, those that are new with ``cause``; returns those whose cause is still not told."""
    known, found = causes(folder), list(found)
    known |= {change: cause.strip() for change in found if not known.get(change)}
    if found:
        keys = ("case", "number", "was", "now")
        parts = [
            "[[change]]\n"
            + "".join(f"{key} = {_quoted(getattr(change, key))}\n" for key in keys)
            + f"cause = {_quoted(words)}\n"
            for change, words in known.items()
        ]
        text = "\n".join([_CAUSES_OPENING, *parts])
        put(folder / CAUSES, text)
    return [change for change in found if not known[change]]


def _quoted(text: str) -> str:
    """A basic string of TOML: those of JSON are."""
    return json.dumps(text, ensure_ascii=False)


def page(numbers: Numbers, told: Mapping[Change, str], version: str) -> str:
    """The page as Markdown; told: the cause of each change."""
    lines = [_OPENING.format(version=version), f"| case | verdict | {' | '.join(_COLUMNS.values())} |"]
    lines.append(f"|{'---|' * (len(_COLUMNS) + 2)}")
    for case, row in numbers.items():
        cells = [_cell(row[key]) for key in _COLUMNS]
        lines.append(f"| {case} | {row['verdict']} | {' | '.join(cells)} |")
    lines += ["", "## Causes of change", ""]
    by_words: dict[str, list[Change]] = {}
    for change, words in told.items():
        by_words.setdefault(words, []).append(change)
    for words, all_of_them in reversed(by_words.items()):
        lines += [f"* {words}", *(f"  * {change}" for change in all_of_them)]
    return "\n".join(lines if told else [*lines, "None so far."]).rstrip() + "\n"


def _cell(row: Mapping[str, Any]) -> str:
    if row["held"]:
        return "held"
    usual, low, high = (
        bare(math.inf if row[end] is None else row[end], row["unit"]) for end in ("usual", "low", "high")
    )
    return usual if low == high else f"{usual} ({low} to {high})"

"""What moves the verdict of one pair: on the terminal and as JSON."""

from __future__ import annotations

from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from deflect.advice.sensitivity import VERDICT, Sensitivity
from deflect.model.case import Case
from deflect.report import versions
from deflect.report.data import WRITTEN_BY, finite
from deflect.report.wording import name

# Below this share of the variance an input is not worth a word.
_WORTH = 0.05

KEYS = {
    "first": "share of the number's variance that the input makes alone (Sobol index of first order)",
    "total": "the same together with all other inputs (total index); estimates, and noisy: they may pass 0 and 1",
    "low, high": "the number over the points, as a share of its limit: above 1 it breaks; creep: 1 + log10 of it",
    "holds_percent": "of the points at which every number keeps its limit",
}


def print_sensitivity(told: Sensitivity, case: Case, console: Console) -> None:
    """A table of total indices, the verdict first, and a sentence."""
    pair = Text(f"{name(case.die.name)} on {name(case.press.name)}", style="bold")
    console.print(Text.assemble(pair, ": what moves the verdict"))
    console.print(f"Every limit is kept at {100 * told.holds:.0f} % of {told.points} points of the ranges.")
    if not told.moved:
        console.print("Nothing moves: no input has a range that changes anything.")
        return
    for one in told.moved:
        order = sorted(zip(one.total, one.first, told.inputs, strict=True), reverse=True)
        strong = [f"{what} {100 * min(max(total, 0), 1):.0f} %" for total, _, what in order if total > _WORTH]
        title = "The verdict" if one.number == VERDICT else one.number.capitalize()
        console.print(f"  {title}: {', '.join(strong[:4]) or 'nothing by itself'}")
    table = Table(box=None, padding=(0, 2, 0, 0), header_style="dim")
    table.add_column("total Sobol index")
    for one in told.moved:
        table.add_column(one.number, justify="right")
    for k, what in enumerate(told.inputs):
        table.add_row(what, *(f"{one.total[k]:.2f}".replace("-", "−") for one in told.moved))
    console.print(table)


def sensitivity_json(told: Sensitivity, case: Case) -> dict[str, Any]:
    """All indices as JSON values."""
    plain: dict[str, Any] = {
        "written_by": WRITTEN_BY,
        "version": versions.own(),
        "die": case.die.name,
        "press": case.press.name,
        "points": told.points,
        "holds_percent": 100 * told.holds,
        "inputs": list(told.inputs),
        "numbers": [
            {"number": m.number, "first": list(m.first), "total": list(m.total), "low": m.low, "high": m.high}
            for m in told.moved
        ],
    }
    reasons: list[dict[str, Any]] = []
    return finite(plain, reasons) | {"nulls": reasons, "keys": KEYS}

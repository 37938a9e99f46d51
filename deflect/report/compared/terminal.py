"""A comparison on the terminal."""

from __future__ import annotations

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from deflect.compare import Compared, Comparison, Likely
from deflect.report.compared import words
from deflect.report.wording import name, sentence
from deflect.sizing.emulation import Measure

_STYLE = {
    Likely.ALIKE: "bold green",
    Likely.AFTER_MEASURES: "bold yellow",
    Likely.REDONE: "bold red",
    Likely.NOT_IN: "bold red",
}


def print_comparison(told: Comparison, console: Console) -> None:
    """Verdict, numbers, measures and bedding plan of each stand-in, then the cautions."""
    case = told.production.case
    _say(console, f"{name(case.die.name)}, bedded in on a stand-in for {words.title(case)}", style="bold")
    for line in words.obstacles(told.production.mounting):
        _say(console, sentence(f"production press: {line}"), 2)
    for one in told.compared:
        _standin(one, told, console)
    if not told.closure:
        console.print()
        _say(console, words.NO_CLOSURE)
    console.print()
    _say(console, "Cautions", style="bold")
    for caution in told.cautions:
        _say(console, f"! {caution.heading}", 2, "bold")
        for line in (*caution.words[: None if not caution.numbers else 1], *caution.numbers, caution.defer):
            _say(console, sentence(line), 4)


def _standin(one: Compared, told: Comparison, console: Console) -> None:
    case, plan = one.side.case, one.side.case.die.base.plan
    console.print()
    _say(console, words.title(case), style="bold")
    _say(console, f"Verdict: {words.verdict_words(one).upper()}", style=_STYLE[one.verdict])
    lines = [words.headline(one, told.tolerance), words.surety(one), f"force: {one.side.remark}"]
    lines += words.obstacles(one.side.mounting, one.side.lacking)
    for line in filter(None, lines):
        _say(console, sentence(line), 2)
    if one.solved is None or one.likeness is None:
        return
    for what, field in (("Face", one.likeness.face), ("Table below the die", one.likeness.table)):
        _say(console, words.differs(what, field, plan), 2)
    for line in words.closes(one, plan):
        _say(console, line, 2)
    _numbers(one, told, console)
    _say(console, "Measures, each solved anew", 2, "bold")
    _say(console, words.emulated(one, told), 4)
    for measure in () if one.emulation is None else one.emulation.measures:
        _measure(measure, one, told, console)
    if one.bedding is not None:
        _say(console, "Bedding plan", 2, "bold")
        for line in (*words.plan_in_short(one.bedding), words.time_and_risk(one.bedding)):
            _say(console, sentence(line), 4)


def _numbers(one: Compared, told: Comparison, console: Console) -> None:
    assert one.solved is not None
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    for head in ("", "production press", "stand-in", "stand-in less production"):
        table.add_column(head, justify="left" if not head else "right")
    for row in words.rows(told.solved, one.solved):
        table.add_row(row.title, *row.shown)
    console.print(Padding(table, (0, 0, 0, 2), expand=False))


def _measure(measure: Measure, one: Compared, told: Comparison, console: Console) -> None:
    _say(console, f"{words.TITLES[measure.kind]}: {words.size(measure, one.side.case)}", 4)
    _say(console, words.leaves(measure, told.tolerance, one.emulation is None or one.emulation.stands(measure)), 6)


def _say(console: Console, text: str, indent: int = 0, style: str = "") -> None:
    console.print(Padding(Text(text, style=style), (0, 0, 0, indent), expand=False))

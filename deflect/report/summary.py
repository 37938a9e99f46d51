"""The answer on the terminal, to be read in ten seconds."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from deflect.findings import Advice, Analysis, Assessment, Finding, Outcome, Stage, Status, Verdict, Warned
from deflect.report.bodies_compared import effort, rows
from deflect.report.headlines import Headline, change_shown, headlines, settled, value_shown
from deflect.report.holding import beyond, holdings, too_far_out, unsettled, withheld
from deflect.report.places import places_of, told_in_short
from deflect.report.sentence import what_happens
from deflect.report.wording import bare, bound, force, listed, name, sentence

_FIRST_REMEDIES = 3
# Columns that the names of the numbers need beside them.
_LEAST_LABEL = 12
_STYLE = {
    Verdict.FIT: "bold green",
    Verdict.WITH_MEASURES: "bold yellow",
    Verdict.NOT_FIT: "bold red",
    Verdict.UNDECIDED: "bold magenta",
}

_NUMBER_STYLE: dict[Status | None, str] = {Status.BREAKS: "bold red", Status.UNDECIDED: "bold magenta"}


def print_summary(advice: Advice, console: Console, report_path: Path | None = None) -> None:
    """Verdict, forces, headline numbers, rules, remedies and cautions."""
    analysis = advice.assessment.analysis
    die, press = analysis.case.die, analysis.case.press
    _say(console, f"{name(die.name)} on {name(press.name)}", style="bold")
    _say(console, f"Verdict: {advice.verdict.value.upper()}", style=_STYLE[advice.verdict])
    _say(console, what_happens(analysis), indent=2, style="bold")
    for reason in advice.reasons:
        _say(console, sentence(reason), indent=2)
    for line in settled(advice):
        _say(console, sentence(line), indent=2)
    _forces(advice, console)
    _numbers(headlines(analysis, advice.assessment.findings), console)
    _holders(analysis, console)
    _rules(advice.assessment, console)
    _side_by_side(advice, console)
    _steps(advice, console)
    _remedies(advice, console)
    _cautions(advice.cautions, console)
    if report_path is not None:
        _head(console, "Report")
        _say(console, sentence(str(report_path)), indent=2)


def _say(console: Console, text: str, indent: int = 0, style: str = "") -> None:
    console.print(Padding(Text(text, style=style), (0, 0, 0, indent), expand=False))


def _head(console: Console, text: str) -> None:
    console.print()
    _say(console, text, style="bold")


def _forces(advice: Advice, console: Console) -> None:
    case = advice.assessment.analysis.case
    stands = "hangs from the bolster" if case.cushion_hangs else "stands on the bed"
    cushion = force(case.die.cushion_force) + (f" ({stands})" if case.die.cushion_force else "")
    _head(console, "Forces")
    _say(
        console,
        f"working {force(case.die.working_force)}   cushion {cushion}   table {force(case.table_force)}",
        indent=2,
    )


def _numbers(numbers: Iterable[Headline], console: Console) -> None:
    _head(console, "Numbers")
    numbers = tuple(numbers)
    if console.width < _needed(numbers):
        for number in numbers:
            _one_a_line(number, console)
        return
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    table.add_column("", no_wrap=False)
    table.add_column("usual", justify="right", no_wrap=True)
    table.add_column("range", no_wrap=True)
    table.add_column("limit", no_wrap=True)
    for number in numbers:
        told = ", ".join(part for part in (number.where, number.note) if part)
        label = Text(number.title)
        if told:
            label.append(f"\n  {told}", style="dim")
        table.add_row(
            label,
            Text(number.shown, style=_NUMBER_STYLE.get(number.status, "bold")),
            Text(number.range_shown),
            Text(_limit(number)),
        )
    console.print(Padding(table, (0, 0, 0, 2), expand=False))


def _holders(analysis: Analysis, console: Console) -> None:
    """What keys, cones and guides take; clamps are told in the report."""
    parts = [part for part in holdings(analysis) if part.holder.kind != "clamp"]
    if not parts:
        return
    _head(console, "What holds it")
    if withheld(analysis):
        _say(console, withheld(analysis), indent=2)
        return
    for part in parts:
        _say(console, f"{part.holder.name}: {part.told}", indent=2, style="red" if part.overrun else "")
    for line in (too_far_out(analysis, tuple(parts)), unsettled(analysis), beyond(analysis)):
        if line:
            _say(console, line, indent=2)


def _limit(number: Headline) -> str:
    return "" if number.limit is None else f"{'≤' if number.at_most else '≥'} {bare(number.limit, number.unit)}"


def _needed(numbers: tuple[Headline, ...]) -> int:
    """Columns below which the table would cut its numbers."""
    columns = ([n.shown for n in numbers], [n.range_shown for n in numbers], [_limit(n) for n in numbers])
    return 2 + _LEAST_LABEL + sum(2 + max(len(text) for text in column) for column in columns)


def _one_a_line(number: Headline, console: Console) -> None:
    parts = [number.shown, f"range {number.range_shown}" if number.range_shown else "", _limit(number)]
    parts += [number.where, number.note]
    told = "; ".join(part for part in parts if part)
    _say(console, f"{number.title}: {told}", indent=2, style=_NUMBER_STYLE.get(number.status, ""))


def _rules(assessment: Assessment, console: Console) -> None:
    findings = assessment.findings
    groups = (
        (Status.BREAKS, "Rules that break", "red"),
        (Status.UNDECIDED, "Rules left undecided", "magenta"),
        (Status.NOT_CHECKED, "Rules not checked", ""),
    )
    for status, heading, style in groups:
        told = [f for f in findings if f.status is status]
        if not told:
            continue
        _head(console, heading)
        for finding in told:
            _say(console, f"{finding.rule.title}: {_told(finding, assessment.analysis)}", indent=2, style=style)
    holding = sum(f.status is Status.HOLDS for f in findings)
    _head(console, f"{holding} of {len(findings)} rules hold")


def _told(finding: Finding, analysis: Analysis) -> str:
    reading, unit = finding.reading, finding.rule.unit
    if reading is None:
        return sentence(finding.reason) or "no reason given"
    parts = [f"{value_shown(finding, analysis)}, {bound(reading.limit, unit, reading.at_most)}"]
    parts += [sentence(part) for part in (reading.where, reading.note, finding.reason) if part]
    return "; ".join(parts)


def _side_by_side(advice: Advice, console: Console) -> None:
    told = advice.side_by_side
    if told is None:
        return
    _head(console, "Plate and solid side by side")
    for row in rows(told, advice.assessment.analysis.case.die.base.plan):
        if row.short:
            _say(console, f"{row.title}: plate {row.plate}, solid {row.solid}", indent=2)
    _say(console, effort(told), indent=2)


def _steps(advice: Advice, console: Console) -> None:
    _head(console, "What to do, in this order")
    for stage in Stage:
        for step in advice.steps:
            if step.stage is stage:
                _say(console, f"{stage.value}: {step.title}", indent=2)
                _say(console, sentence(change_shown(step, advice) or step.why), indent=6)
                for line in places_of(step, advice):
                    _say(console, line, indent=6)
    for told in advice.measurements:
        decides = any(other.decides for other in advice.measurements if other.rule == told.rule)
        wish = "to decide" if decides else "to narrow the range"
        _say(console, f"{wish}, find out: {told.uncertain}", indent=2)
        for line in (told.how, told.at_low, told.at_high):
            _say(console, sentence(line), indent=6)
    for line in (*advice.unmended, *advice.against_trade):
        _say(console, sentence(line), indent=2)


def _remedies(advice: Advice, console: Console) -> None:
    if not advice.outcomes:
        return
    _head(console, "Remedies, each solved anew")
    before = headlines(advice.assessment.analysis, advice.assessment.findings)
    titles = {f.rule.id: f.rule.title for f in advice.assessment.findings}
    for number, outcome in enumerate(advice.outcomes[:_FIRST_REMEDIES], 1):
        _remedy(number, outcome, advice, before, titles, console)
    more = len(advice.outcomes) - _FIRST_REMEDIES
    if more > 0:
        _say(console, f"{more} more in the report", indent=2)


def _remedy(
    number: int,
    outcome: Outcome,
    advice: Advice,
    before: tuple[Headline, ...],
    titles: dict[str, str],
    console: Console,
) -> None:
    remedy, proposal = outcome.remedy, outcome.proposal
    _say(console, f"{number} {remedy.title}: {sentence(proposal.size)}", indent=2, style="bold")
    lines = [f"{word} {listed([titles.get(r, r) for r in rules])}" for word, rules in rules_moved(outcome) if rules]
    if not outcome.confirmed:
        lines.append("solved at the usual inputs only, not over their ranges")
    lines += told_in_short(outcome, advice.assessment.analysis.case)
    lines += [changes(before, headlines(outcome.analysis, outcome.findings))]
    lines += [f"effort: {remedy.effort}", f"drawback: {remedy.drawback}"]
    lines += [f"hazard: {text}" for text in hazards(outcome)]
    for line in lines:
        if line:
            _say(console, sentence(line), indent=6)


def rules_moved(outcome: Outcome) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Which rules a remedy cures, leaves and worsens."""
    return (("cures:", outcome.cured), ("leaves:", outcome.left), ("worsens:", outcome.worsened))


def hazards(outcome: Outcome) -> list[str]:
    """The remedy's hazard and the proposal's own."""
    return [text for text in dict.fromkeys((outcome.remedy.hazard, outcome.proposal.hazard)) if text]


def changes(before: tuple[Headline, ...], after: tuple[Headline, ...]) -> str:
    """The headline numbers that a remedy changes: "sag 0.41 → 0.36 mm"."""
    told = []
    for old, new in zip(before, after, strict=True):
        # Whether something holds the die is told by its strokes: how it would creep if it were free stays as it was.
        same = bare(old.value.nominal, old.unit) == bare(new.value.nominal, new.unit)
        if not same:
            told.append(f"{old.title[0].lower()}{old.title[1:]} {old.short} → {new.shown}")
    return "; ".join(told)


def _cautions(cautions: tuple[Warned, ...], console: Console) -> None:
    _head(console, "Cautions")
    for caution in cautions:
        _say(console, f"! {caution.heading}", indent=2, style="bold")
        for line in (*caution.words[: None if not caution.numbers else 1], *caution.numbers, caution.defer):
            _say(console, sentence(line), indent=4)

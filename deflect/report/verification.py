"""The published checks as they came out: on the terminal, as JSON rows, as a page of its own."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby

from markupsafe import Markup
from rich.console import Console
from rich.padding import Padding
from rich.text import Text

from deflect.checks import Outcome, Row
from deflect.report import versions
from deflect.report.markup import render
from deflect.report.style import STYLE

# Width of a check's id on the terminal.
_INDENT = 7
_WORDS = {True: "passed", False: "FAILED"}
_INTRODUCTION = (
    "Each check sets a figure computed by this program against one that comes from outside its mechanics: a series, "
    "a closed form, a printed table. Passed means that they differ by no more than the tolerance, whose reason is "
    "given, and that the exact figure is the printed one to its last digit. Figures that are our own say so."
)


def as_rows(outcomes: Sequence[Outcome]) -> list[dict[str, object]]:
    """Every row of every check, for JSON; tolerances are shares of the exact figure, or absolute where said."""
    return [
        {
            "id": outcome.check.id,
            "family": outcome.family,
            "what": outcome.check.what,
            "source": str(outcome.check.source),
            "function": outcome.check.function or None,
            "label": row.label,
            "printed": row.printed or None,
            "exact": _finite(row.exact),
            "computed": _finite(row.computed),
            "tolerance": row.tolerance,
            "tolerance_is_absolute": row.absolute,
            "reason": outcome.check.reason,
            "remark": outcome.check.remark or None,
            "passed": row.passed,
        }
        for outcome in outcomes
        for row in outcome.rows
    ]


def print_checks(outcomes: Sequence[Outcome], console: Console) -> None:
    """A line for each check with the figure that comes nearest to its tolerance, what it asks and its source below;
    failures in full; the count."""
    _say(console, _line("check", "figures", "computed", "exact", "tolerance"), "dim")
    for family, members in groupby(outcomes, key=lambda outcome: outcome.family):
        _say(console, family, "bold")
        for outcome in members:
            row, check = nearest(outcome), outcome.check
            figures = (_figure(row.computed), _figure(row.exact), tolerance(row))
            line = Text(_line(check.id, str(len(outcome.rows)), *figures))
            line.append(_WORDS[outcome.passed], "green" if outcome.passed else "bold red")
            console.print(line)
            console.print(Padding(Text(check.what), (0, 0, 0, _INDENT)))
            console.print(Padding(Text(str(check.source), "dim"), (0, 0, 0, _INDENT)))
    for outcome in outcomes:
        for row in outcome.rows:
            if not row.passed:
                _say(console, f"{outcome.check.id} {row.label}: {_told(row)}", "bold red")
    _say(console, "Of each check the figure is shown that comes nearest to its tolerance.", "dim")
    _say(console, summary(outcomes), "bold")


def _line(check: str, figures: str, computed: str, exact: str, allowed: str) -> str:
    return f"{check:<{_INDENT}}{figures:>7}{computed:>14}{exact:>14}{allowed:>12}  "


def _say(console: Console, words: str, style: str) -> None:
    console.print(Text(words, style))


def summary(outcomes: Sequence[Outcome]) -> str:
    """How many checks and figures passed."""
    failed = [outcome.check.id for outcome in outcomes if not outcome.passed]
    figures = sum(len(outcome.rows) for outcome in outcomes)
    calling = sum(bool(outcome.check.function) for outcome in outcomes)
    count = f"{len(outcomes)} checks with {figures} figures; {calling} run this program's own functions"
    return f"{count}: all passed" if not failed else f"{count}: {len(failed)} FAILED: {', '.join(failed)}"


def nearest(outcome: Outcome) -> Row:
    """The row that comes nearest to its tolerance, a failed one first."""
    return max(outcome.rows, key=lambda row: (not row.passed, abs(row.difference) / max(row.allowed, 1e-300)))


def tolerance(row: Row) -> str:
    """How a tolerance is shown: in per cent, or as it is."""
    return f"± {row.tolerance:.2g}" if row.absolute else f"{100 * row.tolerance:.2g} %"


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _figure(value: float) -> str:
    return f"{value + 0.0:.6g}"


def _told(row: Row) -> str:
    words = f"computed {_figure(row.computed)}, exact {_figure(row.exact)}, tolerance {tolerance(row)}"
    return words if row.as_printed else f"{words}, printed {row.printed}"


_PAGE = """\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="deflect {{ version }}">
<title>Published checks</title>
<style>{{ style }}</style>
</head>
<body>
<header><h1>Published checks</h1></header>
<main>
<p class="{{ 'holds' if passed else 'breaks' }}">{{ summary }}</p>
<p>{{ introduction }}</p>
{% for family, members in families %}
<section>
<h2>{{ family }}</h2>
{% for outcome in members %}
<h3 id="{{ outcome.check.id }}">{{ outcome.check.id }}: {{ outcome.check.what }}
<span class="{{ 'holds' if outcome.passed else 'breaks' }}">{{ words[outcome.passed] }}</span></h3>
<p class="dim">Source: {{ outcome.check.source | string }}.
{% if outcome.check.function %}Computed by <code>{{ outcome.check.function }}</code>.{% endif %}</p>
<div class="wide"><table>
<thead><tr><th>Figure</th><th class="n">Printed</th><th class="n">Exact</th><th class="n">Computed</th>
<th class="n">Difference</th><th class="n">Tolerance</th><th></th></tr></thead>
<tbody>
{% for row in outcome.rows %}
<tr><td>{{ row.label }}</td><td class="n">{{ row.printed }}</td><td class="n">{{ show(row.exact) }}</td>
<td class="n">{{ show(row.computed) }}</td><td class="n">{{ "%.1e" | format(row.difference) }}</td>
<td class="n">{{ tolerance(row) }}</td>
<td class="{{ 'holds' if row.passed else 'breaks' }}">{{ words[row.passed] }}</td></tr>
{% endfor %}
</tbody></table></div>
<p class="dim">{{ outcome.check.reason }} {{ outcome.check.remark }}</p>
{% endfor %}
</section>
{% endfor %}
</main>
<footer>deflect {{ version }}; {% for name, number in dependencies %}{{ name }} {{ number }}{{ ", " if not
loop.last }}{% endfor %}</footer>
</body>
</html>
"""


def page(outcomes: Sequence[Outcome]) -> str:
    """All checks as one self-contained HTML page."""
    families = [(family, list(members)) for family, members in groupby(outcomes, key=lambda outcome: outcome.family)]
    return str(
        render(
            _PAGE,
            version=versions.own(),
            dependencies=versions.dependencies(),
            style=Markup(STYLE),
            passed=all(outcome.passed for outcome in outcomes),
            summary=summary(outcomes),
            introduction=_INTRODUCTION,
            families=families,
            words=_WORDS,
            show=_figure,
            tolerance=tolerance,
        )
    )

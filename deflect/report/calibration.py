"""A calibration in words, on the screen and as JSON."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup
from rich.console import Console
from rich.table import Table
from rich.text import Text

from deflect.mechanics.calibration import Fit, Fitted, Residual
from deflect.model.values import Interval
from deflect.report import versions
from deflect.report.data import WRITTEN_BY
from deflect.report.markup import render
from deflect.report.style import STYLE
from deflect.units import show_deflection, show_force, show_share, show_slope

# An interval that readings narrowed by less than this share is told as not found by them (ours).
HARDLY = 0.1
# Readings that scatter this many times what was stated are told so (ours).
SCATTERED = 1.5
# Most dials whose place is told as one to measure next when it still narrows an interval, as a share (ours).
WORTH = 0.98

# Words on people's safety that go with every calibration.
CAUTION = (
    "Dials are set with the energy locked out and die blocks in, and read from outside the guards: nobody reaches into "
    "a press under force, nobody stands beside jacks that may spring out. Local rules and competent people decide."
)

UNITS = {"land stiffness": " N/mm³", "effective thickness": " mm", "force": " ×", "wall stiffness": " ×"}
MEANING = {
    "land stiffness": "stiffness of the bed below the land",
    "effective thickness": "thickness at which the bolster bends as measured",
    "force": "true force as a multiple of what the gauge showed",
    "wall stiffness": "walls of the bed, as a multiple of what their size gives",
}


def show_figure(name: str, value: float) -> str:
    """One fitted figure with its unit, four digits."""
    return f"{value:#.4g}".rstrip(".") + UNITS[name]


def show_interval(name: str, interval: Interval) -> str:
    """An interval with its unit."""
    return f"{interval.low:#.4g}".rstrip(".") + " to " + show_figure(name, interval.high)


def remarks(fit: Fit) -> tuple[str, ...]:
    """What to know before the fitted figures are used, in plain sentences."""
    said = []
    count, held = len(fit.residuals), fit.held
    said.append(f"Before these readings the press file's ranges held for {held} of {count} of them.")
    for one in fit.figures:
        if one.name != "force" and one.gain < HARDLY:
            said.append(f"The readings hardly say anything of the {one.name}: it stays what the press file had.")
    if fit.scatter > SCATTERED:
        said.append(
            f"The readings scatter {fit.scatter:.1f} times as much as their stated uncertainty; the intervals are made "
            "wider by that. Look for a dial that slips, a table that was not settled, or a force in another place."
        )
    for row in fit.residuals:
        if row.disagrees:
            said.append(
                f'The dial "{row.dial}" at {show_force(row.force)} disagrees with all others by {abs(row.off):.1f} '
                f"standard deviations ({_signed(row)}). Read it again; --without {row.dial!r} leaves it out."
            )
    for dial, figures in fit.without:
        told = ", ".join(f"{name} {show_figure(name, value)}" for name, value in figures if name != "force")
        said.append(f'Without "{dial}": {told}.')
    if fit.loose:
        told = ", ".join(f"{name} {show_figure(name, value)}" for name, value in fit.loose if name != "force")
        said.append(
            "How the bolster is held down is not stated. Fitted is what the assumed bolts give; with none at all it "
            f"would be {told}. The intervals take both in: state bed.hold_downs."
        )
    return tuple(said)


def next_told(fit: Fit) -> tuple[str, ...]:
    """What to measure next, one sentence for each figure that one more dial would narrow."""
    force = max([test.force for test in fit.readings.tests], default=0.0) or fit.press.rated_force
    return tuple(
        f"{one.name}: one more dial at {show_place(one.x, one.y)} under {show_force(force)} would narrow its interval "
        f"to {_percent(one.share)} of what it is."
        if one.share < WORTH
        else f"{one.name}: no single dial narrows its interval by more than {_percent(1 - WORTH)}; a greater force, a "
        "better gauge of the force or a force in another place would."
        for one in fit.next_places
    )


def show_place(x: float, y: float) -> str:
    """A place on the bolster."""
    return _minus(f"x {x:g}, y {y:g} mm")


def _minus(shown: str) -> str:
    """A shown number with a minus sign in place of the hyphen."""
    return shown.replace("-", "−")


def _percent(share: float) -> str:
    return show_share(round(share, 2))


def _signed(row: Residual) -> str:
    if _is_acceptance(row):
        return _minus(f"measured {show_slope(row.measured)}, fitted {show_slope(row.fitted)}")
    return _minus(f"read {show_deflection(row.measured)}, fitted {show_deflection(row.fitted)}")


def deviations(off: float) -> str:
    """How far off, in standard deviations: "+0.6 σ", "−1.2 σ", "0.0 σ"."""
    rounded = round(off, 1)
    return "0.0 σ" if rounded == 0 else f"{_minus(f'{rounded:+.1f}')} σ"


def _is_acceptance(row: Residual) -> bool:
    return row.dial == "acceptance figure"


def print_calibration(fit: Fit, console: Console) -> None:
    """Fitted figures, residuals, remarks and what to measure next."""
    day = f", {fit.readings.date}" if fit.readings.date else ""
    console.print(f"{fit.press.name}: {fit.readings.count} figures from {fit.readings.source}{day}", markup=False)
    figures = Table(title="Fitted, with 95 % intervals", title_justify="left")
    for head in ("figure", "before", "fitted", "interval", "narrower by"):
        figures.add_column(head)
    for one in fit.figures:
        figures.add_row(*map(Text, _figure_row(one)))
    console.print(figures)
    rows = Table(title="Each reading beside the fit", title_justify="left")
    for head in ("dial", "force", "read", "fitted", "left over", "off", "predicted before"):
        rows.add_column(head, justify="left" if head == "dial" else "right")
    for row in fit.residuals:
        rows.add_row(*map(Text, _residual_row(row)))
    console.print(rows)
    for sentence in remarks(fit):
        console.print(sentence, markup=False)
    console.print("To measure next:")
    for sentence in next_told(fit):
        console.print(f"  {sentence}", markup=False)
    console.print(CAUTION, markup=False)


def _figure_row(one: Fitted) -> tuple[str, ...]:
    return (
        one.name,
        show_interval(one.name, one.before),
        show_figure(one.name, one.after.nominal),
        show_interval(one.name, one.after),
        _percent(one.gain),
    )


def _residual_row(row: Residual) -> tuple[str, ...]:
    show = show_slope if _is_acceptance(row) else show_deflection
    low, high = (_minus(show(end)) for end in (row.predicted.low, row.predicted.high))
    return (
        row.dial + (" (disagrees)" if row.disagrees else ""),
        show_force(row.force),
        _minus(show(row.measured)),
        _minus(show(row.fitted)),
        _minus(show(row.residual)),
        deviations(row.off),
        f"{low} to {high}, {'held' if row.held else 'missed'}",
    )


_PAGE = """\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="deflect {{ version }}">
<title>Calibration of {{ press }}</title>
<style>{{ style }}</style>
</head>
<body>
<header>
<h1>Calibration of {{ press }}</h1>
</header>
<main>
<section>
<h2>What was fitted</h2>
<p>{{ count }} figures: {{ source }}{{ day }}. Intervals hold 95 of 100 times, if the table is of the kind that is
modelled and the readings scatter as stated.</p>
<div class="wide"><table>
<thead><tr><th>Figure</th><th>before</th><th class="n">fitted</th><th>interval</th>
<th class="n">narrower by</th></tr></thead>
<tbody>
{% for name, before, fitted, interval, gain in figures %}
<tr><td>{{ name }}</td><td>{{ before }}</td><td class="n">{{ fitted }}</td><td>{{ interval }}</td>
<td class="n">{{ gain }}</td></tr>
{% endfor %}
</tbody></table></div>
{% for sentence in remarks %}
<p>{{ sentence }}</p>
{% endfor %}
</section>
<section>
<h2>To measure next</h2>
<ul>
{% for sentence in next %}
<li>{{ sentence }}</li>
{% endfor %}
</ul>
</section>
<section>
<h2>Each reading beside the fit</h2>
<div class="wide"><table>
<thead><tr><th>Dial</th><th>place</th><th class="n">force</th><th class="n">read</th><th class="n">fitted</th>
<th class="n">left over</th><th class="n">off</th><th>predicted before</th></tr></thead>
<tbody>
{% for place, (dial, force, read, fitted, left, off, predicted) in readings %}
<tr><td>{{ dial }}</td><td>{{ place }}</td><td class="n">{{ force }}</td><td class="n">{{ read }}</td>
<td class="n">{{ fitted }}</td><td class="n">{{ left }}</td><td class="n">{{ off }}</td><td>{{ predicted }}</td></tr>
{% endfor %}
</tbody></table></div>
<p class="dim">Downward movement is positive. Off: residual against a fit without this dial, in standard deviations.
Predicted before: the range that the press file gave, uncertainty of reading included.</p>
</section>
</main>
<footer>Written by deflect {{ version }}. x runs left to right, y front to rear; the origin is the middle of the
bolster's top. {{ caution }}</footer>
</body>
</html>
"""


def page(fit: Fit) -> str:
    """A calibration as a page of its own."""
    return str(
        render(
            _PAGE,
            press=fit.press.name,
            version=versions.own(),
            style=Markup(STYLE),
            count=fit.readings.count,
            source=fit.readings.source,
            day=f", {fit.readings.date}" if fit.readings.date else "",
            figures=[_figure_row(one) for one in fit.figures],
            remarks=remarks(fit),
            next=next_told(fit),
            caution=CAUTION,
            readings=[(show_place(row.x, row.y), _residual_row(row)) for row in fit.residuals],
        )
    )


def as_json(fit: Fit) -> dict[str, Any]:
    """The calibration for other programs; keys carry their units."""
    units = {
        "land stiffness": "N_per_mm3",
        "effective thickness": "mm",
        "force": "multiple",
        "wall stiffness": "multiple",
    }
    return {
        "written_by": WRITTEN_BY,
        "press": fit.press.name,
        "date": fit.readings.date or None,
        "source": fit.readings.source,
        "figures": [
            {
                "name": one.name,
                "meaning": MEANING[one.name],
                "unit": units[one.name],
                "before": _three(one.before),
                "fitted": _three(one.after),
                "narrower_by_share": one.gain,
            }
            for one in fit.figures
        ],
        "correlation": dict(
            zip(("land_thickness", "land_walls", "thickness_walls"), fit.calibration.correlation, strict=True)
        ),
        "scatter_times_stated": fit.scatter,
        "ranges_held": {"held": fit.held, "of": len(fit.residuals)},
        "readings": [
            {
                "dial": row.dial,
                "x_mm": row.x,
                "y_mm": row.y,
                "force_N": row.force,
                "unit": "mm/mm" if _is_acceptance(row) else "mm",
                "read": row.measured,
                "fitted": row.fitted,
                "residual": row.residual,
                "off_standard_deviations": row.off,
                "disagrees": row.disagrees,
                "predicted_before": _three(row.predicted),
                "range_held": row.held,
            }
            for row in fit.residuals
        ],
        "without": [{"dial": dial, "figures": dict(figures)} for dial, figures in fit.without],
        "with_no_hold_downs": dict(fit.loose) or None,
        "measure_next": [
            {"figure": one.name, "x_mm": one.x, "y_mm": one.y, "interval_share_left": one.share}
            for one in fit.next_places
        ],
        "remarks": [*remarks(fit), *next_told(fit)],
        "cautions": [CAUTION],
    }


def _three(interval: Interval) -> dict[str, float]:
    return {"low": interval.low, "usual": interval.nominal, "high": interval.high}

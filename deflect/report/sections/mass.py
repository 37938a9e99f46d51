"""Mass of the die base from its section, and the energy that lifts the upper half."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.mechanics.stroke_energy import kilowatt_hours, lifting_energy
from deflect.model.case import Case
from deflect.model.die import DieBase
from deflect.report.markup import render
from deflect.units import show_length, show_mass

ORDER = 125
HEADING = "Mass"

_TEMPLATE = """\
<table>
<tbody>
{% for name, value in rows %}
<tr><td>{{ name }}</td><td>{{ value }}</td></tr>
{% endfor %}
</tbody></table>
<p class="dim">Energy is m g h of the upper half alone: the slide's own mass is not counted, and what a counterbalance
or the drive gives back is not taken off. What another section of the base would save stands with the remedies.</p>
"""


def fragment(advice: Advice) -> Markup:
    """Base, halves, lifting energy."""
    case = advice.assessment.analysis.case
    return render(_TEMPLATE, rows=[*_base(case.die.base), *_halves(case), *_energy(case)])


def _base(base: DieBase) -> list[tuple[str, str]]:
    share = base.mass / base.solid.mass
    rows = [
        ("die base, from its section", f"{show_mass(base.mass)}, {100 * share:.0f} % of the solid block"),
        ("its centre of mass over the underside", show_length(round(base.centre_height))),
    ]
    if base.ribs is not None:
        wall = base.ribs.walls
        for way, ribs, across in (("x", base.ribs.along_x, base.width), ("y", base.ribs.along_y, base.length)):
            if ribs is not None:
                apart = show_length(round(ribs.bay(across, wall)))
                count = len(ribs.places(across, wall))
                rows.append((f"ribs along {way} between the walls", f"{count}, {apart} from middle to middle"))
    return rows


def _halves(case: Case) -> list[tuple[str, str]]:
    halves = (("lower half", case.die.lower), ("upper half", case.die.upper))
    return [
        (name, show_mass(half.mass) + (", estimated: weigh it" if half.mass_is_estimated else ""))
        for name, half in halves
    ]


def _energy(case: Case) -> list[tuple[str, str]]:
    stroke, strokes = case.press.stroke, case.press.strokes_per_year
    if stroke is None:
        return [("energy that lifts the upper half", "not worked out: press.stroke is missing")]
    energy = lifting_energy(case.die.upper.mass, stroke)
    rows = [(f"energy that lifts the upper half by {show_length(stroke)}", f"{energy / 1e3:.1f} kJ a stroke")]
    if strokes is None:
        return [*rows, ("in a year", "not worked out: press.strokes_per_year is missing")]
    rows.append((f"in a year of {strokes:,} strokes".replace(",", " "), f"{kilowatt_hours(energy, strokes):.0f} kWh"))
    return rows

"""Mass of the die base from its section, and the energy that lifts the upper half."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice, Lighter
from deflect.mechanics.masses import lower_mass, upper_mass
from deflect.mechanics.stroke_energy import kilowatt_hours, lifting_energy
from deflect.model.case import Case
from deflect.model.die import Die, DieBase
from deflect.report.data_mass import yearly_energy
from deflect.report.markup import render
from deflect.sizing.lighter_ribs import lighter_upper_ribs
from deflect.units import show_deflection, show_length, show_mass, show_stress

ORDER = 125
HEADING = "Mass"
LESS = 100.0
"""kg: what a lighter upper half is told by."""

ROUNDED = 0.005
"""Share of a mass that a whole number of per cent does not show."""

_TEMPLATE = """\
<table>
<tbody>
{% for name, value in rows %}
<tr><td>{{ name }}</td><td>{{ value }}</td></tr>
{% endfor %}
</tbody></table>
<p class="dim">Energy is m g h of the upper half alone: the slide's own mass is not counted, and what a counterbalance
or the drive gives back is not taken off. What another section of the base would save stands with the remedies.</p>
{% if lighter %}
<div class="wide"><table>
<thead><tr><th>Ribs of the base</th><th class="n">base</th><th class="n">saved</th><th class="n">greatest gap</th>
<th class="n">face error</th><th class="n">stress of the base</th></tr></thead>
<tbody>
{% for told, mass, saved, gap, face, stress in lighter %}
<tr><td>{{ told }}</td><td class="n">{{ mass }}</td><td class="n">{{ saved }}</td><td class="n">{{ gap }}</td>
<td class="n">{{ face }}</td><td class="n">{{ stress }}</td></tr>
{% endfor %}
</tbody></table></div>
<p class="dim">Each pattern is solved anew at the usual values. Stress is that of the plate that ribs and skins make
together, permitted {{ permitted }}; corners of ribs see more. The thinnest rib is the foundry's:
die.base.ribs.thinnest.</p>
{% endif %}
{% if upper %}
<div class="wide"><table>
<thead><tr><th>Ribs of the upper base</th><th class="n">base</th><th class="n">saved</th>
<th class="n">energy saved a year</th>
<th class="n">gap above it</th><th class="n">camber lacking</th><th class="n">stress of the base</th></tr></thead>
<tbody>
{% for told, mass, saved, energy, gap, face, stress in upper %}
<tr><td>{{ told }}</td><td class="n">{{ mass }}</td><td class="n">{{ saved }}</td><td class="n">{{ energy }}</td>
<td class="n">{{ gap }}</td><td class="n">{{ face }}</td><td class="n">{{ stress }}</td></tr>
{% endfor %}
</tbody></table></div>
<p class="dim">The slide lifts this half: each pattern is closed anew at the usual values. Camber is what both faces
together lack for closing evenly; permitted stress {{ upper_permitted }}.</p>
{% endif %}
"""


def fragment(advice: Advice) -> Markup:
    """Base, halves, lifting energy."""
    case = advice.assessment.analysis.case
    return render(
        _TEMPLATE,
        rows=[*_base(case.die.base), *_halves(case.die), *_energy(case)],
        lighter=lighter_rows(advice.lighter),
        permitted=show_stress(case.die.base.material.permitted_stress),
        upper=upper_rows(case),
        upper_permitted=""
        if case.die.upper.base is None
        else show_stress(case.die.upper.base.material.permitted_stress),
    )


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


def _halves(die: Die) -> list[tuple[str, str]]:
    rows = []
    for name, half, found in (("lower half", die.lower, lower_mass(die)), ("upper half", die.upper, upper_mass(die))):
        mass, place = found.mass, f"{found.height:.0f} mm over its underside"
        told = show_mass(mass.nominal)
        if half.mass_is_estimated:
            low, high = show_mass(mass.low), show_mass(mass.high)
            told += ", estimated" + ("" if low == high else f" ({low} to {high})") + ": weigh it"
        rows.append((name, told))
        if abs(found.x) >= 0.5 or abs(found.y) >= 0.5:
            place += f", {found.x:+.0f} mm along x, {found.y:+.0f} mm along y from the middle of the base"
        else:
            place += ", over the middle of the base"
        rows.append((f"centre of mass of the {name}", f"{place}; {_how_sure(found.sure)}"))
    return rows


def _how_sure(share: float) -> str:
    """How much of a mass comes from a section, in words."""
    if share >= 1.0 - ROUNDED:
        return "all of its mass from its sections"
    known = f"{100 * share:.0f} % of the mass by its section, the rest" if share else "all of it"
    return f"{known} taken as spread evenly"


def _energy(case: Case) -> list[tuple[str, str]]:
    stroke, strokes = case.press.stroke, case.press.strokes_per_year
    if stroke is None:
        return [("energy that lifts the upper half", "not worked out: press.stroke is missing")]
    energy = lifting_energy(case.die.upper.mass, stroke)
    rows = [(f"energy that lifts the upper half by {show_length(stroke)}", f"{energy / 1e3:.1f} kJ a stroke")]
    if strokes is None:
        return [*rows, ("in a year", "not worked out: press.strokes_per_year is missing")]
    rows.append((f"in a year of {strokes:,} strokes".replace(",", " "), f"{kilowatt_hours(energy, strokes):.0f} kWh"))
    less = kilowatt_hours(lifting_energy(LESS, stroke), strokes)
    rows.append((f"each {show_mass(LESS)} less of it saves", f"{less:.0f} kWh a year"))
    return rows


def upper_rows(case: Case) -> list[tuple[str, ...]]:
    """Each pattern of ribs of the upper base with what it saves, in energy, too, and what it costs."""
    lighter = lighter_upper_ribs(case)
    rows = list[tuple[str, ...]]()
    for one, (told, mass, saved, gap, face, stress) in zip(lighter, lighter_rows(lighter), strict=True):
        less = yearly_energy(case, lighter[0].mass - one.mass)
        unknown = "" if one is lighter[0] else "not worked out"
        rows.append((told, mass, saved, f"{less:.0f} kWh" if less else unknown, gap, face, stress))
    return rows


def lighter_rows(lighter: tuple[Lighter, ...]) -> list[tuple[str, ...]]:
    """Each pattern of ribs with what it saves and what it costs."""
    return [
        (
            one.told,
            show_mass(one.mass),
            show_mass(lighter[0].mass - one.mass) if one is not lighter[0] else "",
            show_deflection(one.gap),
            show_deflection(one.face),
            show_stress(one.stress),
        )
        for one in lighter
    ]

"""The cut, and the match of the two halves."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice, Analysis
from deflect.mechanics.cutting import clearance, shear_force
from deflect.mechanics.matching import SHORT_PASS, WHAT_TO_DO, bending, budget, creep_until_setting
from deflect.model.matching import Fitted
from deflect.model.values import Interval
from deflect.report.headlines import NOTHING
from deflect.report.markup import render
from deflect.report.wording import figure, ranged
from deflect.units import show_force, show_length, show_micrometres

ORDER = 86
HEADING = "The cut, and the match of the halves"

_TEMPLATE = """\
{% for line in cut %}
<p>{{ line }}</p>
{% endfor %}
<p>The halves must match within <b>{{ found.target | micro }}</b> {{ found.at }}, over {{ given.length | length }}; they
are fitted {{ given.fitted.value }}.{% if not given.stated %} The case file says nothing of it: every value below is
assumed, and no rule judges the sum.{% endif %}</p>
<div class="wide"><table>
<thead><tr><th>What brings them apart</th><th class="n">least</th><th class="n">usual</th><th class="n">greatest</th>
<th>how it comes about</th></tr></thead>
<tbody>
{% for line in found.lines %}
<tr><td>{{ line.cause.value }}</td>{% for value in ends(line.value) %}<td class="n">{{ size(value) }}</td>{% endfor %}
<td>{{ line.how }}</td></tr>
{% endfor %}
<tr><th>root of the sum of squares, which counts</th>{% for value in ends(found.root_sum_square) %}
<th class="n">{{ size(value) }}</th>{% endfor %}<th>different causes do not all peak together</th></tr>
<tr><td>worst case</td>{% for value in ends(found.worst) %}<td class="n">{{ size(value) }}</td>{% endfor %}
<td>all lines at once and the same way</td></tr>
</tbody></table></div>
{% if found.left_out %}
<p>Taken out by fitting {{ given.fitted.value }}: {{ left_out }}.</p>
{% endif %}
<p><b>{{ found.dominating.cause.value | opening }} dominates.</b> {{ what_to_do }}{% if others %} Then: {{ others }}
{% endif %}</p>
<p>{{ measuring }}</p>
"""


def fragment(advice: Advice) -> Markup:
    """Shear force, clearance, and the budget line by line."""
    analysis = advice.assessment.analysis
    found, given = budget(analysis), analysis.case.die.matching
    advice_given = WHAT_TO_DO[found.dominating.cause]
    over = [WHAT_TO_DO[line.cause] for line in found.lines if line.value.nominal > found.target]
    others = " ".join(dict.fromkeys(told for told in over if told != advice_given))
    if not analysis.creep.held and analysis.spread.creep.nominal > NOTHING:
        strokes = found.target / analysis.spread.creep.nominal
        advice_given = (
            f"{advice_given} Creep alone uses up {show_micrometres(found.target)} within {_strokes(strokes)}."
        )
    growing = given.fitted is Fitted.BY_NUMBERS and given.machining_time > SHORT_PASS
    if growing:
        others = f"{others} {_short_pass(found.short_pass)}".strip()
    return render(
        _TEMPLATE,
        cut=_cut(analysis),
        found=found,
        given=given,
        ends=_ends,
        size=_size,
        left_out=", ".join(cause.value for cause in found.left_out),
        what_to_do=advice_given,
        others=others,
        measuring=_measuring(found.uncertainty, found.target, found.measurable),
    )


def _strokes(count: float) -> str:
    return figure(float(int(count)), "strokes")


def _ends(value: Interval) -> tuple[float, float, float]:
    return value.low, value.nominal, value.high


def _size(value: float) -> str:
    """A size in µm, from a millimetre on in mm."""
    return show_length(round(value, 1)) if abs(value) >= 1.0 else show_micrometres(value)


def _cut(analysis: Analysis) -> tuple[str, ...]:
    die = analysis.case.die
    if not die.operation.cuts:
        return ("This die is stated not to cut.",)
    shear = shear_force(die)
    eaten = clearance(die, bending(analysis)[0], creep_until_setting(analysis))
    told = []
    if shear is None:
        told.append("The shear force is not known: die.cutting.length or die.sheet is not stated.")
    else:
        short = " More than is stated: the working force in the case file is too small." * (
            shear.sharp.nominal > die.working_force
        )
        told.append(
            f"The cut of {show_length(round(die.cutting.length or 0.0))} asks for {show_force(shear.sharp.nominal)} "
            f"with sharp edges, {show_force(shear.dull.nominal)} with dull ones (up to {show_force(shear.dull.high)}); "
            f"{show_force(die.working_force)} are stated.{short}"
        )
    if eaten is not None:
        touch = (
            "the edges touch"
            if eaten.left.nominal < 0
            else "the edges may touch"
            if eaten.left.low < 0
            else "they clear"
        )
        told.append(
            f"Clearance a side {_size(eaten.least)} to {_size(eaten.most)}. Bending shifts the edges by "
            f"{ranged(_micro(eaten.bending), 'µm')}, creep until the next setting by {_size(eaten.creep.nominal)} "
            f"({_size(eaten.creep.low)} to {_size(eaten.creep.high)}): {touch}."
        )
    return tuple(told)


def _micro(value: Interval) -> Interval:
    return Interval(value.low * 1e3, value.nominal * 1e3, value.high * 1e3)


def _short_pass(growth: float) -> str:
    return (
        f"In one pass of {SHORT_PASS:.0f} h die and machine grow by {show_micrometres(growth)} together, if their "
        "temperature runs evenly."
    )


def _measuring(uncertainty: Interval, target: float, measurable: bool) -> str:
    if measurable:
        return (
            f"The match can be measured: the uncertainty of {show_micrometres(uncertainty.nominal)} is no more than a "
            f"third of {show_micrometres(target)}."
        )
    return (
        f"The match cannot be measured by these means: their uncertainty of {show_micrometres(uncertainty.nominal)} is "
        f"more than a third of {show_micrometres(target)}. It can be fitted and spotted, or seen on the panel's edge."
    )

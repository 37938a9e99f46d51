"""How the die shifts, stroke by stroke."""

from __future__ import annotations

import math

from markupsafe import Markup

from deflect.findings import Advice, Analysis
from deflect.mechanics.cutting import shift_tolerance
from deflect.mechanics.slipping import Slipping, slipping_of
from deflect.report import figures, strokes
from deflect.report.drawing_maps import STICKS_MOST
from deflect.report.headlines import NOTHING, heading, held_by, whole
from deflect.report.markup import render
from deflect.report.wording import figure, force, residual
from deflect.report.wording import whole as signed

# A change below this, µm, would read as nothing.
_LEAST = 0.05

ORDER = 80
HEADING = "Creep over the strokes"

_TEMPLATE = """\
{% if creep.march.slides %}
<p>{% if creep.held %}{{ by | opening }} hold the die; friction alone does not.{% else %}<b>Friction does not hold the
die.</b>{% endif %} At the usual values the side thrust is greater than all friction at some moment of the stroke: the
die slides away, and no shift per stroke can be told.</p>
{% else %}
<p>{% if creep.held %}{{ by | opening }} hold the die. If it were free, it would shift{% else %}Held by friction alone,
the die shifts{% endif %} by <b>{{ shift }}</b> a stroke{% if creeps %}, {{ to }}
({{ heading }}° from +x towards +y){% if turn %}, and turn{% if not creep.held %}s{% endif %} by {{ turn }}{% endif %}
{% endif %}.
{% if against %}{{ against }}{% endif %}
 {% if drivers %}What moves the range is mostly {{ drivers }}.{% endif %}
{% if slides_somewhere %}At one end of the range friction does not hold the die at all: it slides away.{% endif %}</p>
<p>It may shift by {{ tolerance | mm }}: {{ what }}.
{% if finite %}{% if creep.held %}Free, it would meet its limit{% else %}It meets its limit{% endif %} after
<b>{{ until | ranged("strokes") }}</b> at the usual values: {{ met }}.{% else %}At the usual values it meets nothing,
however many strokes are made.{% endif %}</p>
{% endif %}
{% if reached %}
<table>
<caption>Strokes of the free die until the first of: clearance used up, guides touch, a guide takes more than it may.
The friction, the side thrust and the rest are drawn from their ranges.</caption>
<thead><tr><th class="n">share of the draws</th><th class="n">within</th><th>what is met</th></tr></thead>
<tbody>
{% for one in reached %}
<tr><td class="n">{{ one.percent }} %</td>
{% if one.finite %}<td class="n">{{ one.strokes | figure("strokes") }}</td><td>{{ one.what }}</td>{% else %}
<td class="n">–</td><td>fewer of them ever meet anything</td>{% endif %}</tr>
{% endfor %}
</tbody></table>
{% endif %}
<figure>{{ picture }}<figcaption>Left: the free die goes on as steadily as the march through down-stroke and up-stroke
found it, with the range of its creep{% if not creep.march.steady %} (not steady when the march ended){% endif %};
{% if held %}the dotted line is the die as it is held: the bolts of its clamps bend, keys, cones and guides bear, and
the creep levels off{% if not held.march.steady %} (not yet when the march ended){% endif %}{% else %}nothing else
holds it{% endif %}. Both are told at the place of the force, or of the cutting line, that shifts most. Right: shift and
turn of one stroke, exaggerated.{% if not stated %} The way of the side thrust is not known: right, rear, left and front
were tried, and the worst was taken, so that the heading is a worst one too.{% endif %}</figcaption></figure>
{% if slipping %}
<figure>{{ map }}<figcaption>Colour: the farthest that a patch gets from where it was at rest. Most of it comes back on
the way up; what does not is the creep. {{ sticking }} through more than half of the stroke, counted in
force.</figcaption></figure>
{% endif %}
<table>
<caption>Where the side thrust comes from, at full force</caption>
<thead><tr><th>source</th><th class="n">usual</th><th>range</th><th>input</th></tr></thead>
<tbody>
{% for one in sources %}
<tr><td>{{ one.name }}</td><td class="n">{{ force(one.force.nominal) }}</td>
<td class="s">{% if one.force.high > one.force.low %}{{ one.force.low | force }} to
{{ one.force.high | force }}{% endif %}</td>
<td>{{ one.input }}</td></tr>
{% endfor %}
</tbody></table>
<p class="dim">Which way one-sided cutting and a tilted slide push is not known: they are taken to push along with the
rest.</p>
<p class="dim">Evidence: {{ evidence }}</p>
"""


def fragment(advice: Advice) -> Markup:
    """Shift per stroke, strokes until something is met, path, sliding, and where the side thrust comes from."""
    analysis = advice.assessment.analysis
    creep, spread = analysis.creep, analysis.spread
    tolerance, what = shift_tolerance(analysis.case.die)
    slipping = slipping_of(creep.course, creep.march)
    value = strokes.pace(analysis)
    span = strokes.pace_span(value)
    shift = strokes.pace_told(value.nominal) + (f" ({span})" if span else "")
    return render(
        _TEMPLATE,
        creep=creep,
        creeps=creep.free > NOTHING,
        by=held_by(analysis),
        shift=shift,
        to=heading(analysis),
        against=_against(analysis),
        heading=signed(math.degrees(creep.direction)),
        turn=strokes.turn_told(analysis),
        drivers=strokes.driven_by(analysis, "creep"),
        slides_somewhere=strokes.slides_somewhere(analysis),
        tolerance=tolerance,
        what=what,
        until=whole(spread.strokes),
        finite=math.isfinite(spread.strokes.nominal),
        met=strokes.met(analysis),
        reached=strokes.reached(analysis),
        picture=figures.creep_path(analysis, tolerance),
        held=analysis.held,
        stated=analysis.case.die.thrust_direction is not None,
        slipping=slipping,
        map=None if slipping is None else figures.slip_map(analysis, slipping),
        sticking="" if slipping is None else _sticking(slipping),
        sources=strokes.sources(analysis),
        force=force,
        evidence=_evidence(analysis),
    )


def _sticking(slipping: Slipping) -> str:
    """How many of the patches stick."""
    share = float((slipping.sticks > STICKS_MOST).mean())
    return "None of the patches sticks" if share == 0 else f"{figure(100 * share, '%')} of the patches stick"


def _against(analysis: Analysis) -> str:
    """Said of a die that creeps against its side thrust."""
    creep = analysis.creep
    if creep.free <= NOTHING or math.cos(creep.direction - creep.thrust_direction) >= 0:
        return ""
    told = f"That is against the side thrust, which pushes to {signed(math.degrees(creep.thrust_direction))}°"
    if not analysis.case.die.changes_on_return:
        return f"{told}."
    return (
        f"{told}: the force is spread otherwise on the way up than on the way down, and that alone makes a die creep, "
        "here more than the thrust does."
    )


def _evidence(analysis: Analysis) -> str:
    """Rounds, agreement, steadiness, error of the steps, residual."""
    creep, march, error = analysis.creep, analysis.creep.march, analysis.mesh_error
    rounds = f"friction and contact were solved in {creep.rounds} {'round' if creep.rounds == 1 else 'rounds'}"
    if math.isfinite(creep.disagreement):
        rounds += f", the last of which changed the creep by {figure(100 * creep.disagreement, '%')}"
    parts = [rounds, f"the shift was {'' if march.steady else 'not '}steady after {march.strokes} strokes"]
    if error is not None:
        change = error.steps * 1e3
        told = figure(change, "um") if change >= _LEAST else "less than 0.1 µm"
        parts.append(f"steps half as long change the creep by {told} a stroke")
    parts.append(f"the sideways balance leaves {residual(march.residual)} of the friction over")
    return "; ".join(parts) + "."

"""What holds the die sideways, and what it takes."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import holding
from deflect.report.markup import render
from deflect.report.wording import force, point

ORDER = 85
HEADING = "What holds it"

_TEMPLATE = """\
{% if not parts %}
<p>Friction alone holds the die: no clamps, keys, cones or guides are stated.</p>
{% elif only_clamps %}
<p>{{ clamped }}</p>
{% else %}
<div class="wide"><table>
<caption>Where it holds. Places are from the middle of the die (x to the right, y to the rear); distances from the
neutral point, where the die slides least through the whole stroke.</caption>
<thead><tr><th>part</th><th>place</th><th>holds</th><th class="n">play a side</th><th class="n">stiffness</th>
<th class="n">from the neutral point</th><th class="n">breathing there</th></tr></thead>
<tbody>
{% for part in parts %}
<tr><td class="s">{{ part.holder.name }}</td><td class="s">{{ point(*part.holder.place) }}</td><td>{{ part.way }}</td>
<td class="n">{{ part.holder.play | length }}</td><td class="n">{{ part.holder.stiffness | spring }}</td>
<td class="n">{% if part.distance is not none %}{{ part.distance | round | length }}{% else %}–{% endif %}</td>
<td class="n">{% if part.breathing is not none %}{{ part.breathing | micro }}{% else %}–{% endif %}</td></tr>
{% endfor %}
</tbody></table></div>
<div class="wide"><table>
<caption>What it takes at every stroke, once the strokes repeat</caption>
<thead><tr><th>part</th><th class="n">greatest force</th><th>range</th><th class="n">at the bottom of the stroke</th>
<th class="n">may take</th><th class="n">reserve</th></tr></thead>
<tbody>
{% for part in parts %}
<tr><td class="s">{{ part.holder.name }}</td>
<td class="n">{% if part.force %}{{ force(part.force.nominal) }}{% else %}–{% endif %}</td>
<td class="s">{% if part.force and part.force.high > part.force.low %}{{ part.force.low | force }} to
{{ part.force.high | force }}{% endif %}</td>
<td class="n">{% if part.bottom is not none %}{{ force(part.bottom) }}{% else %}–{% endif %}</td>
<td class="n">{% if part.capacity is not none %}{% if part.holder.kind == "clamp" %}slips at {% endif %}
{{ part.capacity | force }}{% else %}not stated{% endif %}</td>
<td class="n {{ 'breaks' if part.overrun }}">
{% if part.reserve is not none %}{{ (100 * part.reserve) | figure("%") }}{% else %}–{% endif %}</td></tr>
{% endfor %}
</tbody></table></div>
{% for seat in seats %}<p>{{ seat | opening }}</p>{% endfor %}
{% if withheld %}<p><b>{{ withheld }}</b></p>{% endif %}
{% if unsettled %}<p>{{ unsettled }}</p>{% endif %}
{% if beyond %}<p>{{ beyond }}</p>{% endif %}
{% if too_far %}<p><b>{{ too_far | opening }}</b></p>{% endif %}
<p class="dim">The range of a force is that over the inputs that are not known exactly; the reserve is counted from its
upper end. The force includes the breathing that a part blocks: bending alone would move the die at its place so far
within a stroke, and what is more than its play the part must bear. A clamp is told at the usual values only; where the
friction below its strap is used up the strap slips. A guide bears only while the die is closed. These numbers approve
no key, cone, clamp or guide.</p>
{% endif %}
"""


def fragment(advice: Advice) -> Markup:
    """Every strap, key, cone and guide: place, way, play, stiffness, force, capacity and reserve."""
    analysis = advice.assessment.analysis
    parts = holding.holdings(analysis)
    only_clamps = all(part.holder.kind == "clamp" for part in parts)
    return render(
        _TEMPLATE,
        parts=parts,
        only_clamps=only_clamps,
        clamped=holding.clamped(analysis, parts) if only_clamps else "",
        point=point,
        force=force,
        seats=holding.seats(analysis),
        withheld=holding.withheld(analysis),
        unsettled=holding.unsettled(analysis),
        beyond=holding.beyond(analysis),
        too_far=holding.too_far_out(analysis, parts),
    )

"""The case with plates and with three-dimensional solids, side by side."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report.bodies_compared import effort, rows
from deflect.report.markup import render

ORDER = 122
HEADING = "Plate and solid side by side"

_TEMPLATE = """\
{% if rows %}
<p>The verdict, the ranges and the remedies rest on plates. Here the same die and table are solved once more as
three-dimensional solids, at the usual values and under the whole force, so that it can be seen what the plates
missed. Where the two differ by more than a rule has to spare, trust neither without a measurement.</p>
<div class="wide"><table>
<thead><tr><th>Number</th><th class="n">plate</th><th class="n">solid</th>
<th class="n">plate less solid</th></tr></thead>
<tbody>
{% for row in rows %}
<tr><td>{{ row.title }}</td><td class="n">{{ row.plate }}</td><td class="n">{{ row.solid }}</td>
<td class="n">{{ row.difference }}</td></tr>
{% endfor %}
</tbody></table></div>
<p class="dim">{{ effort }}</p>
<p class="dim">In the solids, too: die base and bolster are plain blocks (pin holes smeared, no T-slots, no ribs), the
contact is frictionless, and a line of force is a strip half as wide as the base is thick. Stresses of the solids are
read in their faces and hold the local effect of force and contact as well; at edges of a contact they grow as the mesh
is refined.</p>
{% else %}
<p>Only plates were solved. <code>deflect check … --bodies solid</code> solves this die and table as three-dimensional
solids, too, in one to three minutes, where both are plain blocks, and puts both side by side here.</p>
{% endif %}
"""


def fragment(advice: Advice) -> Markup:
    """Plate and solid, number by number; a word on how to get them where they were not asked for."""
    told = advice.side_by_side
    if told is None:
        return render(_TEMPLATE, rows=(), effort="")
    plan = advice.assessment.analysis.case.die.base.plan
    return render(_TEMPLATE, rows=rows(told, plan), effort=effort(told))

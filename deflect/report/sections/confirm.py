"""What to measure on the shop floor, and what should be found."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import confirm, wording
from deflect.report.markup import render

ORDER = 123
HEADING = "Confirm on the shop floor"

_TEMPLATE = """\
<p>Everything here is computed. These readings show whether it is so; all are taken with the die at its place and a
working force of {{ force }} at the slide. The ranges are those of the inputs; a reading outside of its range
says that an input is not what the case files say.</p>
<div class="wide"><table class="free">
<thead><tr><th>Reading</th><th>with</th><th>where</th><th class="n">expected</th><th>range</th>
<th>read</th></tr></thead>
<tbody>
{% for one in readings %}
<tr><td class="s"><code>{{ one.id }}</code></td><td>{{ one.tool }}</td>
<td>{{ one.place }}{% if one.x is not none %} ({{ point(one.x, one.y) }}, bolster axes){% endif %}</td>
<td class="n">{{ one.predicted.nominal | figure(one.unit) }}</td>
<td class="s">{{ one.predicted | span(one.unit) }}</td><td class="r"></td></tr>
<tr><td></td><td colspan="5">{{ one.how }}</td></tr>
{% endfor %}
</tbody></table></div>
<p>Hands stay out from below the slide while it can move: die blocks in, energy locked out, whenever a dial is set
there. What is allowed with a force held at the bottom of the stroke, local rules and the press's maker say.</p>
<p class="dim">Keep each reading with its name and with the number of this case, {{ read_as or "not read from files" }};
<code>result.json</code> holds both, so that readings can be joined to what was expected.
Ways of measuring: common practice, no source.</p>
"""


def fragment(advice: Advice) -> Markup:
    """Each reading: tool, place, expected value and range, and how it is taken."""
    analysis = advice.assessment.analysis
    return render(
        _TEMPLATE,
        readings=confirm.readings(analysis),
        force=wording.force(analysis.case.die.working_force),
        point=wording.point,
        read_as=analysis.case.input_hash[:12],
    )

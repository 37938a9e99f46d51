"""The headline numbers with their ranges."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report.headlines import headlines
from deflect.report.markup import render
from deflect.report.wording import limit_sign

ORDER = 20
HEADING = "The numbers that matter"

_TEMPLATE = """\
<div class="wide"><table>
<thead><tr><th>Number</th><th class="n">usual</th><th>range</th><th class="n">limit</th><th>where</th>
<th>moved most by</th></tr></thead>
<tbody>
{% for number in numbers %}
<tr><td>{{ number.title }}</td>
<td class="n {{ number.status.value.replace(' ', '-') if number.status }}">
{{ number.shown }}</td>
<td class="s">{{ number.range_shown }}</td>
<td class="n">{{ limit(number.limit, number.unit, number.at_most) if number.limit is not none }}</td>
<td>{{ [number.where, number.note] | select | join("; ") }}</td>
<td>{{ number.driver }}</td></tr>
{% endfor %}
</tbody></table></div>
<p class="dim">{% if samples %}The ranges come from {{ samples }} solutions with the inputs that are never known
exactly (friction, side thrust, bed stiffness and the like) drawn from their own ranges.{% else %}
No ranges were solved: these are the usual values only.{% endif %}</p>
"""


def fragment(advice: Advice) -> Markup:
    """Each headline number: usual value, range, limit, place, driver."""
    analysis = advice.assessment.analysis
    return render(
        _TEMPLATE,
        numbers=headlines(analysis, advice.assessment.findings),
        samples=analysis.spread.samples,
        limit=limit_sign,
    )

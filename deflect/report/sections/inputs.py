"""Every input and where it comes from."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report.markup import render

ORDER = 130
HEADING = "Inputs and where they come from"

_TEMPLATE = """\
{% for heading, inputs in parts %}
<h3>{{ heading }}</h3>
{% if inputs %}
<div class="wide"><table class="free">
<thead><tr><th>Input</th><th>value</th><th>where from</th></tr></thead>
<tbody>
{% for stated in inputs %}
<tr><td><code>{{ stated.key }}</code></td><td>{{ stated.shown }}</td>
<td>{% if stated.is_default %}<i>not stated; taken: {{ stated.origin }}</i>{% else %}{{ stated.origin }}{% endif %}</td>
</tr>
{% endfor %}
</tbody></table></div>
{% else %}<p>Not read from a file.</p>{% endif %}
{% endfor %}
"""


def fragment(advice: Advice) -> Markup:
    """Press and die, input by input."""
    case = advice.assessment.analysis.case
    return render(_TEMPLATE, parts=(("Press", case.press.inputs), ("Die", case.die.inputs)))

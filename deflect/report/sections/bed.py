"""How the bolster lies on its bed, and what is known of the bed."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report.bed import bed_rows, calibration_told, corner_rows
from deflect.report.markup import render

ORDER = 105
HEADING = "The bolster on its bed"

_TEMPLATE = """\
<div class="wide"><table>
<thead><tr><th>Corner of the bolster</th><th class="n">off its land at rest</th>
<th class="n">under force</th></tr></thead>
<tbody>
{% for corner, rest, force in corners %}
<tr><td>{{ corner }}</td><td class="n">{{ rest }}</td><td class="n">{{ force }}</td></tr>
{% endfor %}
</tbody></table></div>
<table>
<tbody>
{% for name, value in rows %}
<tr><td>{{ name }}</td><td>{{ value }}</td></tr>
{% endfor %}
</tbody></table>
{% for sentence in known %}
<p>{{ sentence }}</p>
{% endfor %}
"""


def fragment(advice: Advice) -> Markup:
    """Lift-off at the corners, land, hold-downs, walls, calibration."""
    analysis = advice.assessment.analysis
    return render(
        _TEMPLATE, corners=corner_rows(analysis), rows=bed_rows(analysis), known=calibration_told(analysis.case.press)
    )

"""Bodies that are warmer on top than below."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report.bed import warmth_told
from deflect.report.markup import render

ORDER = 107
HEADING = "Temperature"

_TEMPLATE = """\
{% for sentence in sentences %}
<p>{{ sentence }}</p>
{% endfor %}
<p class="dim">An even rise from bottom to top bows a body without stressing it. Growth in length of die and machine
stands in the budget of the match.</p>
"""


def fragment(advice: Advice) -> Markup:
    """What warmth does to gap and face, or that nothing is stated of it."""
    return render(_TEMPLATE, sentences=warmth_told(advice.assessment.analysis))

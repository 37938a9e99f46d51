"""Cautions in full: part of every report."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report.markup import render

ORDER = 150
HEADING = "Cautions in full"

_TEMPLATE = """\
{% for caution in cautions %}
<div class="cautions">
<h3>{{ caution.heading }}</h3>
<ul>
{% for words in caution.words %}
<li>{{ words }}</li>
{% endfor %}
{% for number in caution.numbers %}
<li><b>{{ number }}</b></li>
{% endfor %}
</ul>
<p>{{ caution.defer }}</p>
<small>Source: {{ caution.source | string }}</small>
</div>
{% endfor %}
"""


def fragment(advice: Advice) -> Markup:
    """Every caution with its numbers and whom to ask."""
    return render(_TEMPLATE, cautions=advice.cautions)

"""What to do first: the order of advice, and what to measure where a range leaves it open."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice, Stage
from deflect.report.markup import render

ORDER = 15
HEADING = "What to do, in this order"

_TEMPLATE = """\
{% for stage, steps in stages %}
<h3>{{ stage | capitalize }}</h3>
<ol>
{% for step in steps %}
<li><b>{{ step.title }}</b>: {{ step.size }}.<br>{{ step.why }}
{% if step.change %}<br>Solved anew: {{ step.change }}.{% endif %}</li>
{% endfor %}
</ol>
{% endfor %}
{% if measurements %}
<h3>What would decide</h3>
<ul>
{% for told in measurements %}
<li><b>{{ told.uncertain | capitalize }}</b>. {{ told.how }}
<br>{{ told.at_low | capitalize }}.<br>{{ told.at_high | capitalize }}.</li>
{% endfor %}
</ul>
{% endif %}
"""


def fragment(advice: Advice) -> Markup:
    """Steps by stage, and measurements."""
    stages = [(stage.value, [s for s in advice.steps if s.stage is stage]) for stage in Stage]
    told = [(stage, steps) for stage, steps in stages if steps]
    return render(_TEMPLATE, stages=told, measurements=advice.measurements)

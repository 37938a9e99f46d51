"""What to do first: the order of advice, and what to measure where a range leaves it open."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice, Stage, Step
from deflect.report.headlines import change_shown
from deflect.report.markup import render
from deflect.report.places import places_of

ORDER = 15
HEADING = "What to do, in this order"

_TEMPLATE = """\
{% for stage, steps in stages %}
<h3>{{ stage | opening }}</h3>
<ol>
{% for step in steps %}
<li><b>{{ step.title }}</b>: {{ step.size }}.<br>{{ step.why }}
{% if placed(step) %}<br><a href="#remedies">Where they go</a> is listed with this remedy below.{% endif %}
{% if change(step) %}<br>Solved anew: {{ change(step) }}.{% endif %}</li>
{% endfor %}
</ol>
{% endfor %}
{% if unmended %}
<h3>What nothing that was tried mends</h3>
<ul>{% for line in unmended %}<li>{{ line }}</li>{% endfor %}</ul>
{% endif %}
{% if measurements %}
<h3>What to measure or to look up, because it would decide or narrow the range</h3>
<ul>
{% for told in measurements %}
<li><b>{{ told.uncertain | opening }}</b>. {{ told.how }}
<br>{{ told.at_low | opening }}.<br>{{ told.at_high | opening }}.</li>
{% endfor %}
</ul>
{% endif %}
{% if against %}
<h3>Where the numbers speak against the trade</h3>
<ul>{% for line in against %}<li>{{ line }}</li>{% endfor %}</ul>
{% endif %}
"""


def fragment(advice: Advice) -> Markup:
    """Steps by stage, and measurements."""
    stages = [(stage.value, [s for s in advice.steps if s.stage is stage]) for stage in Stage]
    told = [(stage, steps) for stage, steps in stages if steps]

    def change(step: Step) -> str:
        return change_shown(step, advice)

    def placed(step: Step) -> bool:
        return bool(places_of(step, advice))

    return render(_TEMPLATE, change=change, placed=placed, stages=told, measurements=advice.measurements,
                  against=advice.against_trade, unmended=advice.unmended)  # fmt: skip

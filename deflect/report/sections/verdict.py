"""The first page: verdict, forces, cautions in short."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import wording
from deflect.report.headlines import settled
from deflect.report.markup import render
from deflect.report.sentence import what_happens

ORDER = 10
HEADING = "Verdict"

_TEMPLATE = """\
<div class="verdict {{ kind }}"><strong>{{ verdict }}</strong>
<p><b>{{ happens }}</b></p>
{% for reason in reasons %}
<p>{{ reason }}</p>
{% endfor %}
{% for line in settled %}
<p>{{ line | opening }}.</p>
{% endfor %}
</div>
<p>Forces: working <b>{{ working }}</b>, {% if stands %}of which the cushion takes
<b>{{ cushion }}</b>{{ stands }}{% else %}no cushion{% endif %};
the table carries <b>{{ table }}</b>, the press is rated at {{ rated }}.</p>
<div class="cautions" role="note">
<h3>Cautions</h3>
<ul>
{% for caution in cautions %}
<li><b>{{ caution.heading }}.</b> {{ caution.words[0] }}
{% if caution.numbers %}<ul class="sums">{% for number in caution.numbers[:3] %}
<li>{{ number }}</li>{% endfor %}</ul>{% else %}<br>{% endif %}
<small>{{ caution.defer }}</small></li>
{% endfor %}
</ul>
<small>In full at the end. This report approves no lift and no clamp.</small>
</div>
"""


def fragment(advice: Advice) -> Markup:
    """Verdict, reasons, forces and cautions."""
    case = advice.assessment.analysis.case
    hung = ", hung from the bolster" if case.cushion_hangs else ", standing on the bed"
    return render(
        _TEMPLATE,
        kind=advice.verdict.value.replace(" ", "-"),
        verdict=advice.verdict.value.capitalize(),
        happens=what_happens(advice.assessment.analysis),
        reasons=advice.reasons,
        settled=settled(advice),
        working=wording.force(case.die.working_force),
        cushion=wording.force(case.die.cushion_force),
        stands=hung if case.die.cushion_force else "",
        table=wording.force(case.table_force),
        rated=wording.force(case.press.rated_force),
        cautions=advice.cautions,
    )

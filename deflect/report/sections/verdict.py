"""The first page: verdict, forces, cautions in short."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import wording
from deflect.report.markup import render

ORDER = 10
HEADING = "Verdict"

_TEMPLATE = """\
<div class="verdict {{ kind }}"><strong>{{ verdict }}</strong>
{% for reason in reasons %}
<p>{{ reason }}</p>
{% endfor %}
{% for decider in deciders %}
<p>This input would decide: {{ decider }}</p>
{% endfor %}
</div>
<p>Forces: working <b>{{ working }}</b>, of which the cushion takes <b>{{ cushion }}</b>{{ stands }};
the table carries <b>{{ table }}</b>, the press is rated at {{ rated }}.</p>
<div class="cautions" role="note">
<h3>Cautions</h3>
<ul>
{% for caution in cautions %}
<li><b>{{ caution.heading }}.</b> {{ caution.words[0] }}
{% for number in caution.numbers %}<br>{{ number }}{% endfor %}
<br><small>{{ caution.defer }}</small></li>
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
        reasons=advice.reasons,
        deciders=advice.deciders,
        working=wording.force(case.die.working_force),
        cushion=wording.force(case.die.cushion_force),
        stands=hung if case.die.cushion_force else "",
        table=wording.force(case.table_force),
        rated=wording.force(case.press.rated_force),
        cautions=advice.cautions,
    )

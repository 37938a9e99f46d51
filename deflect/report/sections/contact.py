"""Where the base carries, and with what pressure."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import figures
from deflect.report.markup import render

ORDER = 50
HEADING = "Contact and pressure"

_TEMPLATE = """\
<p><b>{{ share | figure("%") }}</b> of the bearing area is seated (gap below 0.02 mm); what carries spans
{{ along | figure("%") }} of the base's length and {{ across | figure("%") }} of its width. Greatest pressure away from
the edges: <b>{{ solution.pressure_inside | figure("MPa") }}</b>.</p>
<figure>{{ picture }}<figcaption>The colours end at the greatest pressure away from the edges; the numbers do not. At an
edge of the bearing the computed pressure depends on the size of the patch: it is no finding.</figcaption></figure>
"""


def fragment(advice: Advice) -> Markup:
    """The pressure map."""
    analysis = advice.assessment.analysis
    solution = analysis.solution
    along, across = solution.contact_spread
    return render(
        _TEMPLATE,
        solution=solution,
        share=100 * solution.contact_share,
        along=100 * along,
        across=100 * across,
        picture=figures.contact_map(analysis),
    )

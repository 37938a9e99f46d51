"""Table and die cut open, heights exaggerated."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.report import figures
from deflect.report.markup import render

ORDER = 60
HEADING = "Table and die cut open"

_TEMPLATE = """\
<figure>{{ picture }}<figcaption>Under full force, measured from where the parts stood before weight and force. Heights
are exaggerated by the factor that each heading states, lengths are to scale, thicknesses are not. Red: gap. Dashed,
where drawn: between the ends of the reference length. The sag is that of the force alone, through the
middle of the bed opening; the ends of the reference length sink by {{ sag.sinking | mm }} besides,
which is no part of it.
{% if lift > 0.0005 %}
The bolster lifts off its land by up to {{ lift | mm }}; {{ land | figure("%") }} of the land carries.
{% endif %}
</figcaption></figure>
<table>
<thead><tr><th>Direction</th><th class="n">sag</th><th class="n">reference length</th><th class="n">per metre</th></tr>
</thead>
<tbody>
{% for way, depth, length in rows %}
<tr><td>{{ way }}</td><td class="n">{{ depth | mm }}</td><td class="n">{{ length | length }}</td>
<td class="n">{{ (1000 * depth / length) | figure("mm/m") }}</td></tr>
{% endfor %}
</tbody></table>
"""


def fragment(advice: Advice) -> Markup:
    """The two cuts and the sag in numbers."""
    analysis = advice.assessment.analysis
    sag = analysis.solution.sag
    return render(
        _TEMPLATE,
        picture=figures.cut_through(analysis),
        sag=sag,
        lift=analysis.solution.corner_lift,
        land=100 * analysis.solution.land_share,
        rows=(
            ("along x, left to right", sag.along_x, sag.reference_length),
            ("along y, front to rear", sag.along_y, sag.reference_width),
        ),
    )

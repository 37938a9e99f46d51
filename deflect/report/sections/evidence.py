"""Why the numbers can be trusted, and how far."""

from __future__ import annotations

from markupsafe import Markup

from deflect.checks import all_checks
from deflect.findings import Advice
from deflect.report import versions
from deflect.report.headlines import headlines
from deflect.report.markup import render

ORDER = 120
HEADING = "Evidence"

_TEMPLATE = """\
<table>
<tbody>
<tr><th>Balance of forces on the die</th><td class="n">{{ evidence.force_balance | residual }}</td>
<td>what is left over, as a share of weight, clamps and force</td></tr>
<tr><th>Balance of forces and moments of both bodies</th><td class="n">{{ evidence.moment_balance | residual }}</td>
<td>worst residual, as a share</td></tr>
<tr><th>Contact: no pull, no overlap</th><td class="n">{{ evidence.complementarity | residual }}</td>
<td>worst violation, as a share of the greatest force or gap</td></tr>
<tr><th>Rounds until the contact settled</th><td class="n">{{ evidence.exchanges }}</td>
<td>exchanges of the active set; the answer is exact once it settles</td></tr>
<tr><th>Unknowns</th><td class="n">{{ evidence.plate_unknowns }}</td>
<td>of both plates, and {{ evidence.contact_unknowns }} patches and hold-downs that may open</td></tr>
<tr><th>Sideways balance in the stroke</th><td class="n">{{ march.residual | residual }}</td>
<td>worst residual as a share of friction, over {{ march.strokes }} strokes</td></tr>
</tbody></table>
<p>The parts of this computation are set against {{ checks }} published, printed or derived cases, each with its source:
<code>deflect verify</code> runs them.</p>
{% if mesh %}
<h3>Error of the mesh</h3>
<p>Solved again on a coarser mesh, the sag changes by {{ mesh.sag | mm }}, the greatest gap by {{ mesh.gap | mm }}, the
face by {{ mesh.face | mm }}, the contact share by {{ (100 * mesh.contact_share) | figure("%") }} of the bearing
area. About as much is left to the converged answer.</p>
{% else %}<p>The error of the mesh was not estimated.</p>{% endif %}
<h3>Ranges and what drives them</h3>
<ul>
{% for number in numbers %}
{% if number.driver %}<li>{{ number.title }}: {{ number.value | ranged(number.unit) }}, moved most by
{{ number.driver }}</li>{% endif %}
{% endfor %}
<li>Stiffness of the bed below the land: {{ bed.nominal | round(1) }} N/mm³
({{ bed.low | round(1) }} to {{ bed.high | round(1) }}); {{ origin }}</li>
<li>Bare table under its acceptance test: {{ (1000 * slope) | figure("mm/m") }}
{%- if allowed %}, allowed {{ (1000 * allowed) | figure("mm/m") }}{% endif %}</li>
</ul>
<p class="dim">deflect {{ version }}; {% for name, number in dependencies %}{{ name }} {{ number }}{{ ", " if not
loop.last }}{% endfor %}{% if read_as %}; case files as read: {{ read_as }}{% endif %}</p>
"""


def fragment(advice: Advice) -> Markup:
    """Residuals, mesh error, ranges, versions."""
    analysis = advice.assessment.analysis
    acceptance = analysis.case.press.acceptance
    return render(
        _TEMPLATE,
        evidence=analysis.solution.evidence,
        march=analysis.creep.march,
        checks=len(all_checks()),
        mesh=analysis.mesh_error,
        numbers=headlines(analysis, advice.assessment.findings),
        bed=analysis.bed_stiffness,
        origin=analysis.case.press.bed.land.origin,
        slope=analysis.acceptance_slope,
        allowed=None if acceptance is None else acceptance.slope,
        version=versions.own(),
        dependencies=versions.dependencies(),
        read_as=analysis.case.input_hash,
    )

"""Why the numbers can be trusted, and how far."""

from __future__ import annotations

from markupsafe import Markup

from deflect.checks import all_checks
from deflect.findings import Advice, MeshError
from deflect.report import versions
from deflect.report.headlines import headlines
from deflect.report.markup import render
from deflect.report.wording import figure

ORDER = 120
HEADING = "Evidence"

_LEAST = "2 µm, 2 % of the bearing area, 0.1 µm of creep a stroke or 0.1 MPa"
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
<p>Plates and contact are cut into pieces, and that alone puts every number off a little. How far was found by solving
the case again with coarser pieces
{%- if finer %} and, because numbers had not settled, {{ finer }} with finer patches; sag, gap, contact, face,
stresses and pressure are those of the finest{% endif %}. A number has settled where it is off by less than 2 %, or by
less than {{ least }}. What is left widens the ranges that are judged.</p>
<table>
<thead><tr><th>Number</th><th class="n">is off by at most</th><th>settled</th></tr></thead>
<tbody>
{% for row in mesh %}
<tr><th>{{ row.title }}</th><td class="n">{{ row.error }}</td><td>{{ row.settled }}</td></tr>
{% endfor %}
</tbody></table>
{% if unsettled %}<p><b>Not settled: {{ unsettled }}.</b> Read {{ "it" if one else "them" }} with that error
{%- if capped %}; still finer patches were too many for a quick answer{% endif %}.</p>{% endif %}
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


# Numbers of the mesh error with their unit, and the factor from N and mm.
_NUMBERS = (
    ("sag", "Table sag", "mm", 1.0),
    ("gap", "Greatest gap", "mm", 1.0),
    ("contact_share", "Contact share, of the bearing area", "%", 1e2),
    ("face", "Face", "mm", 1.0),
    ("creep", "Creep per stroke", "um", 1e3),
    ("base_stress", "Bending stress in the base", "MPa", 1.0),
    ("bolster_stress", "Bending stress in the bolster", "MPa", 1.0),
    ("pressure", "Contact pressure away from edges", "MPa", 1.0),
)
_TIMES = ("", "once more", "twice more")


def _mesh(error: MeshError | None) -> dict[str, object]:
    """What the template says of the mesh error."""
    if error is None:
        return {"mesh": None}
    found = error.estimates
    rows = [
        {
            "title": title,
            "error": figure(factor * found[key].error, unit),
            "settled": "yes" if found[key].settled else "no",
        }
        for key, title, unit, factor in _NUMBERS
    ]
    names = [title[0].lower() + title[1:] for key, title, _, _ in _NUMBERS if not found[key].settled]
    return {
        "mesh": rows,
        "finer": _TIMES[error.finer],
        "capped": error.capped,
        "unsettled": ", ".join(names),
        "one": len(names) == 1,
        "least": _LEAST,
    }


def fragment(advice: Advice) -> Markup:
    """Residuals, mesh error, ranges, versions."""
    analysis = advice.assessment.analysis
    acceptance = analysis.case.press.acceptance
    return render(
        _TEMPLATE,
        evidence=analysis.solution.evidence,
        march=analysis.creep.march,
        checks=len(all_checks()),
        **_mesh(analysis.mesh_error),
        numbers=headlines(analysis, advice.assessment.findings),
        bed=analysis.bed_stiffness,
        origin=analysis.case.press.bed.land.origin,
        slope=analysis.acceptance_slope,
        allowed=None if acceptance is None else acceptance.slope,
        version=versions.own(),
        dependencies=versions.dependencies(),
        read_as=analysis.case.input_hash,
    )

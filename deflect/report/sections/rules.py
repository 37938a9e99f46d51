"""Every rule that was asked."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice, Finding, Status
from deflect.report import wording
from deflect.report.headlines import value_shown
from deflect.report.markup import render

ORDER = 90
HEADING = "Rules"

_TEMPLATE = """\
<div class="wide"><table>
<thead><tr><th>Rule</th><th>outcome</th><th class="n">number</th><th>range</th><th class="n">limit</th>
<th>where, and what to know</th></tr></thead>
<tbody>
{% for finding in findings %}
{% set rule = finding.rule %}{% set reading = finding.reading %}
<tr><td><b>{{ rule.title }}</b><br><small>{{ rule.question }}</small></td>
<td class="s {{ finding.status.value.replace(' ', '-') }}">{{ finding.status.value }}</td>
{% if reading %}
<td class="n">{{ usual(finding) }}</td><td class="s">{{ reading.value | span(rule.unit) }}</td>
<td class="n">{{ limit(reading.limit, rule.unit, reading.at_most) }}</td>
<td>{{ [reading.where, reading.note, finding.reason] | select | join("; ") }}
{% else %}
<td></td><td></td><td></td><td>{{ finding.reason }}
{% endif %}
<br><small>{{ rule.why }} Formula: {{ rule.formula }}. Source: {{ rule.source | string }}</small></td></tr>
{% endfor %}
</tbody></table></div>
<p class="dim">A rule holds where its whole range lies within the limit, breaks where all of it lies beyond, and is
undecided between.</p>
"""
_FIRST = (Status.BREAKS, Status.UNDECIDED, Status.NOT_CHECKED, Status.HOLDS, Status.REPORTED)


def fragment(advice: Advice) -> Markup:
    """The rules, those that need attention first."""
    findings = sorted(advice.assessment.findings, key=lambda finding: _FIRST.index(finding.status))
    analysis = advice.assessment.analysis

    def usual(finding: Finding) -> str:
        return value_shown(finding, analysis, with_range=False)

    return render(_TEMPLATE, findings=findings, usual=usual, limit=wording.limit_sign)

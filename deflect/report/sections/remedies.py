"""Remedies, and every rule before and after each."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from deflect.findings import Advice, Finding, Outcome, Status
from deflect.report import wording
from deflect.report.headlines import headlines
from deflect.report.markup import render

ORDER = 100
HEADING = "Remedies, before and after"

_TEMPLATE = """\
{% if not outcomes %}<p>No remedy was tried: nothing called for one, or none is known for what breaks.</p>{% endif %}
{% for outcome in outcomes %}
{% set remedy = outcome.remedy %}
<h3>{{ loop.index }}. {{ remedy.title }}: {{ outcome.proposal.size }}</h3>
<p>{% if outcome.is_cure %}<span class="holds">Cures all that broke or was undecided.</span>
{% else %}<span class="undecided">Does not cure everything.</span>{% endif %}
{% if not outcome.confirmed %} Solved at the usual inputs only, not over their ranges.{% endif %}</p>
<table>
<tbody>
<tr><th>effort</th><td>{{ remedy.effort }}</td></tr>
<tr><th>who, when</th><td>{{ remedy.who }}; {{ remedy.when }}</td></tr>
<tr><th>drawback</th><td>{{ remedy.drawback }}</td></tr>
<tr><th>hazard</th><td><b>{{ remedy.hazard }} {{ outcome.proposal.hazard }}</b></td></tr>
<tr><th>source</th><td>{{ remedy.source | string }}</td></tr>
</tbody></table>
<div class="wide"><table>
<thead><tr><th>Rule or number</th><th class="n">before</th><th class="n">after</th><th class="n">limit</th>
<th>outcome before → after</th></tr></thead>
<tbody>
{% for old, new in numbers_of(outcome) %}
<tr><td>{{ new.title }}</td><td class="n">{{ old.value.nominal | figure(old.unit) }}</td>
<td class="n">{{ new.value.nominal | figure(new.unit) }}</td><td></td><td></td></tr>
{% endfor %}
{% for row in rules_of(outcome) %}
<tr><td>{{ row.title }}</td><td class="r">{{ row.before }}</td><td class="r">{{ row.after }}</td>
<td class="n">{{ row.limit }}</td>
<td><span class="{{ row.was.replace(' ', '-') }}">{{ row.was }}</span> →
<span class="{{ row.now.replace(' ', '-') }}">{{ row.now }}</span>
{% if row.worse %}<span class="worse">worse</span>
{% elif row.cured %}<span class="holds">cured</span>
{% endif %}</td></tr>
{% endfor %}
</tbody></table></div>
{% endfor %}
"""


@dataclass(frozen=True)
class _Row:
    """One rule before and after."""

    title: str
    before: str
    after: str
    limit: str
    was: str
    now: str
    worse: bool
    cured: bool


def fragment(advice: Advice) -> Markup:
    """Each remedy with what it changes."""
    before = advice.assessment
    old_numbers = headlines(before.analysis, before.findings)

    def numbers_of(outcome: Outcome) -> list[object]:
        return list(zip(old_numbers, headlines(outcome.analysis, outcome.findings), strict=True))

    def rules_of(outcome: Outcome) -> list[_Row]:
        old = {finding.rule.id: finding for finding in before.findings}
        return [_row(old.get(new.rule.id), new, outcome) for new in outcome.findings]

    return render(_TEMPLATE, outcomes=advice.outcomes, numbers_of=numbers_of, rules_of=rules_of)


def _row(old: Finding | None, new: Finding, outcome: Outcome) -> _Row:
    rule = new.rule
    return _Row(
        title=rule.title,
        before=_number(old),
        after=_number(new),
        limit="" if new.reading is None else wording.limit_sign(new.reading.limit, rule.unit, new.reading.at_most),
        was=Status.NOT_CHECKED.value if old is None else old.status.value,
        now=new.status.value,
        worse=rule.id in outcome.worsened,
        cured=rule.id in outcome.cured,
    )


def _number(finding: Finding | None) -> str:
    if finding is None or finding.value is None:
        return "–"
    return wording.ranged(finding.value, finding.rule.unit)

"""Remedies, and every rule before and after each."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from deflect.advice.sayings import against_remedy
from deflect.findings import Advice, Analysis, Finding, Outcome, Status
from deflect.report import wording
from deflect.report.headlines import headlines, value_shown
from deflect.report.markup import render
from deflect.report.places import added_posts, added_shims

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
<tr><th>who, when</th><td>{{ once(remedy.who) }}; {{ once(remedy.when) }}</td></tr>
<tr><th>drawback</th><td>{{ remedy.drawback }}</td></tr>
<tr><th>hazard</th><td><b>{{ remedy.hazard }} {{ outcome.proposal.hazard }}</b></td></tr>
{% for line in against(outcome) %}<tr><th>against the trade</th><td>{{ line }}</td></tr>{% endfor %}
<tr><th>source</th><td>{{ remedy.source | string }}</td></tr>
</tbody></table>
{% set shims, posts = shims_of(outcome), posts_of(outcome) %}
{% if shims %}
<table><caption>Shims, mm; places from the middle of the base (x to the right, y to the rear, die axes)</caption>
<thead><tr><th class="n">x</th><th class="n">y</th><th class="n">length</th><th class="n">width</th>
<th class="n">thickness</th></tr></thead>
<tbody>
{% for shim in shims %}
<tr>{% for value in (shim.area.x, shim.area.y, shim.area.length, shim.area.width) %}
<td class="n">{{ whole(value) }}</td>{% endfor %}
<td class="n">{{ "%.2f" | format(shim.thickness) }}</td></tr>
{% endfor %}
</tbody></table>
{% endif %}
{% if posts %}
<table><caption>Support posts, mm; places from the middle of the bolster (x to the right, y to the rear)</caption>
<thead><tr><th class="n">x</th><th class="n">y</th><th class="n">side of the head</th>
<th class="n">below the unloaded bolster</th></tr></thead>
<tbody>
{% for post in posts %}
<tr><td class="n">{{ whole(post.x) }}</td><td class="n">{{ whole(post.y) }}</td>
<td class="n">{{ whole(post.head) }}</td>
<td class="n">{{ "%.2f" | format(post.gap) }}</td></tr>
{% endfor %}
</tbody></table>
{% endif %}
{% set rows = rows_of(outcome) %}
{{ table(rows | selectattr("changes") | list) }}
{% set same = rows | rejectattr("changes") | list %}
{% if same %}
<details><summary>{{ same | count }} numbers and rules stay as they were</summary>
{{ table(same) }}
</details>
{% endif %}
{% endfor %}
"""
_TABLE = """\
{% if rows %}
<div class="wide"><table>
<thead><tr><th>Rule or number</th><th class="n">before</th><th class="n">after</th><th class="n">limit</th>
<th>outcome before → after</th></tr></thead>
<tbody>
{% for row in rows %}
<tr><td>{{ row.title }}</td><td class="r">{{ row.before }}</td><td class="r">{{ row.after }}</td>
<td class="n">{{ row.limit }}</td>
<td>{% if row.now %}<span class="{{ row.was.replace(' ', '-') }}">{{ row.was }}</span> →
<span class="{{ row.now.replace(' ', '-') }}">{{ row.now }}</span>
{% if row.worse %}· <span class="worse">worse</span>
{% elif row.cured %}· <span class="holds">cured</span>
{% endif %}{% endif %}</td></tr>
{% endfor %}
</tbody></table></div>
{% endif %}
"""


@dataclass(frozen=True)
class _Row:
    """One rule or number before and after; changes: its usual value or its outcome."""

    title: str
    before: str
    after: str
    limit: str
    changes: bool
    was: str = ""
    now: str = ""
    worse: bool = False
    cured: bool = False


def fragment(advice: Advice) -> Markup:
    """Each remedy with what it changes."""
    before = advice.assessment
    case = before.analysis.case
    old_numbers = headlines(before.analysis, before.findings)
    old = {finding.rule.id: finding for finding in before.findings}

    def rows_of(outcome: Outcome) -> list[_Row]:
        pairs = zip(old_numbers, headlines(outcome.analysis, outcome.findings), strict=True)
        # A number that a rule judges is told with the rule.
        alone = [(was, new) for was, new in pairs if was.status is None or new.status is None]
        numbers = [_Row(new.title, was.shown, new.shown, "", was.shown != new.shown) for was, new in alone]
        return numbers + [_row(old.get(new.rule.id), new, outcome, before.analysis) for new in outcome.findings]

    def table(rows: list[_Row]) -> Markup:
        return render(_TABLE, rows=rows)

    return render(
        _TEMPLATE,
        outcomes=advice.outcomes,
        rows_of=rows_of,
        table=table,
        shims_of=lambda outcome: added_shims(outcome, case),
        posts_of=lambda outcome: added_posts(outcome, case),
        whole=wording.whole,
        once=_once,
        against=lambda outcome: against_remedy(outcome, before),
    )


def _once(text: str) -> str:
    """Parts between semicolons, none twice: remedies that are taken together name the same people."""
    return "; ".join(dict.fromkeys(text.split("; ")))


def _row(old: Finding | None, new: Finding, outcome: Outcome, before: Analysis) -> _Row:
    rule = new.rule
    was = Status.NOT_CHECKED if old is None else old.status
    same = was is new.status and _number(old, before, False) == _number(new, outcome.analysis, False)
    return _Row(
        title=rule.title,
        before=_number(old, before),
        after=_number(new, outcome.analysis),
        limit="" if new.reading is None else wording.limit_sign(new.reading.limit, rule.unit, new.reading.at_most),
        changes=not same or rule.id in (*outcome.cured, *outcome.worsened),
        was=was.value,
        now=new.status.value,
        worse=rule.id in outcome.worsened,
        cured=rule.id in outcome.cured,
    )


def _number(finding: Finding | None, analysis: Analysis, with_range: bool = True) -> str:
    return "–" if finding is None else value_shown(finding, analysis, with_range)

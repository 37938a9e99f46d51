"""What the check room says beside its pictures, as markup; every value that goes in is escaped."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from deflect.findings import Advice, Analysis, Assessment, Finding, Outcome, Status, Warned
from deflect.mechanics.analysis import governing_sag_of
from deflect.mechanics.glance import Glance
from deflect.report.headlines import Headline, headlines, settled, value_shown
from deflect.report.markup import render
from deflect.report.sentence import what_happens
from deflect.report.wording import bound, figure

_NUMBERS = """\
<table class="desk-num" aria-label="numbers">{% for n in numbers %}
<tr class="first"><td>{{ n.title }}</td>
<td class="v {{ n.status or "" }}" data-number="{{ n.key }}">{{ n.shown }}</td>
<td class="l">{{ limit(n) }}</td></tr>
<tr><td colspan="3" class="desk-dim">{{ told(n) }}</td></tr>{% endfor %}</table>
"""
_LIVE = """\
<table class="desk-num" aria-label="numbers at the usual values">{% for title, key, value, limit in rows %}
<tr><td>{{ title }}</td><td class="v" data-live="{{ key }}">{{ value }}</td><td class="l">{{ limit }}</td></tr>
{% endfor %}</table>
"""
_VERDICT = """\
<div class="desk-verdict {{ kind }}" role="status"><b data-verdict>{{ verdict }}</b>
<div>{{ happens }}</div>{% for reason in reasons[:1] %}<div class="desk-dim">{{ reason }}</div>{% endfor %}
{% if reasons[1:] %}<details><summary class="desk-dim">why ({{ reasons[1:] | count }} more)</summary>
{% for reason in reasons[1:] %}<div class="desk-dim">{{ reason }}</div>{% endfor %}</details>{% endif %}</div>
"""
_CAUTIONS = """\
<div class="desk-cautions" role="note"><b>Cautions</b>{% for c in cautions %}
<h3>{{ c.heading }}</h3>{% for n in c.numbers %}<p>{{ n }}</p>{% endfor %}{% if not c.numbers %}
<p>{{ c.words[0] }}</p>{% endif %}
<details><summary class="desk-dim">more, and whom to ask</summary>{% for w in c.words %}<p>{{ w }}</p>
{% endfor %}<p><b>{{ c.defer }}</b></p></details>{% endfor %}
<p class="desk-dim">This page approves no lift and no clamp: local codes and competent people do.</p></div>
"""
_RULES = """\
<table class="desk-num" aria-label="rules">{% for f, value, limit in rows %}
<tr><td>{{ f.rule.title }}{% if f.reason %}<div class="desk-dim">{{ f.reason }}</div>{% endif %}</td>
<td class="{{ f.status.value.replace(" ", "-") }}">{{ f.status.value }}</td><td class="v">{{ value }}</td>
<td class="l">{{ limit }}</td></tr>{% endfor %}</table>
"""
_BEFORE_AFTER = """\
<table class="desk-num" aria-label="before and after"><tr><th>with {{ size }}</th><th>before</th><th>after</th>
<th>limit</th></tr>
{% for title, before, after, limit, status, worse in rows %}
<tr><td>{{ title }}</td><td class="l">{{ before }}</td><td class="v {{ status }}">{{ after }}
{% if worse %} <span class="worse">worse</span>{% endif %}</td>
<td class="l">{{ limit }}</td></tr>{% endfor %}</table>
<p class="desk-dim">Effort: {{ effort }}. Drawback: {{ drawback }}</p><p><b>Mind:</b> {{ hazard }}</p>
<p class="desk-dim">{{ confirmed }}</p>
"""
_ORDER = {Status.BREAKS: 0, Status.UNDECIDED: 1, Status.NOT_CHECKED: 2, Status.HOLDS: 3, Status.REPORTED: 4}


def numbers(analysis: Analysis, findings: Sequence[Finding]) -> Markup:
    """The headline numbers with range and limit."""
    return render(_NUMBERS, numbers=headlines(analysis, findings), limit=_limit, told=_told)


def _told(number: Headline) -> str:
    """Range and place of a number in one line."""
    spread = number.range_shown
    return ", ".join(filter(None, (f"range {spread}" if spread else "", number.where)))


def _limit(number: Headline) -> str:
    return bound(number.limit, number.unit, number.at_most) if number.limit is not None else ""


def live(seen: Glance, assessment: Assessment | None) -> Markup:
    """The numbers of a state just solved, at the usual values, with the limits of the last assessment."""
    limits = {} if assessment is None else {f.rule.id: f for f in assessment.findings}
    solution = seen.solution
    rows = [
        ("Greatest gap", "gap", figure(solution.greatest_gap, "mm"), _bound(limits.get("gap"))),
        ("Contact share", "contact", figure(solution.contact_share * 100, "%"), _bound(limits.get("contact"))),
        ("Face error", "face", figure(seen.face.error_range, "mm"), _bound(limits.get("face"))),
        ("Table sag", "sag", figure(governing_sag_of(solution.sag), "mm"), ""),
    ]  # fmt: skip
    return render(_LIVE, rows=rows)


def _bound(finding: Finding | None) -> str:
    if finding is None or finding.reading is None or finding.limit is None:
        return ""
    return bound(finding.limit, finding.rule.unit, finding.reading.at_most)


def verdict(advice: Advice) -> Markup:
    """The verdict with its reasons."""
    return render(
        _VERDICT,
        kind=advice.verdict.value.replace(" ", "-"),
        verdict=advice.verdict.value.capitalize(),
        happens=what_happens(advice.assessment.analysis),
        reasons=[*advice.reasons, *settled(advice)],
    )


def so_far(assessment: Assessment, ranged: bool) -> Markup:
    """What is known before the verdict: which rules break, at the usual values or over the ranges."""
    broken = [f.rule.title for f in assessment.findings if f.status is Status.BREAKS]
    open_ones = [f.rule.title for f in assessment.findings if f.status is Status.UNDECIDED]
    known = "over the ranges" if ranged else "at the usual values"
    reasons = [f"breaks {known}: {', '.join(broken)}" if broken else f"nothing breaks {known}"]
    reasons += [f"undecided: {', '.join(open_ones)}"] if open_ones else []
    reasons.append("the remedies are being tried" if ranged else "the ranges follow")
    return render(_VERDICT, kind="waiting", verdict="Verdict follows", happens=what_happens(assessment.analysis),
                  reasons=reasons)  # fmt: skip


def waiting(words: str) -> Markup:
    """A verdict that is not there yet, and why."""
    return render(_VERDICT, kind="waiting", verdict="Verdict follows", happens="", reasons=[words])


def cautions(warned: Sequence[Warned]) -> Markup:
    """Every caution, its numbers in sight."""
    return render(_CAUTIONS, cautions=warned)


def rules(assessment: Assessment) -> Markup:
    """Every rule: what breaks first."""
    findings = sorted(assessment.findings, key=lambda f: _ORDER[f.status])
    rows = [(f, value_shown(f, assessment.analysis), _bound(f)) for f in findings]
    return render(_RULES, rows=rows)


def before_after(outcome: Outcome, before: Assessment) -> Markup:
    """A remedy: every rule whose number it moves, or that did not hold, before and after."""
    old = {f.rule.id: f for f in before.findings}
    rows = []
    for now in outcome.findings:
        was = old.get(now.rule.id)
        first = "–" if was is None else value_shown(was, before.analysis, with_range=False)
        then = value_shown(now, outcome.analysis, with_range=False)
        if first == then and (was is None or was.status is now.status):
            continue
        worse = now.rule.id in outcome.worsened
        rows.append((now.rule.title, first, then, _bound(now), now.status.value.replace(" ", "-"), worse))
    hazard = " ".join(filter(None, (outcome.remedy.hazard, outcome.proposal.hazard)))
    confirmed = "solved over the ranges too" if outcome.confirmed else "solved at the usual values"
    return render(_BEFORE_AFTER, rows=rows, size=outcome.proposal.size, effort=outcome.remedy.effort,
                  drawback=outcome.remedy.drawback, hazard=hazard,
                  confirmed=f"This remedy was {confirmed}.")  # fmt: skip

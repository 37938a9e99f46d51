"""What the check room says beside its pictures, as markup; every value that goes in is escaped."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from deflect.findings import Advice, Analysis, Assessment, Finding, Outcome, Status, Verdict
from deflect.mechanics.analysis import governing_sag_of
from deflect.mechanics.glance import Glance
from deflect.report.headlines import Headline, headlines, settled, value_shown
from deflect.report.markup import render
from deflect.report.sentence import what_happens
from deflect.report.wording import bound, figure

_NUMBERS = """\
<table class="desk-num" aria-label="numbers">{% for n in numbers %}
<tr class="first"><td>{{ n.title }}</td>
<td class="v {{ kind(n.status) }}" data-number="{{ n.key }}">{{ n.shown }}</td></tr>
<tr><td colspan="2" class="desk-dim">{% if n.status %}<b class="{{ kind(n.status) }}">{{ n.status.value }}</b>
{% endif %}{{ told(n) }}</td></tr>{% endfor %}</table>
"""
_LIVE = """\
<table class="desk-num" aria-label="numbers of the picture">{% for title, key, value, limit in rows %}
<tr><td>{{ title }}</td><td class="v" data-live="{{ key }}">{{ value }}</td><td class="l">{{ limit }}</td></tr>
{% endfor %}</table>
"""
_VERDICT = """\
<div class="desk-verdict {{ kind }}" role="status"><b data-verdict>{{ verdict }}</b>
<div>{{ happens }}</div>{% if measure %}<div>With: {{ measure[0] }}.</div>{% endif %}
{% if measure %}<details><summary class="desk-dim">how much, and why</summary><p>{{ measure[1] }}</p>
{% for reason in reasons %}<div class="desk-dim">{{ reason }}</div>{% endfor %}</details>
{% else %}{% for reason in reasons[:2] %}<div class="desk-dim">{{ reason }}</div>{% endfor %}
{% if reasons[2:] %}<details><summary class="desk-dim">why ({{ reasons[2:] | count }} more)</summary>
{% for reason in reasons[2:] %}<div class="desk-dim">{{ reason }}</div>{% endfor %}</details>{% endif %}
{% endif %}</div>
"""
_RULES = """\
<table class="desk-num" aria-label="rules">{% for f, value, limit in rows %}
<tr class="first"><td>{{ f.rule.title }}</td><td class="v">{{ value }}</td></tr>
<tr><td colspan="2" class="desk-dim"><b class="{{ kind(f.status) }}">{{ f.status.value }}</b>
{{ "(" ~ limit ~ ")" if limit }} {{ f.reason }}</td></tr>{% endfor %}</table>
"""
_BEFORE_AFTER = """\
<p>{{ size }}</p>
<table class="desk-num" aria-label="before and after"><tr><th></th><th class="l">before</th><th class="l">after</th>
<th class="l">limit</th></tr>
{% for title, before, after, limit, status, worse in rows %}
<tr class="first"><td colspan="4">{{ title }}: <b class="{{ kind(status) }}">{{ status.value }}</b>
{% if worse %}<span class="worse">(worse)</span>{% endif %}</td></tr>
<tr><td></td><td class="l">{{ before }}</td><td class="v">{{ after }}</td><td class="l">{{ limit }}</td></tr>
{% endfor %}</table>
<p class="desk-dim">Effort: {{ effort }}. Drawback: {{ drawback }}</p><p><b>Mind:</b> {{ hazard }}</p>
<p class="desk-dim">{{ confirmed }}</p>
"""
_ORDER = {Status.BREAKS: 0, Status.UNDECIDED: 1, Status.NOT_CHECKED: 2, Status.HOLDS: 3, Status.REPORTED: 4}


def numbers(analysis: Analysis, findings: Sequence[Finding]) -> Markup:
    """The headline numbers with range and limit."""
    return render(_NUMBERS, numbers=headlines(analysis, findings), kind=_kind, told=_told)


def _told(number: Headline) -> str:
    """Limit, range and place of a number in one line."""
    limit = f"({bound(number.limit, number.unit, number.at_most)})" if number.limit is not None else ""
    spread = number.range_shown
    rest = ", ".join(filter(None, (f"range {spread}" if spread else "", number.where)))
    return " ".join(filter(None, (limit, rest)))


def _kind(status: Status | None) -> str:
    """The class of a status; its word stands beside it, for colour alone says nothing to some."""
    return "" if status is None else status.value.replace(" ", "-")


@dataclass(frozen=True)
class Seen:
    """The numbers beside a picture, at the usual values: gap, face error and sag in mm, contact as a share."""

    gap: float
    contact: float
    face: float
    sag: float

    @staticmethod
    def quick(glance: Glance) -> Seen:
        """Those of a state just solved."""
        solution = glance.solution
        sag = governing_sag_of(solution.sag)
        return Seen(solution.greatest_gap, solution.contact_share, glance.face.error_range, sag)

    @staticmethod
    def judged(analysis: Analysis) -> Seen:
        """Those that the rules judge: put right by the finest mesh."""
        spread = analysis.spread
        return Seen(spread.gap.nominal, spread.contact_share.nominal, spread.face.nominal, spread.sag.nominal)


def live(seen: Seen, assessment: Assessment | None) -> Markup:
    """The numbers beside a picture, with the limits of the last assessment."""
    limits = {} if assessment is None else {f.rule.id: f for f in assessment.findings}
    rows = [
        ("Greatest gap", "gap", figure(seen.gap, "mm"), _bound(limits.get("gap"))),
        ("Contact share", "contact", figure(seen.contact * 100, "%"), _bound(limits.get("contact"))),
        ("Face error", "face", figure(seen.face, "mm"), _bound(limits.get("face"))),
        ("Table sag", "sag", figure(seen.sag, "mm"), ""),
    ]
    return render(_LIVE, rows=rows)


def _bound(finding: Finding | None) -> str:
    if finding is None or finding.reading is None or finding.limit is None:
        return ""
    return bound(finding.limit, finding.rule.unit, finding.reading.at_most)


def verdict(advice: Advice) -> Markup:
    """The verdict with its reasons; where measures make it fit, the measure first."""
    measure = None
    reasons = advice.reasons
    cure = next((one for one in advice.outcomes if one.is_cure and one.confirmed), None)
    if advice.verdict is Verdict.WITH_MEASURES and cure is not None:
        measure, reasons = (cure.remedy.title, cure.proposal.size), reasons[1:]
    return render(
        _VERDICT,
        kind=advice.verdict.value.replace(" ", "-"),
        verdict=advice.verdict.value.capitalize(),
        happens=what_happens(advice.assessment.analysis),
        measure=measure,
        reasons=[*reasons, *settled(advice)],
    )


def so_far(assessment: Assessment, ranged: bool) -> Markup:
    """What is known before the verdict: which rules break, at the usual values or over the ranges."""
    broken = [f.rule.title for f in assessment.findings if f.status is Status.BREAKS]
    open_ones = [f.rule.title for f in assessment.findings if f.status is Status.UNDECIDED]
    known = "over the ranges" if ranged else "at the usual values"
    reasons = [f"breaks {known}: {', '.join(broken)}" if broken else f"nothing breaks {known}"]
    reasons += [f"undecided: {', '.join(open_ones)}"] if open_ones else []
    reasons.append("the remedies are being tried" if ranged else "the ranges follow")
    return _follows(what_happens(assessment.analysis), reasons)


def waiting(words: str) -> Markup:
    """A verdict that is not there yet, and why."""
    return _follows("", [words])


def none(words: str) -> Markup:
    """No verdict will come, and why."""
    return _follows("", [words], "No verdict")


def _follows(happens: str, reasons: Sequence[str], verdict: str = "Verdict follows") -> Markup:
    return render(_VERDICT, kind="waiting", verdict=verdict, measure=None, happens=happens, reasons=reasons)


def dim(words: str) -> Markup:
    """A remark."""
    return render('<p class="desk-dim">{{ words }}</p>', words=words)


def rules(assessment: Assessment) -> Markup:
    """Every rule: what breaks first."""
    findings = sorted(assessment.findings, key=lambda f: _ORDER[f.status])
    rows = [(f, value_shown(f, assessment.analysis), _bound(f)) for f in findings]
    return render(_RULES, rows=rows, kind=_kind)


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
        rows.append((now.rule.title, first, then, _bound(now), now.status, worse))
    hazard = " ".join(filter(None, (outcome.remedy.hazard, outcome.proposal.hazard)))
    confirmed = "solved over the ranges too" if outcome.confirmed else "solved at the usual values"
    return render(_BEFORE_AFTER, rows=rows, size=outcome.proposal.size, effort=outcome.remedy.effort,
                  drawback=outcome.remedy.drawback, hazard=hazard, kind=_kind,
                  confirmed=f"Sizes as named; {confirmed}.")  # fmt: skip

"""The papers: the whole report, and the plans that go to the tool room on one page each."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from functools import partial
from html import unescape
from pathlib import Path
from typing import Any

from markupsafe import Markup

from deflect.compare import Comparison
from deflect.faults import OutputRefused
from deflect.findings import Advice, Outcome, Warned
from deflect.report import figures, versions
from deflect.report.compared import plans as compared_plans
from deflect.report.compared import words
from deflect.report.document import all_sections
from deflect.report.markup import render
from deflect.report.paper.blocks import blocks
from deflect.report.places import added_shims
from deflect.report.wording import name, opening, whole

_HEAD = re.compile(r"<title>(.*?)</title>", re.DOTALL)
COMPARISON = "comparison.pdf"
REPORT, SHIM_PLAN, BEDDING_PLAN = "report.pdf", "shim-plan.pdf", "bedding-plan.pdf"
FILES = (REPORT, SHIM_PLAN, BEDDING_PLAN)
"""Papers of a check; those for which there is nothing to say are left out."""
_TEMPLATE = Path(__file__).parent / "paper.typ"
SIGNATURES = ("Die design", "Tryout", "Press shop")
"""Who decides."""
_MISSING = "papers need typst: python -m pip install 'deflect[pdf]'"
_SHORT_CAUTIONS = """\
<div class="cautions"><h3>Cautions</h3><ul>{% for caution in cautions %}
<li><b>{{ caution.heading }}.</b> {{ caution.words[0] }} <small>{{ caution.defer }}</small></li>{% endfor %}
</ul></div>
"""
_SHIMS = """\
<p>{{ outcome.remedy.title }}: {{ outcome.proposal.size }}. Solved anew
{{ "over the ranges of the inputs" if outcome.confirmed else "at the usual values" }}.</p>
<table>
<tr><th>shim</th><th>x from, mm</th><th>x to, mm</th><th>y from, mm</th><th>y to, mm</th><th>thickness, mm</th></tr>
{% for s in shims %}<tr><td>{{ loop.index }}</td><td class="n">{{ whole(s.area.left) }}</td>
<td class="n">{{ whole(s.area.right) }}</td><td class="n">{{ whole(s.area.front) }}</td>
<td class="n">{{ whole(s.area.back) }}</td><td class="n"><b>{{ "%.3f" | format(s.thickness) }}</b></td></tr>
{% endfor %}</table>
<p>From the middle of the die base, x along its length, y along its width, seen from above. Shims are captive.
{{ outcome.remedy.hazard }}</p>
<figure>{{ picture }}</figure>
"""
_BEDDING = """\
<p>Under force the face of the lower half is out by <b>{{ face | mm }}</b> from its highest to its lowest place
{% if bedded %}more than on the press on which it was bedded in{% endif %}. The limit is {{ limit | mm }}
{{ "(change since bedding-in)" if bedded else "(what may be bedded or milled away)" }}.</p>
<figure>{{ picture }}</figure>
<p>Spot under the working force, on this press, with the die clamped as in production. What is fitted by hand is fitted
for this press alone.</p>
"""


def report(advice: Advice) -> bytes:
    """The whole report as PDF, section by section as in the HTML document.  Raises OutputRefused without typst."""
    sections = [(section.heading, section.tell(advice)) for section in all_sections()]
    return _printed(_title(advice), sections, plan=False)


def shim_plan(advice: Advice, outcome: Outcome) -> bytes:
    """Where which shim of a remedy goes."""
    return _printed(f"Shim plan: {_title(advice)}", [("Shims", _shims(outcome, advice)), _cautions(advice)], plan=True)


def bedding_plan(advice: Advice) -> bytes:
    """How far the face is out, and where."""
    analysis = advice.assessment.analysis
    die = analysis.case.die
    told = render(
        _BEDDING,
        face=analysis.face.error_range,
        bedded=die.bedded is not None,
        limit=die.limits.spotting if die.bedded else die.limits.bedding,
        picture=figures.face_map(analysis),
    )
    return _printed(f"Bedding plan: {_title(advice)}", [("Face", told), _cautions(advice)], plan=True)


def comparison(page: str, cautions: Sequence[Warned]) -> bytes:
    """A comparison as PDF, section by section as on its page: verdicts and cautions first."""
    title, main = _HEAD.search(page), page.partition("<main>")[2].partition("</main>")[0]
    first, *sections = re.split(r"<section[^>]*>", main)
    parts = [("", Markup(first) + render(_SHORT_CAUTIONS, cautions=cautions))]
    parts += [("", Markup(section.replace("</section>", ""))) for section in sections]
    return _printed("Comparison of presses" if title is None else unescape(title[1]), parts, plan=False)


def comparison_papers(told: Comparison, page: str) -> dict[str, Callable[[], bytes]]:
    """Every paper of a comparison by its file's name: the whole, and each plan on one page."""
    shims: list[Callable[[], bytes]] = []
    beddings: list[Callable[[], bytes]] = []
    die = name(told.production.case.die.name)
    for one in told.compared:
        of_this = f"{die} on {words.title(one.side.case)}"
        after = [("", render(_SHORT_CAUTIONS, cautions=told.cautions))]
        for plan in compared_plans.shim_plans(one, told, "0"):
            sections = [(opening(plan.title), plan.told), *after]
            shims.append(partial(_printed, f"Shim plan: {of_this}", sections, plan=True))
        if one.bedding is not None:
            sections = [("Face", compared_plans.bedding_paper(one, told)), *after]
            beddings.append(partial(_printed, f"Bedding plan: {of_this}", sections, plan=True))
    return (
        {COMPARISON: partial(comparison, page, told.cautions)}
        | _numbered(SHIM_PLAN, shims)
        | _numbered(BEDDING_PLAN, beddings)
    )


def _numbered(file: str, plans: Sequence[Callable[[], bytes]]) -> dict[str, Callable[[], bytes]]:
    """A name for each plan: the file's own for a single one, else numbered from 1."""
    if len(plans) == 1:
        return {file: plans[0]}
    return {file.replace(".", f"-{k}."): plan for k, plan in enumerate(plans, 1)}


def papers(advice: Advice) -> dict[str, Callable[[], bytes]]:
    """Every paper of a check by its file's name, printed when it is called for."""
    found: dict[str, Callable[[], bytes]] = {REPORT: partial(report, advice)}
    outcome = _shimmed(advice)
    if outcome is not None:
        found[SHIM_PLAN] = partial(shim_plan, advice, outcome)
    return found | {BEDDING_PLAN: partial(bedding_plan, advice)}


def require() -> None:
    """Raises OutputRefused where nothing can be printed, before anything is computed."""
    try:
        import typst  # noqa: F401
    except ImportError:
        raise OutputRefused(_MISSING) from None


def _shimmed(advice: Advice) -> Outcome | None:
    """The best remedy that adds shims."""
    case = advice.assessment.analysis.case
    return next((one for one in advice.outcomes if added_shims(one, case)), None)


def _title(advice: Advice) -> str:
    case = advice.assessment.analysis.case
    return f"{name(case.die.name)} on {name(case.press.name)}"


def _cautions(advice: Advice) -> tuple[str, Markup]:
    return "", render(_SHORT_CAUTIONS, cautions=advice.cautions)


def _shims(outcome: Outcome, advice: Advice) -> Markup:
    case = advice.assessment.analysis.case
    picture = figures.force_plan(outcome.analysis)
    return render(_SHIMS, outcome=outcome, shims=added_shims(outcome, case), picture=picture, whole=whole)


def _printed(title: str, sections: Sequence[tuple[str, Markup]], plan: bool) -> bytes:
    require()
    import typst

    told: dict[str, Any] = {
        "title": title,
        "plan": plan,
        "sections": [{"heading": heading, "blocks": blocks(fragment)} for heading, fragment in sections],
        "signatures": list(SIGNATURES),
        "footer": f"deflect {versions.own()}. Lengths in mm. This paper approves no lift and no clamp.",
    }
    fonts = [Path(figures.font_folder())]
    data = {"data": json.dumps(told, ensure_ascii=False)}
    printed = typst.compile(_TEMPLATE, sys_inputs=data, font_paths=fonts, ignore_system_fonts=True, format="pdf")
    assert isinstance(printed, bytes)
    return printed

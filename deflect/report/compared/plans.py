"""What a comparison gives to the tool room: shim plans and the bedding plan, alike on its page and on papers."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from deflect.compare import Compared, Comparison
from deflect.model.die import Shim
from deflect.report import figures
from deflect.report.compared import words
from deflect.report.compared.drawing import FACE
from deflect.report.markup import render
from deflect.report.wording import opening, whole
from deflect.sizing.emulation import Measure

_SHIMS = """\
<p>{{ leaves }}.{% if instead %} Chosen instead: {{ instead }}.{% endif %}</p>
<figure>{{ drawing }}<figcaption>{{ grid }}. Shims are captive or fastened; they are for the tryout on this press
alone.</figcaption></figure>
<div class="wide"><table><thead><tr><th>Field</th><th class="n">x from, mm</th><th class="n">x to, mm</th>
<th class="n">y from, mm</th><th class="n">y to, mm</th><th class="n">thickness, mm</th></tr></thead><tbody>
{% for s in shims %}
<tr><td>{{ loop.index }}</td><td class="n">{{ whole(s.area.left) }}</td><td class="n">{{ whole(s.area.right) }}</td>
<td class="n">{{ whole(s.area.front) }}</td><td class="n">{{ whole(s.area.back) }}</td>
<td class="n">{{ "%.2f" | format(s.thickness) }}</td></tr>
{% endfor %}
</tbody></table></div>
"""
_BEDDING = """\
<p>{{ with_what }} {{ time_and_risk }}</p>
<ul>{% for line in lines %}<li>{{ line }}</li>{% endfor %}</ul>
<table><thead><tr><th>Zone</th><th class="n">difference, mm</th><th class="n">at the far end of the ranges, mm</th>
<th>What to do</th></tr></thead><tbody>
{% for z in zones %}
<tr><td>{{ z.row }} {{ z.column }}</td><td class="n">{{ signed(z.difference) }}</td>
<td class="n">{{ signed(z.at_worst) }}</td><td>{{ z.action.value }}</td></tr>
{% endfor %}
</tbody></table>
"""
_ON_PAPER = """\
<p>{{ headline }}. {{ face }}.</p>
<figure>{{ maps }}<figcaption>Working surface under force, each after its best rigid fit, on one scale; dot: the
greatest difference. Positive: stands high.</figcaption></figure>
"""


@dataclass(frozen=True)
class ShimPlan:
    """The shims of one measure: its title, and drawing and table."""

    title: str
    told: Markup


def shim_plans(one: Compared, told: Comparison, mark: str) -> tuple[ShimPlan, ...]:
    """A plan for each measure that has shims, the chosen one first; mark: tells its drawings from others of a page."""
    if one.emulation is None:
        return ()
    plans = []
    for n, measure in enumerate(sorted(one.emulation.measures, key=lambda m: m is not one.measure)):
        shims = _added(measure, one)
        if shims:
            title = words.TITLES[measure.kind].lower()
            chosen = one.measure
            shown = render(
                _SHIMS,
                drawing=figures.shim_plan(one.side.case.die.base.plan, measure.fields, shims, f"{mark}-{n}"),
                grid=opening(words.grid_words(told)),
                leaves=opening(words.leaves(measure, told.tolerance, one.emulation.stands(measure))),
                instead="" if chosen is None or chosen is measure else words.TITLES[chosen.kind].lower(),
                shims=shims,
                whole=whole,
            )
            plans.append(ShimPlan(title, shown))
    return tuple(plans)


def bedding_plan(one: Compared) -> Markup:
    """What to prove, to leave and to look at again, zone by zone; empty where nothing was solved."""
    if one.bedding is None:
        return Markup()
    measured = one.emulation is not None and one.emulation.measures
    return render(
        _BEDDING,
        with_what="With the measure named above." if measured else "As it stands.",
        time_and_risk=words.time_and_risk(one.bedding),
        lines=words.plan_in_short(one.bedding),
        zones=one.bedding.zones,
        signed=words.signed,
    )


def bedding_paper(one: Compared, told: Comparison) -> Markup:
    """The bedding plan by itself: with the maps of the face, and the measure that it goes by."""
    assert one.solved is not None
    assert one.likeness is not None
    plan = one.side.case.die.base.plan
    first = render(
        _ON_PAPER,
        headline=opening(words.headline(one, told.tolerance)),
        face=words.differs("Face", one.likeness.face, plan),
        maps=figures.compared_maps(told.solved, one.solved, one.likeness.face, FACE, 0),
    )
    emulated = render("<p>{{ words }}</p>\n", words=words.emulated(one, told))
    return first + emulated + bedding_plan(one)


def _added(measure: Measure, one: Compared) -> tuple[Shim, ...]:
    return measure.shims[len(one.side.case.die.placing.shims) :]

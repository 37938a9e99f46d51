"""A comparison as one self-contained page."""

from __future__ import annotations

from markupsafe import Markup

from deflect.compare import Compared, Comparison, Likely
from deflect.report import figures, versions
from deflect.report.compared import words
from deflect.report.compared.drawing import FACE, TABLE
from deflect.report.markup import render
from deflect.report.style import STYLE
from deflect.report.wording import figure, name
from deflect.sizing.emulation import Measure

_CLASS = {
    Likely.ALIKE: "fit",
    Likely.AFTER_MEASURES: "fit-with-measures",
    Likely.REDONE: "not-fit",
    Likely.NOT_IN: "not-fit",
}
_PAGE = """\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="deflect {{ version }}">
<title>{{ die }}: stand-in presses</title>
<style>{{ style }}</style>
</head>
<body>
<header><h1>{{ die }} <span class="on">for</span> {{ production }}</h1></header>
<main>
<p>Will the die behave alike on a stand-in press? Differences are those of the stand-in less those of the production
press, after the best rigid fit: what the slide's adjustment and a level table take out does not count. The tolerance
is {{ tolerance }}, greatest less least (spotting: 0.02 to 0.05 mm is usual; common practice, no source).</p>
{% for line in obstacles %}<p class="breaks">Production press: {{ line }}</p>{% endfor %}
<table><thead><tr><th>Stand-in</th><th>Verdict</th><th>What decides</th></tr></thead><tbody>
{% for one in standins %}
<tr><td><a href="#s{{ loop.index }}">{{ one.title }}</a></td><td class="{{ one.class }}"><b>{{ one.verdict }}</b></td>
<td>{{ one.headline }}; {{ one.surety }}</td></tr>
{% endfor %}
</tbody></table>
{% for one in standins %}
<section id="s{{ loop.index }}">
<h2>{{ one.title }}: <span class="{{ one.class }}">{{ one.verdict }}</span></h2>
<p>{{ one.headline }}{{ "; " if one.surety }}{{ one.surety }}. Force: {{ one.remark }}.</p>
{% if one.obstacles %}<h3>Whether it goes in</h3><ul>{% for line in one.obstacles %}<li>{{ line }}</li>{% endfor %}</ul>
{% endif %}
{% if one.rows %}
<h3>Both presses</h3>
<div class="wide"><table><thead><tr><th>Number</th><th class="n">production press</th><th class="n">stand-in</th>
<th class="n">stand-in less production</th></tr></thead><tbody>
{% for row in one.rows %}
<tr><td>{{ row.title }}</td>{% for value in row.shown %}<td class="n">{{ value }}</td>{% endfor %}</tr>
{% endfor %}
</tbody></table></div>
<h3>The face</h3>
<p>{{ one.face }}.</p>
<figure>{{ one.face_maps }}<figcaption>Working surface under force, each after its best rigid fit, on one scale; dot:
the greatest difference. Positive: stands high.</figcaption></figure>
<h3>The table below the die</h3>
<p>{{ one.table }}.</p>
<figure>{{ one.table_maps }}<figcaption>The bolster's top below the die under force, wear included, each after its best
rigid fit, on one scale.</figcaption></figure>
<figure>{{ one.cut }}</figure>
{% for line in one.closes %}<p>{{ line }}.</p>{% endfor %}
<h3>What would make it alike</h3>
<p>{{ one.emulated }}</p>
{% if one.measures %}
<div class="wide"><table><thead><tr><th>Measure</th><th>How much</th><th class="n">left, mm</th><th>What it leaves</th>
<th>What it takes</th></tr></thead><tbody>
{% for m in one.measures %}
<tr><td>{{ m.title }}{{ " (chosen)" if m.chosen }}</td><td>{{ m.size }}</td><td class="n">{{ m.left }}</td>
<td>{{ m.leaves }}</td><td>{{ m.price }}</td></tr>
{% endfor %}
</tbody></table></div>
{% endif %}
{% for plan in one.plans %}
<h3>Shim plan to print: {{ plan.title }}</h3>
<figure>{{ plan.drawing }}<figcaption>{{ grid }}. Shims are captive or fastened; they are for the tryout on this press
alone.</figcaption></figure>
<div class="wide"><table><thead><tr><th>Field</th><th class="n">x from, mm</th><th class="n">x to, mm</th>
<th class="n">y from, mm</th><th class="n">y to, mm</th><th class="n">thickness, mm</th></tr></thead><tbody>
{% for s in plan.shims %}
<tr><td>{{ loop.index }}</td><td class="n">{{ "%.0f" | format(s.area.left) }}</td>
<td class="n">{{ "%.0f" | format(s.area.right) }}</td><td class="n">{{ "%.0f" | format(s.area.front) }}</td>
<td class="n">{{ "%.0f" | format(s.area.back) }}</td><td class="n">{{ "%.2f" | format(s.thickness) }}</td></tr>
{% endfor %}
</tbody></table></div>
{% endfor %}
<h3>Bedding plan</h3>
<p>{{ "With the measure named above." if one.measures else "As it stands." }} {{ one.time_and_risk }}</p>
<ul>{% for line in one.bedding %}<li>{{ line }}</li>{% endfor %}</ul>
<table><thead><tr><th>Zone</th><th class="n">difference, mm</th><th class="n">at the far end of the ranges, mm</th>
<th>What to do</th></tr></thead><tbody>
{% for z in one.zones %}
<tr><td>{{ z.row }} {{ z.column }}</td><td class="n">{{ "%+.3f" | format(z.difference) }}</td>
<td class="n">{{ "%+.3f" | format(z.at_worst) }}</td><td>{{ z.action.value }}</td></tr>
{% endfor %}
</tbody></table>
{% endif %}
</section>
{% endfor %}
<section><h2>What is not in it</h2>
<p>{% if not closure %}{{ no_closure }} {% endif %}Speed and heat are not in it.
Ranges: the stiffness of each press's land and its hold-downs by themselves, the local give of the material for both
alike.</p></section>
<section><h2>Cautions in full</h2>
{% for caution in cautions %}
<div class="cautions"><h3>{{ caution.heading }}</h3><ul>
{% for line in caution.words %}<li>{{ line }}</li>{% endfor %}
{% for number in caution.numbers %}<li><b>{{ number }}</b></li>{% endfor %}
</ul><p>{{ caution.defer }}</p></div>
{% endfor %}
</section>
</main>
<footer>Written by deflect {{ version }}. Lengths in mm, forces in kN and MN. x runs left to right, y front to rear,
from the middle of the die.</footer>
</body>
</html>
"""


def page(told: Comparison) -> str:
    """The whole comparison as HTML text."""
    case = told.production.case
    return str(
        render(
            _PAGE,
            version=versions.own(),
            style=Markup(STYLE),
            die=name(case.die.name),
            production=words.title(case),
            tolerance=figure(told.tolerance, "mm"),
            obstacles=words.obstacles(told.production.mounting),
            standins=[_standin(one, told, k) for k, one in enumerate(told.compared)],
            cautions=told.cautions,
            closure=told.closure,
            no_closure=words.NO_CLOSURE,
            grid=words.grid_words(told).capitalize(),
        )
    )


def _standin(one: Compared, told: Comparison, k: int) -> dict[str, object]:
    shown: dict[str, object] = {
        "title": words.title(one.side.case),
        "verdict": words.verdict_words(one),
        "class": _CLASS[one.verdict],
        "headline": words.headline(one, told.tolerance),
        "surety": words.surety(one),
        "remark": one.side.remark,
        "obstacles": words.obstacles(one.side.mounting, one.side.lacking),
        "rows": (),
    }
    if one.solved is None or one.likeness is None or one.bedding is None:
        return shown
    plan = one.side.case.die.base.plan
    measures = () if one.emulation is None else one.emulation.measures
    return shown | {
        "rows": words.rows(told.solved, one.solved),
        "face": words.differs("Face", one.likeness.face, plan),
        "table": words.differs("Table below the die", one.likeness.table, plan),
        "face_maps": figures.compared_maps(told.solved, one.solved, one.likeness.face, FACE, k),
        "table_maps": figures.compared_maps(told.solved, one.solved, one.likeness.table, TABLE, k),
        "cut": figures.compared_tables(told.solved, one.solved, k),
        "closes": words.closes(one, plan),
        "emulated": words.emulated(one, told),
        "measures": [_measure(m, one, told) for m in measures],
        "plans": [_plan(m, one, f"{k}-{n}") for n, m in enumerate(measures) if _shims(m, one)],
        "bedding": words.plan_in_short(one.bedding),
        "time_and_risk": words.time_and_risk(one.bedding),
        "zones": one.bedding.zones,
    }


def _shims(measure: Measure, one: Compared) -> tuple[object, ...]:
    return measure.shims[len(one.side.case.die.placing.shims) :]


def _measure(measure: Measure, one: Compared, told: Comparison) -> dict[str, object]:
    return {
        "title": words.TITLES[measure.kind],
        "size": words.size(measure, one.side.case),
        "left": f"{measure.left.spread:.3f}",
        "leaves": words.leaves(measure, told.tolerance, one.emulation is None or one.emulation.stands(measure)),
        "price": words.PRICE[measure.kind],
        "chosen": measure is one.measure,
    }


def _plan(measure: Measure, one: Compared, mark: str) -> dict[str, object]:
    before = one.side.case.die.placing.shims
    shims = measure.shims[len(before) :]
    return {
        "title": words.TITLES[measure.kind].lower(),
        "drawing": figures.shim_plan(one.side.case.die.base.plan, measure.fields, shims, mark),
        "shims": shims,
    }

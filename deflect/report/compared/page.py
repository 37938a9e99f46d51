"""A comparison as one self-contained page."""

from __future__ import annotations

from markupsafe import Markup

from deflect.compare import Compared, Comparison, Likely
from deflect.report import figures, versions
from deflect.report.compared import plans, words
from deflect.report.compared.drawing import FACE, TABLE
from deflect.report.markup import render
from deflect.report.style import STYLE
from deflect.report.wording import figure, name, opening
from deflect.sizing.emulation import Measure

KINDS = {
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
{{ plan.told }}
{% endfor %}
<h3>Bedding plan</h3>
{{ one.bedding }}
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
        )
    )


def _standin(one: Compared, told: Comparison, k: int) -> dict[str, object]:
    shown: dict[str, object] = {
        "title": words.title(one.side.case),
        "verdict": words.verdict_words(one),
        "class": KINDS[one.verdict],
        "headline": opening(words.headline(one, told.tolerance)),
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
        "plans": plans.shim_plans(one, told, str(k)),
        "bedding": plans.bedding_plan(one),
    }


def _measure(measure: Measure, one: Compared, told: Comparison) -> dict[str, object]:
    return {
        "title": words.TITLES[measure.kind],
        "size": words.size(measure, one.side.case),
        "left": f"{measure.left.spread:.3f}",
        "leaves": words.leaves(measure, told.tolerance, one.emulation is None or one.emulation.stands(measure)),
        "price": words.PRICE[measure.kind],
        "chosen": measure is one.measure,
    }

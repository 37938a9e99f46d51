"""The blank holder between what carries it and the bent upper face."""

from __future__ import annotations

import numpy as np
from markupsafe import Markup

from deflect.findings import Advice
from deflect.mechanics.ring import Ring
from deflect.mechanics.ring_case import (
    cushion_guides,
    leaks_of,
    ribbed,
    ring_of,
    ring_range,
    setting_of,
    thinner,
    why_not,
)
from deflect.model.case import Case
from deflect.model.die import Operation
from deflect.report import figures
from deflect.report.markup import render
from deflect.report.wording import bare
from deflect.units import show_force

ORDER = 77
HEADING = "Blank holder"

_NONE = "<p>This die has no blank holder.</p>\n"
_MISSING = "<p>The pressure around the ring is not solved: {{ reason }}.</p>\n"
_TEMPLATE = """\
<p>The ring presses with {{ ring.force | force }}. Means over 300 mm of it are out of what is wanted by up to
<b>{{ uneven }} %</b>{% if ranged %} ({{ low }} to {{ high }} % over the scatter of the pins){% endif %}; the least is
{{ least }} % of it. Its bending stress is {{ stress }} MPa, and a side of it buckles at {{ buckling }} times the push
of the sheet that is drawn in.</p>
<figure>{{ picture }}<figcaption>Against the upper face as it is bent under the whole force.</figcaption></figure>
<table><thead><tr><th>Ring as thick as{% if own_ribs %}, its ribs shortened, its skin kept{% endif %}</th>
<th class="n">out of the wanted</th><th class="n">least</th>
<th class="n">stress</th><th class="n">buckles at</th></tr></thead><tbody>
{% for row in thinner %}
<tr><td>{{ row.size }}</td><td class="n">{{ row.uneven }}</td><td class="n">{{ row.least }}</td>
<td class="n">{{ row.stress }}</td><td class="n">{{ row.buckling }}</td></tr>
{% endfor %}
</tbody></table>
{% if ribbed %}
<table><thead><tr>
<th>As high as it is, with {% if own_ribs %}thinner skin, walls and ribs{% else %}ribs below{% endif %}</th>
<th class="n">out of the wanted</th><th class="n">least</th>
<th class="n">stress</th><th class="n">buckles at</th></tr></thead><tbody>
{% for row in ribbed %}
<tr><td>{{ row.size }}</td><td class="n">{{ row.uneven }}</td><td class="n">{{ row.least }}</td>
<td class="n">{{ row.stress }}</td><td class="n">{{ row.buckling }}</td></tr>
{% endfor %}
</tbody></table>
{% endif %}
<p class="dim">Each solved anew on what carries it. A thinner ring follows the face better, and shows its pins more; so
does one with ribs, which keeps its height{% if hollow %}. Of a ring with ribs pins stand on walls, ribs or pads, never
on the skin; corners of its ribs see more stress than told here{% endif %}.</p>
{% if springs %}
{% if setting %}<p>Set one by one, the springs come nearest to what is wanted with {{ setting }} kN, in the order of the
die file.</p>
{% endif %}
{% if coupled %}<p>All springs are on one line: a leak anywhere takes the pressure from all of them. The ring stays as
even as it is and loses force everywhere alike{{ reserve }}.</p>
{% else %}
<table><thead><tr><th>If this spring leaks</th><th class="n">force left</th><th class="n">ring tilts</th>
<th class="n">least pressure</th></tr></thead><tbody>
{% for leak in leaks %}
<tr><td>{{ leak.name }}</td><td class="n">{{ leak.force }}</td><td class="n">{{ leak.tilt }}</td>
<td class="n">{{ leak.least }}</td></tr>
{% endfor %}
</tbody></table>
<p class="dim">Against the ring with all springs sound{{ reserve }}.</p>
{% endif %}
{% endif %}
<p class="dim">{{ cushion }} That the upper die
bends a little otherwise under an uneven ring is left out.</p>
"""


def fragment(advice: Advice) -> Markup:
    """Ring pressure, stress, setting of springs, leaks."""
    case = advice.assessment.analysis.case
    holder = case.die.blank_holder
    if case.die.operation is not Operation.DRAW or holder is None or holder.carried is None:
        return render(_NONE)
    reason = why_not(case)
    if reason:
        return render(_MISSING, reason=reason)
    ring, spread = ring_of(case), ring_range(case)
    springs = holder.carried.springs
    setting, hollow = setting_of(case), ribbed(case)
    return render(
        _TEMPLATE,
        ring=ring,
        uneven=f"{100 * ring.uneven:.0f}",
        ranged=not spread.is_exact,
        low=f"{100 * spread.low:.0f}",
        high=f"{100 * spread.high:.0f}",
        least=f"{100 * ring.least:.0f}",
        stress=f"{ring.stress:.1f}",
        buckling=bare(ring.buckling, "times"),
        picture=figures.ring_map(case, ring),
        thinner=[_row(f"{size:.0f} mm", one) for size, one in thinner(case)],
        ribbed=[_row(of.told, one) for of, one in hollow],
        hollow=hollow or holder.ribs,
        own_ribs=holder.ribs is not None,
        springs=springs is not None,
        cushion=_cushion(case, ring),
        coupled=springs is not None and springs.coupled,
        setting="" if setting is None else ", ".join(f"{force / 1e3:.0f}" for force in setting),
        reserve=_reserve(holder.carried.least_force, ring.force),
        leaks=_leaks(case),
    )


def _cushion(case: Case, ring: Ring) -> str:
    """How what carries the ring moves, in words."""
    holder = case.die.blank_holder
    assert holder is not None
    assert holder.carried is not None
    if holder.carried.springs is not None:
        return "A gas spring gives its force wherever the ring is."
    if cushion_guides(case) is None:
        return "The cushion is taken as guided level: how stiff its guides are is not stated (press.cushion.guides)."
    x, y = np.abs(ring.cushion_tilt) * 1e3
    return f"The cushion tilts against its guides by {x:.3f} mm/m left or right, {y:.3f} mm/m front or rear."


def _row(size: str, ring: Ring) -> dict[str, str]:
    return {
        "size": size,
        "uneven": f"{100 * ring.uneven:.0f} %",
        "least": f"{100 * ring.least:.0f} %",
        "stress": f"{ring.stress:.1f} MPa",
        "buckling": f"{bare(ring.buckling, 'times')} times the push",
    }


def _reserve(least: float | None, force: float) -> str:
    """What is left over what the ring needs, in words."""
    if least is None:
        return ""
    return f"; the sheet wrinkles below {show_force(least)}, which is {100 * least / force:.0f} % of it"


def _leaks(case: Case) -> list[dict[str, str]]:
    springs = case.die.blank_holder and case.die.blank_holder.carried and case.die.blank_holder.carried.springs
    if not springs:
        return []
    return [
        {
            "name": f"spring {leak.number + 1} at x = {springs.springs[leak.number].x:.0f}, "
            f"y = {springs.springs[leak.number].y:.0f} mm".replace("-", "−"),
            "force": f"{100 * leak.force:.0f} %",
            "tilt": f"{leak.tilt * 1e3:.3f} mm/m",
            "least": f"{100 * leak.least:.0f} %",
        }
        for leak in leaks_of(case)
    ]

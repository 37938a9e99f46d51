"""What pulls the lower half up as the slide rises, and what holds it down."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.mechanics.lift_off import LiftBalance, lift_off
from deflect.mechanics.snap_through import REVERSE_SHARES, snap_through
from deflect.model.case import Case
from deflect.model.values import Interval
from deflect.report import figures
from deflect.report.markup import render
from deflect.report.wording import figure
from deflect.units import show_force, show_mass, show_share

ORDER = 83
HEADING = "Lift-off on the return stroke"

_TEMPLATE = """\
<p>Reserve against pick-up: <b>{{ reserve | ranged("times") }}</b>, where {{ required | figure("times") }} are asked
for. {{ located }} {{ clamps }}</p>
<figure>{{ picture }}<figcaption>Forces on the lower half as the slide rises. Full: usual; dashed: the greatest within
its range. All pulls are taken at once.</figcaption></figure>
<div class="wide"><table>
<thead><tr><th>Force</th><th class="n">least</th><th class="n">usual</th><th class="n">greatest</th>
<th>how it comes about</th></tr></thead>
<tbody>
{% for way, sign, parts, sum in rows %}
{% for one in parts %}
<tr><td>{{ one.source }}, {{ way }}</td>{% for value in ends(one.force) %}
<td class="n">{{ value | force }}</td>{% endfor %}<td>{{ one.how }}</td></tr>
{% endfor %}
<tr><th>all that {{ sign }}</th>{% for value in ends(sum) %}
<th class="n">{{ value | force }}</th>{% endfor %}<th></th></tr>
{% endfor %}
</tbody></table></div>
<p><b>Who would be hurt.</b> {{ hurt }}</p>
<p><b>What to do.</b></p>
<ul>
{% for line in to_do %}
<li>{{ line }}</li>
{% endfor %}
</ul>
"""


def fragment(advice: Advice) -> Markup:
    """The balance as a drawing, line by line, and in words."""
    analysis = advice.assessment.analysis
    found = lift_off(analysis.case)
    return render(
        _TEMPLATE,
        reserve=found.reserve,
        required=found.required,
        located=_located(found),
        clamps=_clamps(found),
        picture=figures.lift_balance(analysis),
        rows=(("up", "pulls", found.pulls, found.pull), ("down", "holds", found.holds, found.holding)),
        ends=_ends,
        hurt=_hurt(analysis.case),
        to_do=_to_do(analysis.case, found),
    )


def _ends(force: Interval) -> tuple[float, float, float]:
    return force.low, force.nominal, force.high


def _located(found: LiftBalance) -> str:
    if found.located == "keys":
        return "Keys hold this die sideways: they hold nothing down."
    if found.located:
        return "Locating cones hold this die sideways: it lifts off them freely."
    return "Nothing but friction and clamps holds this die sideways."


def _clamps(found: LiftBalance) -> str:
    if found.short_of_clamps:
        return f"It has {found.clamps} clamps, fewer than the {found.clamps_asked} that are asked for."
    return f"It has {found.clamps} clamps; {found.clamps_asked} are asked for."


def _hurt(case: Case) -> str:
    mass = show_mass(case.die.lower.mass)
    return (
        f"Whoever has hands or feet at the die when the slide rises, the setter at the clamps and the operator at the "
        f"panel first: a half of {mass} that hangs on one side tilts, slips and drops back within a stroke. It crushes "
        "what is below it, shears off what it lands on, and may throw loose clamps."
    )


def _to_do(case: Case, found: LiftBalance) -> tuple[str, ...]:
    reserve = found.reserve
    lines = []
    if found.unheld:
        lines.append(
            f"Clamp this half before the first stroke: {found.located} hold nothing down, and the pull may exceed its "
            "weight."
        )
    if reserve.low < found.required:
        missing = found.required * found.pull.high - found.holding.low
        lines.append(
            f"Hold it down with {show_force(missing)} more to reach {figure(found.required, 'times')} at worst, or "
            f"take away from what can pull hardest: {found.greatest.source}, up to "
            f"{show_force(found.greatest.force.high)}."
        )
    if found.short_of_clamps:
        lines.append(f"Set the {found.clamps_asked} clamps that are asked for, or ask the press's maker.")
    if case.die.operation.cuts:
        share = REVERSE_SHARES[0]
        jolt = snap_through(case.die.working_force, case.press.rated_force, share).force
        lines.append(
            f"As the cut breaks through, the press springs back with about {show_force(jolt)} ({show_share(share)} of "
            "the working force). That jerks the upper half and shakes the clamps of both: look at them after the first "
            "strokes."
        )
    return (
        *lines,
        "Vent faces and panel, oil guides and strippers, and never free a stuck panel with the slide rising.",
        "Run the first strokes slowly with nobody at the die, and watch a feeler strip below a corner of the base.",
    )

"""What the model does not know, and how much that may be."""

from __future__ import annotations

from markupsafe import Markup

from deflect.findings import Advice
from deflect.mechanics.hanging import described_above
from deflect.report.headlines import headlines
from deflect.report.left_out import left_out, outweighing
from deflect.report.markup import render

ORDER = 140
HEADING = "What this model leaves out"

_TEMPLATE = """\
<p>How large each may be in this case. Set it beside the greatest gap of {{ gap | mm }}, the table sag of {{ sag | mm }}
and the face error of {{ face | mm }}: nothing here is added to them.
{% if larger %}As large as the number that it bears on may be: <b>{{ larger | join(", ") }}</b>. Measure that before
hundredths are sought in this report.{% endif %}</p>
<div class="wide"><table class="free">
<thead><tr><th>What is left out</th><th class="n">may come to</th><th>range, mm</th><th>how, and whence</th></tr>
</thead>
<tbody>
{% for one in parts %}
<tr><td><b>{{ one.name | opening }}</b>: {{ one.what }}</td>
<td class="n">{{ one.size.nominal | mm }}</td><td class="s">{{ one.size | span("mm") }}</td>
<td>{{ one.how }}. <span class="dim">{{ one.source | string | opening }}</span></td></tr>
{% endfor %}
</tbody></table></div>
<h3>In words</h3>
<ul>
<li>Bolster and die base are plates that bend and shear. The bolster's pin holes and cut-outs count, its T-slots
{{ "count by their depth" if slots else "do not" }}; the base counts as
{{ "a casting with ribs" if hollow else "a solid block, whatever ribs and pockets it has" }}. Against solid bodies such
plates are 1 to 3 % off in their deflection, about 4 % in the greatest gap and 0.04 in the contact share.</li>
{% if ribbed %}<li>Ribs are spread evenly over the plan of their body: a usual body with ribs bends and twists
within 4 % of solid ones, and within 10 % with walls three times as thick as the ribs, with ribs less than three
thicknesses apart, or with thin, deep ribs{{ "; one that is open below and has solid pads twists up to a quarter less
than shown" if padded }}. Stresses are those of ribs and skins in bending;
fillets, pockets, and a skin that bends between its ribs raise them locally.</li>{% endif %}
{% if stepped %}<li>A base with steps in its top bends and twists within 3 % of solid ones; one with a pocket deeper
than a third of it is up to 9 % stiffer than shown.</li>{% endif %}
{% if above %}<li>Slide and upper half are plates too, hung from points above which the press is taken as stiff. How
the halves close is solved of its own: gap, creep and face of the lower half are still those under the patterns of force
as stated. The die's own guides hold nothing there, and edges shift by rotation times height alone.</li>
{% else %}<li>The slide, the upper die half and the guides are not bodies of this check: a slide that bends or tilts
adds to what is shown here.</li>
{% endif %}
<li>Pressures at edges of the bearing have no finite true value in such a model and are never held against a limit.</li>
<li>Friction is Coulomb's, with one coefficient for the whole base; oil, dirt and wear change it from day to day. That
is why the creep has the widest range of all.</li>
<li>The jolt of the press that springs back when a cut breaks through is no part of the numbers; an estimate of it
stands in the cautions. Vibration is not computed. Of heat only a rise of temperature from underside to top of a body
is, where it is stated, and growth during machining; no heat flows.</li>
<li>The balance of lift-off is one of forces, all pulls at once: a pull on one side lifts that side earlier. The budget
of the match is a sum of lines, not a simulation of machining.</li>
<li>Clamps count by their downward force alone: what they, and the die's own guides, hold sideways is not in the creep,
which is therefore the upper end of what a clamped die does.</li>
<li>The bed is a bedding of even stiffness below the land{{ origin }}.{% if walls %} Its walls bend and shear between
columns that hold their ends up but not their slope; openings in them count by a factor only.{% endif %}</li>
{% if bedded %}<li>The bedded state is that of the press and force in the case file; a die that was bedded in again
since then starts from there.</li>{% endif %}
{% if measured %}<li>Land and bolster are fitted to readings on the bare table; what differs under a die, or
has changed since then, is not in them.</li>{% else %}<li>Everything here is computed, nothing is
measured: dial readings on the press come before any of it.</li>{% endif %}
</ul>
"""


def fragment(advice: Advice) -> Markup:
    """Limits of the model, in words."""
    analysis = advice.assessment.analysis
    case, parts = analysis.case, left_out(analysis)
    origin = case.press.bed.land.origin
    slots, ribs = case.press.bolster.t_slots, (case.press.bolster.ribs, case.die.base.ribs)
    return render(
        _TEMPLATE,
        parts=parts,
        larger=outweighing(parts, headlines(analysis, advice.assessment.findings)),
        gap=analysis.spread.gap.nominal,
        sag=analysis.spread.sag.nominal,
        face=analysis.spread.face.nominal,
        origin=f" ({origin})" if origin else "",
        bedded=case.die.bedded is not None,
        slots=slots is not None and slots.depth is not None,
        padded=any(one is not None and one.is_open and one.pads for one in ribs),
        ribbed=any(one is not None for one in ribs),
        hollow=case.die.base.ribs is not None,
        stepped=bool(case.die.base.steps),
        above=described_above(case),
        walls=case.press.bed.land.walls is not None,
        measured=case.press.calibration is not None,
    )

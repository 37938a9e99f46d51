"""Upper half against lower half, under the whole force."""

from __future__ import annotations

import numpy as np
from markupsafe import Markup

from deflect.findings import Advice, Analysis
from deflect.mechanics.closure import FILM, HARD, closure_of, ranges_of
from deflect.mechanics.hanging import missing_above
from deflect.mechanics.under_closing import creep_under_closing, under_closing
from deflect.report import figures
from deflect.report.markup import render
from deflect.units import show_deflection, show_micrometres, show_stress

# A gap below this is none, mm.
TOLD = 0.0005
ORDER = 75
HEADING = "How the halves close"

_MISSING = """\
<p>Not solved: {% if missing %}{{ missing }} {{ "is" if one else "are" }} missing{% else %}what is described does not
hold the halves{% endif %}. The slide bows and tilts too, and what is shown
elsewhere is the lower half alone.</p>
"""
_TEMPLATE = """\
{% if closure.closes %}
<p>Lower and upper face are out by <b>{{ ranges.camber.nominal | mm }}</b> together as table, slide and dies bend
({{ ranges.camber.low | mm }} to {{ ranges.camber.high | mm }} over the ranges of land and hanging points)
{%- if bedded %}, beyond what was fitted at bedding-in on {{ bedded.press.name }}{% endif %}. Under the whole force
{% if open %}they stay open by {{ closure.greatest_gap | mm }} at most{% else %}they are pressed shut{% endif %} and
carry {{ least }} to {{ most }} % of an even pressure. Spotted like this, {{ blue }} % of the face would take blue
and {{ hard }} % of it would be rubbed bright.</p>
<figure>{{ closing }}<figcaption>Blue is carried over where less than {{ film | micro }} is open; a place that carries
more than {{ bright }} times its even share bears hard. Dashed: the upper base. Crosses: where the slide hangs.
</figcaption></figure>
<p>Below the lower die the table parts by {{ closure.lower_gap | mm }} at most as the faces close, above the upper die
the slide by {{ closure.upper_gap | mm }}.</p>
<table><thead><tr><th>The lower half, usual values</th><th class="n">force as stated</th>
<th class="n">force as the faces close</th></tr></thead><tbody>
{% for name, stated, closed in lower %}
<tr><td>{{ name }}</td><td class="n">{{ stated }}</td><td class="n">{{ closed }}</td></tr>
{% endfor %}
</tbody></table>
<p>{% if moved %}<b>This differs by enough to matter</b>: the stated patterns tell otherwise of {{ moved }}. What the
rest of this report says of the lower half holds of the stated patterns.{% else %}That is near enough the same: what
the rest of this report says of the lower half under the stated patterns holds of the closed die, too.{% endif %}</p>
<p class="dim">Solved anew with the pressure of the closing as the pattern; enough to matter is a fifth of a limit, or
to cross it. The creep takes the pattern of the full force through the whole stroke; as the faces meet, less of them
bears than that.</p>
{% else %}
<p>The faces of this die close solid nowhere: what is cut or carried by springs has its force whatever the faces do.</p>
{% endif %}
<p>To close evenly the faces want {{ closure.camber_range | mm }} of camber together
{%- if bedded %}, beyond what they have{% endif %}. Milled into each face for itself:</p>
<figure>{{ camber }}<figcaption>The height that each face is to stand above its lowest place, unloaded, so that under
this force on this press it lies flat.{% if bedded %} Of the bare bodies: what was fitted at bedding-in is not taken
off.{% endif %}</figcaption></figure>
{% if closure.edges %}
<p>The upper cutting edges shift against the lower ones by up to <b>{{ ranges.shift.nominal | micro }}</b>
({{ ranges.shift.low | micro }} to {{ ranges.shift.high | micro }}), {{ closure.edges.tilt | micro }} of it because the
stacks tilt.</p>
{% endif %}
<table><thead><tr><th>Hanging point of the slide, mm</th><th class="n">force</th></tr></thead><tbody>
{% for place, force in points %}
<tr><td>{{ place }}</td><td class="n">{{ force | force }}</td></tr>
{% endfor %}
</tbody></table>
{% if unclamped %}<p>No clamps of the upper half are stated: the working force alone holds it to the slide here.</p>
{% endif %}
<p class="dim">{% if guided %}The slide tilts against its guides by {{ tilt_x }} mm/m to the left or right and
{{ tilt_y }} mm/m to the front or rear.{% else %}No guides of the slide are stated (press.slide.body.guides): nothing
but its hanging points keeps it upright here.{% endif %} The drive
moves all hanging points alike; the press's frame is taken as stiff above them.</p>
"""


def fragment(advice: Advice) -> Markup:
    """Marks, pressure, camber, hanging points."""
    analysis = advice.assessment.analysis
    case = analysis.case
    closure, ranges = closure_of(case), ranges_of(analysis)
    if closure is None or ranges is None:
        missing = [key for key, value in missing_above(case).items() if value is None]
        return render(_MISSING, missing=" and ".join(missing), one=len(missing) == 1)
    assert case.press.slide is not None
    assert case.press.slide.body is not None
    places = case.press.slide.body.points
    lower, moved = _lower(analysis)
    return render(
        _TEMPLATE,
        closure=closure,
        ranges=ranges,
        open=closure.greatest_gap > TOLD,
        least=f"{closure.spread[0]:.0f}" if closure.closes else "",
        most=f"{closure.spread[1]:.0f}" if closure.closes else "",
        blue=f"{100 * closure.marked_share:.0f}" if closure.closes else "",
        hard=f"{100 * closure.hard_share:.0f}" if closure.closes else "",
        closing=figures.closing_map(closure) if closure.closes else "",
        camber=figures.camber_map(closure),
        film=FILM,
        lower=lower,
        moved=moved,
        bright=f"{HARD:g}",
        bedded=case.die.bedded,
        unclamped=not case.die.upper.clamps,
        points=[
            (f"{x:.0f}, {y:.0f}".replace("-", "−"), float(force))
            for (x, y), force in zip(places, closure.points_force, strict=True)
        ],
        guided=case.press.slide.body.guides is not None,
        tilt_x=f"{abs(closure.tilt[0]) * 1e3:.3f}",
        tilt_y=f"{abs(closure.tilt[1]) * 1e3:.3f}",
    )


def _lower(analysis: Analysis) -> tuple[list[tuple[str, str, str]], str]:
    """The lower half under either spread of the force, and what differs by enough to matter."""
    found, creep = under_closing(analysis), creep_under_closing(analysis)
    if found is None or creep is None:
        return [], ""
    a, b = found.stated, found.closed
    rows = [
        ("greatest gap", show_deflection(a.gap), show_deflection(b.gap)),
        ("face error", show_deflection(a.face), show_deflection(b.face)),
        ("contact", f"{100 * a.contact_share:.0f} %", f"{100 * b.contact_share:.0f} %"),
        ("pressure off the edges", show_stress(a.pressure), show_stress(b.pressure)),
        ("bending stress of the base", show_stress(a.base_stress), show_stress(b.base_stress)),
        ("bending stress of the bolster", show_stress(a.bolster_stress), show_stress(b.bolster_stress)),
        ("table sag", show_deflection(a.sag), show_deflection(b.sag)),
        ("creep of the free die", _creep(analysis.creep.free), _creep(creep.free)),
    ]
    return rows, " and ".join(found.moved)


def _creep(shift: float) -> str:
    return f"{show_micrometres(shift)} a stroke" if np.isfinite(shift) else "slides away"

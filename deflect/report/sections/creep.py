"""How the die shifts, stroke by stroke."""

from __future__ import annotations

import math

from markupsafe import Markup

from deflect.findings import Advice
from deflect.mechanics.cutting import shift_tolerance
from deflect.model.values import Interval
from deflect.report import figures
from deflect.report.headlines import held_by, scaled, strokes_until
from deflect.report.markup import render
from deflect.report.wording import whole

ORDER = 80
HEADING = "Creep over the strokes"

_TEMPLATE = """\
<p>{% if creep.held %}{{ by | opening }} hold the die. Free{% else %}Held by friction alone{% endif %}, it shifts by
<b>{{ shift | ranged("um") }}</b> a stroke{% if creep.free > 0.000001 %}, heading {{ heading }}° from +x (right) towards
+y (rear){% endif %}. The tolerance is {{ tolerance | mm }}, {{ what }}: {% if creep.held %}held,
the die does not use it up; free it would after {{ strokes | ranged("strokes") }}{% else %}used up after
<b>{{ strokes | ranged("strokes") }}</b>{% endif %}.</p>
<figure>{{ picture }}<figcaption>Left: the first strokes, marched through down-stroke and up-stroke until the shift per
stroke is steady{% if not creep.march.steady %} (it was not, when the march ended){% endif %}. Right: the steady shift
carried on in a straight line. Greatest sliding of a patch within one stroke:
{{ creep.march.breathing_slip | micro }}.</figcaption></figure>
"""


def fragment(advice: Advice) -> Markup:
    """Shift per stroke, strokes to the tolerance, and the path."""
    analysis = advice.assessment.analysis
    tolerance, what = shift_tolerance(analysis.case.die)
    shift: Interval = scaled(analysis.spread.creep, 1e3)
    return render(
        _TEMPLATE,
        creep=analysis.creep,
        by=held_by(analysis),
        shift=shift,
        heading=whole(math.degrees(analysis.creep.direction)),
        tolerance=tolerance,
        what=what,
        strokes=strokes_until(tolerance, analysis.spread.creep),
        picture=figures.creep_path(analysis, tolerance),
    )
